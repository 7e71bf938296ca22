// `--explain`: for a finding its formula, the numbers put in, the result, the rule's source, and where the readings
// behind it come from.
//
// Formulas are those of docs/theory in the symbols of the code. Numbers are printed in decimals, not in fractions, so
// that a line can be checked with a calculator.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/finding.h"
#include "geometry/setup.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The formula a kind of finding is computed by, in symbols.
std::string_view finding_formula(FindingKind kind);

/// Beginnings of the keys of the readings that a kind of finding rests on most.
std::vector<std::string_view> list_input_keys(FindingKind kind);

/// A reading that a finding rests on.
struct ExplainedReading {
    std::string key;
    std::string value;  ///< "11.000 in +- 0.250 in"
    Origin origin = Origin::assumed;
};

/// The explanation in its parts, for whoever lays it out differently.
struct Explanation {
    std::string formula;
    std::vector<std::string> numbers;  ///< "gap = 0.985 in: room left at the shortest"
    std::string result, error;         ///< empty: the finding has no number
    std::string source;                ///< of the rule, with its grade; empty: none
    std::vector<ExplainedReading> readings;
};

Explanation explain_finding(const Finding& finding, const Setup& setup, UnitSystem units);

/// The explanation as indented lines of at most style.width columns. Without `with_readings` it says that they are
/// those listed before.
std::string format_explanation(const Finding& finding, const Setup& setup, const TextStyle& style,
                               bool with_readings = true);

}  // namespace hitchwright
