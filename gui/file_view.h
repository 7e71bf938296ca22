// What the window asks and says about files: which one to open, where to write, what was left by an earlier window.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "gui/recovery.h"
#include "presets/problem.h"
#include "report/format_length.h"

namespace hitchwright {

/// What the path field is for.
enum class FileWish { open, save_as };

/// One line of a folder's list.
struct FolderEntry {
    std::string name;
    bool folder = false;
    bool operator==(const FolderEntry&) const = default;
};

/// The question for a path, with the folder beside it.
struct FileDialog {
    bool open = false;
    FileWish wish = FileWish::open;
    std::string folder;                ///< whose entries are listed, absolute, without a slash at its end but "/"
    std::string path;                  ///< what stands in the field
    std::vector<FolderEntry> entries;  ///< ".." first, then folders, then set-up files, each by name
    int marked = -1;                   ///< the entry the arrow keys stand on; -1: none
    std::string message;               ///< why nothing was done
    std::string over;                  ///< a file that exists and may be replaced when that is said once more
    bool focus_field = false;          ///< the field takes the keyboard in the next frame
};

/// A set-up that was not opened, while the one before it stays.
struct RefusedSetup {
    std::string name;
    std::vector<Problem> problems;
};

struct ChangeList;

/// What changed against the file, with what it was made from.
struct KeptChangeList {
    int revision = -1;
    UnitSystem units = UnitSystem::inch;
    std::shared_ptr<const ChangeList> list;
};

struct FileView {
    FileDialog dialog;
    std::optional<RefusedSetup> refused;
    std::string waiting;               ///< to be opened once it is decided about unsaved changes
    std::string waiting_text;          ///< ... of a set-up that is in no file; `waiting` is what it is called then
    bool waits_for_save = false;       ///< ... when they are written
    bool waits_for_typing = false;     ///< ... when a text that is being typed has been taken
    std::vector<LeftChanges> left;     ///< asked about one after the other
    std::vector<LeftChanges> taken;    ///< of those: shown now, and not yet kept by this window
    std::string not_kept;              ///< why changes are not kept against a crash; empty: they are
    std::vector<std::string> recent;   ///< set-ups, the last one first
};

}  // namespace hitchwright
