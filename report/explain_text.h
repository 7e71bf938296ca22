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

/// The explanation as indented lines of at most style.width columns. Without `with_readings` it says that they are
/// those listed before.
std::string format_explanation(const Finding& finding, const Setup& setup, const TextStyle& style,
                               bool with_readings = true);

}  // namespace hitchwright
