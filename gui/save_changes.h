// The changes of the window on their way into a file: by the same code as "hitchwright record". Nothing here draws.
#pragma once

#include <string>
#include <vector>

#include "gui/app_state.h"

namespace hitchwright {

/// True when the set-up stands in a file of one's own; one that is built in, or has no file yet, goes into a new file.
bool has_own_file(const AppState& app);

/// The changes as KEY=VALUE for `record_values`: the edits without origins said, and the rule set. `kept`: keys of fields whose
/// value stands in the file as it is shown, so that only what is said beside it changes.
std::vector<std::string> list_recordings(const Edits& edits, const std::vector<std::string>& kept = {});

/// Opens the question where and whether to write: what would change in the file, or why it cannot be written.
void ask_to_save(AppState& app);

/// The set-up's text with the changes in it, as a new file beside its own would have it; empty where the file would not give what
/// the window shows.
std::string make_setup_text(const AppState& app);

/// What is done about a file of that name.
enum class Existing { refused, replaced };

/// Written, or why not.
struct SaveOutcome {
    bool written = false;
    bool may_replace = false;  ///< the only hindrance is a file that exists and could be replaced
    std::string message;
};

/// Writes the set-up with the changes into another file: the text of its own, byte for byte, but for the values changed.
/// From then on that file is what the window shows. A file that exists is replaced only when that is said, and never
/// one that has a log of its own readings beside it, nor the set-up's own file (that is `save_changes`).
SaveOutcome save_as(AppState& app, const std::string& path, Existing existing);

/// An origin said in the window is written beside its value, whose own text stays where only the origin changed; what is said not
/// to be measured gets no entry in the log, nor an origin alone.
/// Writes the changes into the set-up's file, or a built-in set-up with them into the new file that the question names,
/// and their entries into the log. Then the file is what the window shows, and undo begins anew; the window's notice
/// says what was written and where. Refused, with a sentence in the question: a file that was changed since it was
/// read, a name that is taken, and what "record" refuses. Nothing is written then.
void save_changes(AppState& app);

}  // namespace hitchwright
