// The finding of a cut plan: what mounted and drawn machines say alike of it.
#pragma once

#include "geometry/finding.h"
#include "geometry/shaft_cut.h"

namespace hitchwright {

/// `cut` or `no_cut_works` with severity, cautions, the numbers it comes from, and its value: the longer of the two cuts, or the overlap that
/// is lacking, m. `plan_error`: of that value (find_plan_error). Without remedies and error bands. Needs a plan whose answer is a cut,
/// or that none works.
Finding make_cut_finding(const CutPlan& plan, const ShaftTravel& travel, double plan_error, const Limit& gap_required);

/// What to cut by a plan whose answer is a cut.
Remedy make_cut_remedy(const CutPlan& plan);

}  // namespace hitchwright
