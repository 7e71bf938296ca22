// Rule sets from files. What a set leaves out comes from the set called "general", with general's grade and
// source; `"none"` says that the set has no such limit.
//
// A set's own limit is never weakened by an inherited one: an inherited aim below the set's own requirement,
// or an inherited free angle above its own PTO-off angle, gives way to the set's own figure.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/rule_set.h"
#include "presets/library.h"
#include "presets/problem.h"
#include "presets/toml_reader.h"

namespace hitchwright {

class ParsedFiles;

/// The name of the rule set that fills the blanks of all others.
inline constexpr const char* general_rules = "general";

/// A rule set with all blanks filled, or problems.
struct LoadedRules {
    RuleSet rules;
    std::string file;  ///< where it was read from
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// Loads a rule set by name or path (relative to `folder`). `kept`: trees of files read before; null: none.
LoadedRules load_rules(std::string_view name, const Library& library, std::string_view folder = {}, ParsedFiles* kept = nullptr);

/// Reads the text of a rule set over `base`, which fills the blanks. The key is left to the caller.
RuleSet read_rules(const RuleSet& base, std::string_view text, const std::string& file, std::vector<Problem>& problems);

/// The same for a text that was parsed before.
RuleSet read_rules(const RuleSet& base, const ParsedToml& parsed, const std::string& file, std::vector<Problem>& problems);

}  // namespace hitchwright
