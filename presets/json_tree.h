// JSON (RFC 8259) to a source tree, so that a set-up that comes as JSON is read by the rules, and with the sentences, of
// a TOML file.
//
// Strict: no comments, no trailing commas, no NaN, whole UTF-8. A syntax error ends the reading with one problem, as with
// TOML; a key that stands twice is a problem and reading goes on. null becomes a node of kind `removed`; what it means is
// up to the caller. Recursion is held by most_nesting, work by most_json_values.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "presets/problem.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// Most values of one text; a set-up with everything typed in it has a few hundred.
inline constexpr std::size_t most_json_values = 10000;

/// A tree, and what is wrong.
struct ParsedJson {
    SourceNode root;
    std::vector<Problem> problems;
    bool readable = true;  ///< false: reading ended at the last problem; the root holds what came before it

    bool ok() const { return problems.empty(); }
};

/// Parses one text. `file` and `line` stand in problems: the text is that line of it; columns count characters from 1.
ParsedJson parse_json(std::string_view text, const std::string& file, int line = 1);

/// The node as JSON text on one line in ASCII, numbers as they were typed: what was read comes back the same.
std::string format_source_json(const SourceNode& node);

}  // namespace hitchwright
