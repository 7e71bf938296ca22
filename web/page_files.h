// What the page does with files beside the viewer: which one of several is the set-up, what of the set-up shown is to be kept, and
// another one in place of it once the page has asked. Nothing here knows a browser.
#pragma once

#include <string>

#include "gui/app_state.h"

namespace hitchwright {

/// The set-up among the files of a folder: the first by name that says it is one, else one that cannot be parsed, else the first.
/// Files that it names in another folder and that stand beside it are copied to where it names them, if that is below `root`.
/// JSON: {"setup": path, "others": how many more say they are set-ups, "problems": why it cannot be opened; empty: it can}.
std::string choose_setup_file(const std::string& folder, const std::string& root, const Library& library);

/// The set-up shown, to be kept outside the engine. JSON: {"setup": preset or absolute path, "drafted", "unsaved", "title",
/// "changes": text for `open_at_once`, empty where nothing is changed, "refused": texts that fields did not take, "own_folder": of the
/// user's machines}.
std::string format_work(const AppState& app);

/// Opens a set-up without asking, with the kept changes (format_work) over it; the path among them is replaced by `setup`. Gives
/// its problems, a line each; empty: it is open. With problems the window is as it was.
std::string open_at_once(AppState& app, const std::string& setup, const std::string& changes);

/// One value of the set-up shown, as a field of the viewer takes it. Gives its problems, a line each; empty: it counts.
std::string change_at_once(AppState& app, const std::string& key, const std::string& value);

}  // namespace hitchwright
