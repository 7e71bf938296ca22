// When a shaft cannot be made to fit by cutting: what would, with numbers.
//
// A shaft of other lengths to order; a lift stop or a lower stop that shortens the travel enough; another hole of the
// tractor or the mast. Each is found by analysing the changed set-up, not by a rule of thumb.
#pragma once

#include <vector>

#include "geometry/analysis.h"
#include "geometry/finding.h"

namespace hitchwright {

/// Limits of a rule set in the form the cut plan takes.
CutLimits make_cut_limits(const RuleSet& rules);

/// Remedies for "no cut works", the most direct first.
std::vector<Remedy> find_ways_out(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft,
                                  const Mark& mark);

/// Holes (tractor and mast) other than the chosen ones with which the joint angles in work stay within the free limit.
std::vector<Remedy> find_holes_within_angle(const Setup& setup);

}  // namespace hitchwright
