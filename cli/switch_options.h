// `--switch WHAT` of the command line: switches of a set-up by the words of variant.h.
#pragma once

#include <vector>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "geometry/variant.h"
#include "presets/problem.h"

namespace hitchwright {

/// What was typed, in order; or all that is wrong with it, and with the file of a shaft.
struct Switches {
    std::vector<Variant> variants;
    std::vector<UsageProblem> usage;
    std::vector<Problem> problems;
    bool ok() const { return usage.empty() && problems.empty(); }
};

/// Reads every `--switch`. Each thing can be switched once. A shaft is named by key or path, as in a set-up file.
Switches read_switches(const CommandContext& context, const CommonValues& common, const Setup& setup);

/// The shafts of the library that can be put into the set-up; those that cannot be read are named on the error stream.
std::vector<ShaftCandidate> list_library_shafts(const CommandContext& context, const Setup& setup);

}  // namespace hitchwright
