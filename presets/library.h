// The presets: files in the user's folder first, then those built into the program.
//
// A preset is found by kind and key (the file name without ".toml"). The user's folder has the same
// sub-folders as presets/: tractors, implements (with or without mounted and drawn below it), drivelines,
// setups, rules, specifications. A name that contains a slash or ends in ".toml" is a path, never a preset.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/reading.h"
#include "presets/embedded.h"
#include "presets/file_kind.h"
#include "presets/problem.h"

namespace hitchwright {

/// Begins the file name of an embedded file in problems and notes.
inline constexpr std::string_view embedded_mark = "built-in:";

/// One preset, as far as its place tells.
struct PresetEntry {
    FileKind kind = FileKind::tractor;
    std::string key;    ///< the name it is used by
    std::string file;   ///< path, or "built-in:tractors/compact.toml"
    std::string below;  ///< path below the presets folder: "tractors/compact.toml"
    bool embedded = false;
    bool hidden = false;  ///< built in, but the user's folder has one of the same kind and key
};

/// The text of a preset or file, or why there is none.
struct PresetText {
    std::string text;
    std::string file;    ///< as it stands in problems
    std::string key;     ///< file name without ending
    std::string folder;  ///< of a file on disk, with its slash; empty for an embedded one
    bool embedded = false;
    bool byte_order_mark = false;  ///< the file begins with one; `text` does not
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
    /// Origin of values that state none: preset for an embedded file, measured for a user's.
    Origin origin() const { return embedded ? Origin::preset : Origin::measured; }
};

/// Where presets are looked for. Reads directories on every call; holds no state but the two places.
class Library {
public:
    /// `user_folder` may be empty or missing on disk.
    explicit Library(std::string user_folder = {}, std::span<const EmbeddedFile> embedded = embedded_files());

    /// All presets of a kind by key, the user's before the built-in ones of the same key.
    std::vector<PresetEntry> list(FileKind kind) const;

    /// The preset that a key means: the first one of `list` with that key.
    std::optional<PresetEntry> find(FileKind kind, std::string_view key) const;

    /// The text of an entry.
    PresetText read(const PresetEntry& entry) const;

    /// The text of the preset, or of the file, that a name means. A relative path begins at `folder` (empty:
    /// the working directory). An unknown name gives one problem with the nearest names of that kind.
    PresetText read(FileKind kind, std::string_view name, std::string_view folder = {}) const;

    const std::string& user_folder() const { return user_folder_; }

private:
    std::string user_folder_;
    std::span<const EmbeddedFile> embedded_;
};

/// True for a name that is a path: it contains a slash or ends in ".toml".
bool is_path(std::string_view name);

/// The user's folder: HITCHWRIGHT_PRESETS, else XDG_DATA_HOME/hitchwright/presets, else
/// HOME/.local/share/hitchwright/presets; empty when none of them is set. `variable` gives an environment
/// variable or null; relative XDG_DATA_HOME is ignored, as the XDG Base Directory Specification asks.
std::string find_user_folder(const std::function<const char*(const char*)>& variable);

/// The library of this process: `find_user_folder` of its environment, and the embedded files.
Library open_library();

/// The value of `name =` in a file's text; empty when there is none or the text cannot be parsed.
std::string peek_name(std::string_view text);

}  // namespace hitchwright
