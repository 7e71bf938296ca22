// TOML text to a source tree. The only file that knows the TOML library.
//
// A syntax error ends the reading with one problem; everything else (unknown keys, wrong kinds ...) is
// judged later by the field reader, all problems in one go.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "presets/problem.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// Deepest nesting of tables, lists and dotted keys that is read; our own files need five.
inline constexpr int most_nesting = 32;

/// A tree, or the one problem that stopped the reading.
struct ParsedToml {
    SourceNode root;
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// Parses TOML. `file` is the name that stands in problems. Never throws for bad text.
ParsedToml parse_toml(std::string_view text, const std::string& file);

}  // namespace hitchwright
