// What the window remembers from one start to the next: nothing of it belongs to a set-up, and nothing of it is undone.
//
// A TOML file of our own in the state folder. It is a convenience: what cannot be read of it is left out and said
// quietly, and never keeps the window from opening.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "gui/viewer_options.h"

namespace hitchwright {

struct WindowState {
    std::optional<WindowSize> size;
    std::optional<UnitSystem> units;
    std::string theme;                ///< a word; empty: not said
    std::optional<double> scale;      ///< of all that is shown, 1: as the screen asks
    std::string side_room, lower_room;  ///< words; empty: not said
    std::vector<std::string> recent;  ///< set-ups opened, the last one first: names, or absolute paths
    bool operator==(const WindowState&) const = default;
};

/// Most set-ups in the list of recent ones.
inline constexpr std::size_t most_recent = 12;

/// A state read from text, and what of it was left out in words; empty: nothing.
struct ReadWindowState {
    WindowState state;
    std::string left_out;
};

ReadWindowState parse_window_state(std::string_view text);
std::string format_window_state(const WindowState& state);

/// True for a size that is kept and used: not that of a window that was folded away.
bool is_window_size(WindowSize size);

/// Puts a set-up at the head of the list of recent ones.
void note_recent(std::vector<std::string>& recent, const std::string& name);

/// The state in the file; a missing file is an empty state without a word.
ReadWindowState load_window_state(const std::string& file);

/// Writes it whole. The list of recent set-ups that another window wrote meanwhile goes behind this one's. Empty:
/// written; else why not.
std::string save_window_state(const std::string& file, WindowState state);

}  // namespace hitchwright
