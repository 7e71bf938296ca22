// The command line of the viewer: SETUP and options, read by the same rules as those of the commands (cli/).
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/outcome.h"
#include "geometry/shaft_cut.h"
#include "gui/edits.h"
#include "gui/view_state.h"
#include "report/format_length.h"

namespace hitchwright {

/// Size of the window, pixels.
struct WindowSize {
    int width = 1280, height = 800;
    bool operator==(const WindowSize&) const = default;
};

/// What the viewer is started with.
struct ViewerOptions {
    std::string setup;  ///< empty: the one shown last, else the demo
    Edits edits;
    UnitSystem units = UnitSystem::inch;
    Mark mark;
    WindowSize size;
    bool says_size = false, says_units = false, says_mark = false;  ///< what was typed goes before what the window kept
    std::string state_file;             ///< JSON of what is shown, written as it changes; empty: none
    std::string compare;                ///< set-up to compare with; empty: none
    std::string screenshot;             ///< PNG file to write instead of opening a window; empty: a window
    std::optional<double> ball_height;  ///< the lift stands there at the start, m
    std::optional<DrawnPicture> picture;  ///< of a drawn implement at the start
    std::optional<MountedPicture> mounted_picture;  ///< of a mounted one; a view may be one of both
    std::optional<Theme> theme;
    std::optional<float> scale;
    bool touch = false;  ///< controls as large as a finger needs
    std::optional<SideRoom> side_room;
    std::optional<AnswerKind> answer;
    std::optional<LowerRoom> lower_room;
};

/// Options, or text to print (help, version), or what is wrong with the command line.
using ViewerCommand = std::variant<ViewerOptions, Answer, Failure>;

/// Reads the words behind the program's name. Never throws for bad input.
ViewerCommand read_viewer_options(const std::vector<std::string>& args);

}  // namespace hitchwright
