// The changes of the window on their way into a file: by the same code as "hitchwright record". Nothing here draws.
#pragma once

#include <string>
#include <vector>

#include "gui/app_state.h"

namespace hitchwright {

/// True when the set-up stands in a file of one's own; one that is built in goes into a new file.
bool has_own_file(const AppState& app);

/// The changes as KEY=VALUE for `record_values`: the edits, and the rule set.
std::vector<std::string> list_recordings(const Edits& edits);

/// Opens the question where and whether to write: what would change in the file, or why it cannot be written.
void ask_to_save(AppState& app);

/// Writes the changes into the set-up's file, or a built-in set-up with them into the new file that the question names,
/// and their entries into the log. Then the file is what the window shows, and undo begins anew; the window's notice
/// says what was written and where. Refused, with a sentence in the question: a file that was changed since it was
/// read, a name that is taken, and what "record" refuses. Nothing is written then.
void save_changes(AppState& app);

}  // namespace hitchwright
