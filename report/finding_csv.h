// The findings of a fit as CSV, one row each, worst first.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "geometry/setup.h"
#include "report/format_length.h"

namespace hitchwright {

/// Header and rows. `unit` names the unit of value, limit, margin, band and bound_error of its row; lengths follow
/// `units`.
std::string format_finding_csv(const Setup& setup, const Analysis& analysis, UnitSystem units);

}  // namespace hitchwright
