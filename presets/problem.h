// A problem found in a file, in a `--set` or in a name: where, what was read, what is allowed.
//
// Problems are values: nothing in presets/ throws for bad input. A reader goes on after a problem and
// collects all of them, so that a person mends a file in one go.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// One thing wrong with what somebody wrote.
struct Problem {
    std::string file;         ///< path, "built-in:..." for an embedded file, "--set" for the command line
    int line = 0;             ///< from 1; 0: no position
    int column = 0;           ///< from 1, counted in characters; 0: no position
    std::string key;          ///< dotted key, may be empty
    std::string message;      ///< one sentence: what is wrong
    std::string read;         ///< the value as typed; may be empty
    std::string allowed;      ///< what would be right, with an example; may be empty
    std::string nearest_key;  ///< the known key or name that looks most like the one read; may be empty

    bool operator==(const Problem&) const = default;
};

/// `FILE:LINE:COL: KEY: MESSAGE`, and on a second line what was read, what is allowed and the nearest
/// known key, where there is something to say. Never holds a control character other than that line
/// end: whatever was typed is escaped, so that a file cannot steer a terminal.
std::string format_problem(const Problem& problem);

/// The text with control characters, invisible direction marks and broken UTF-8 written as \xNN or
/// \uNNNN, shortened to `most_characters` with "..." at the end when longer.
std::string escape_text(std::string_view text, std::size_t most_characters = 200);

/// True when the text holds something `escape_text` would escape; a line end and a tab count only
/// when `one_line` is set.
bool has_control_characters(std::string_view text, bool one_line);

/// Sorts by position within each file; files stay in the order in which they first appear.
void sort_problems(std::vector<Problem>& problems);

}  // namespace hitchwright
