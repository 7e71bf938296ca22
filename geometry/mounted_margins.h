// The errors carried to what linkage, add-on parts, floating link and ground are judged by: one number for each finding.
#pragma once

#include <vector>

#include "geometry/analysis.h"
#include "geometry/error_model.h"
#include "geometry/finding.h"

namespace hitchwright {

/// Puts bands into the findings of check_linkage, check_parts and check_ground, and calls those too close to call whose limit
/// lies inside its band and asks for a change when broken. A mast's seat in its hook keeps its own rule: it is made to be at
/// the limit.
void carry_mounted_margins(const ErrorModel& errors, const LinkageAnalysis& linkage, std::vector<Finding>& findings);

}  // namespace hitchwright
