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

/// A value as the text shows it; "not given" without one.
std::string describe_value(const std::optional<SetupValue>& value, UnitSystem units);
/// "14.00 in -> 15.00 in (+1.00 in); origin preset -> measured", without the key.
std::string describe_value_difference(const ValueDifference& difference, UnitSystem units);

/// A finding before and after in words: its mark and its headline. Both empty where it is not there.
struct ShownFinding {
    std::string mark, headline;
};
struct ShownDifference {
    ShownFinding old_finding, new_finding;
};

/// The findings that differ in words, as format_difference lists them. `hidden`: how many differ only by numbers that no
/// headline has.
std::vector<ShownDifference> list_shown_differences(const SetupDifference& difference, UnitSystem units, std::size_t& hidden);
/// One of them in a line: "new: ...", "gone: ...", "broken -> fits: ...".
std::string describe_shown_difference(const ShownDifference& difference);

std::string format_difference(const SetupDifference& difference, const TextStyle& style);
std::string format_difference_json(const SetupDifference& difference, UnitSystem units);
std::string format_difference_csv(const SetupDifference& difference, UnitSystem units);

}  // namespace hitchwright
