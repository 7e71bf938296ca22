// Do the parts belong together: category, pins, span, mast, PTO type, speed, splines, rotation, power.
//
// Compares what was typed on both sides; a figure of a standard serves only to name a difference, never to replace a
// reading. What nobody typed is not compared and named as not checked where it could hurt.
#pragma once

#include <vector>

#include "geometry/error_model.h"
#include "geometry/finding.h"

namespace hitchwright {

/// Findings of the three-point side: category, narrow hitch, pins (bushing wanted), shoulder span, mast height.
std::vector<Finding> check_hitch_match(const ErrorModel& errors);

/// Findings of the PTO side: type, speed, splines at both ends, rotation, no adapters unless declared, power.
/// Empty for an implement without PTO input.
std::vector<Finding> check_pto_match(const ErrorModel& errors);

}  // namespace hitchwright
