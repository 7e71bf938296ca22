// Findings about joint angles: in the working band, and the heights above (or below) which the PTO must be off.
#pragma once

#include <vector>

#include "geometry/analysis.h"
#include "geometry/error_band.h"
#include "geometry/finding.h"

namespace hitchwright {

/// Angle limits of one joint: the rule set's, narrowed by the joint's own stop.
struct JointLimits {
    LimitView free, pto_off, stop, watch;
};

/// Limits for the joint at an end. A wide-angle joint is held to its own stop (its angle_most, else 80 deg) and is
/// named from 10 deg below it; a plain one is held to the rule set. free <= pto_off <= stop; a limit the set leaves open is the
/// next harder one. Good for as long as the set-up is there.
JointLimits find_joint_limits(const Setup& setup, JointEnd joint);
JointLimits find_joint_limits(Setup&& setup, JointEnd joint) = delete;

/// One or two findings per joint: in work, and over the travel. Passing a limit only outside the working band is a
/// condition (PTO off there), passing the stop anywhere wants a lift stop.
std::vector<Finding> check_joint_angles(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft,
                                        const ErrorModel& errors, const ErrorBands& bands);

}  // namespace hitchwright
