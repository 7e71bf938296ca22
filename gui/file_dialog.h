// The question for a path: what the field, the list of the folder and the keys do. Nothing here draws.
#pragma once

#include <string>
#include <vector>

#include "gui/app_state.h"

namespace hitchwright {

/// Folders and set-up files of a folder; names that begin with a dot, and logs, are left out. At most a few thousand.
std::vector<FolderEntry> list_setup_folder(const std::string& folder);

/// Opens the question, in the folder of the set-up's own file, else in the working folder.
void start_file_dialog(AppState& app, FileWish wish);

/// Moves the mark up or down the list; the field then says what it stands on.
void move_mark(FileDialog& dialog, int steps);

/// What a click on an entry does: a folder is entered, a file taken.
void take_entry(AppState& app, int entry);

/// What Enter or the button does with the path in the field: a folder is entered; else the set-up is opened, or written. A
/// relative path begins at the folder listed. A file that exists is not written over: the dialog says so and
/// offers `write_over`.
void answer_file_dialog(AppState& app);

/// The second confirmation, by the button that names the file.
void write_over(AppState& app);

}  // namespace hitchwright
