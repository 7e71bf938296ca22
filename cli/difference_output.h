// The answers of diff: text, JSON, CSV.
#pragma once

#include <string>
#include <vector>

#include "cli/judgement.h"
#include "geometry/finding_difference.h"
#include "presets/setup_values.h"

namespace hitchwright {

/// Two set-ups and what differs.
struct SetupDifference {
    std::string old_title, new_title;
    Setup old_setup, new_setup;
    Judgement old_judgement, new_judgement;  ///< both with an analysis
    std::vector<ValueDifference> values;
    std::vector<FindingDifference> findings;  ///< point into the analyses

    bool any() const { return !values.empty() || !findings.empty(); }
};

std::string format_difference(const SetupDifference& difference, const TextStyle& style);
std::string format_difference_json(const SetupDifference& difference, UnitSystem units);
std::string format_difference_csv(const SetupDifference& difference, UnitSystem units);

}  // namespace hitchwright
