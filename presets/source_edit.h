// New values in the text of a set-up file: only their characters change, every other byte stays.
//
// A value that is there is replaced where it stands. A key that stands as a comment with nothing behind its = (as "new"
// writes it) gets its # taken away there. Any other key goes to the end of its table, dotted where the table has no
// header of its own; a table that is not there goes to the end of the file. A value that is taken away (nothing typed)
// gets a # before its lines. The origin of a value that stands alone behind its key makes a table of it, with its literal as
// it is typed: { value = 12.5, origin = "manual" }; where a table stands already it is replaced or added in there.
// How a doubtful edit is caught: the meaning of the text before, with the new values put in, must be the meaning of the
// text afterwards, both as the TOML library reads them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "presets/field_forms.h"
#include "presets/overrides.h"
#include "presets/problem.h"

namespace hitchwright {

/// What was done for one key.
enum class EditKind {
    replaced,
    uncommented,
    added,
    removed  ///< became a comment; or was not there, and nothing changed
};

/// One value in the text.
struct ValueEdit {
    EditKind kind = EditKind::replaced;
    std::string old_literal;  ///< empty: the key was not in the text
    std::string new_literal;  ///< empty: taken away
    int line = 0;  ///< of the value in the new text, from 1; 0: taken away
};

/// One line that is not as it was.
struct LineChange {
    int old_line = 0;                ///< from 1; 0: it was not there
    int new_line = 0;                ///< 0: it is gone
    std::string old_text, new_text;  ///< without line end
};

/// The text afterwards, or why there is none.
struct EditedText {
    std::string text;
    std::vector<ValueEdit> edits;   ///< one for each value, in order
    std::vector<LineChange> lines;  ///< in the order of the new text
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// True for "KEY.origin" of a known field: where its value comes from, said beside it.
bool is_origin_key(const std::vector<KeyPart>& parts);

/// Puts the values into a text that can be read as TOML. `file` stands in problems. Keys are known fields
/// (setup_field_forms), each once, and origins of fields that stand in the text by then.
EditedText edit_values(std::string_view text, const std::string& file, const std::vector<KeyValue>& values);

/// "tractor.upper_link_pin.z": the key without its items.
std::string find_key_pattern(const std::vector<KeyPart>& parts);

}  // namespace hitchwright
