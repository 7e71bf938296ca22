// The travel of the lower hitch points: from the range of the lift arm, from a tape, or from both.
//
// The ball turns back only where arm and rod stand in one line, so the extremes over an arm range are taken at its ends
// and at those dead centres: intersections of the circle of the rod pin about the lower-link pivot with the circles
// arm + rod and |arm - rod| about the arm pivot. No sampling. Whether the rod closes throughout is settled the same
// way, at the arm angles where arm end and lower-link pivot are farthest apart and nearest. Typed and computed travel
// together: the narrower binds at each end and is named.
#pragma once

#include <optional>

#include "geometry/height_range.h"
#include "geometry/lift_linkage.h"

namespace hitchwright {

/// Ball heights that a range of arm angles gives.
struct LiftTravel {
    Closure closure{};                ///< worst over the range; charged to lift_arm when the range itself is no range
    HeightRange heights;              ///< extremes over the whole arm range, m
    bool dead_centre_within = false;  ///< arm and rod pass through one line: a height then has two arm angles

    bool operator==(const LiftTravel&) const = default;
};

/// Travel for arm angles from `arm_low` to `arm_high` (rad, low < high, less than half a turn apart). The extremes are
/// taken at the ends and at the dead centres in between, in closed form; the range must close throughout, and the lower
/// link must stay short of standing upright (undefined, charged to lower_link).
LiftTravel find_lift_travel(const LiftLinkage& lift, double arm_low, double arm_high);

/// Which information limits an end of the travel.
enum class TravelBound { typed, lift_arm };

/// One end of the travel in force.
struct TravelEnd {
    double height = 0.0;                     ///< m
    TravelBound bound = TravelBound::typed;  ///< the one that binds; typed when they agree or only it is given
    double spare = 0.0;  ///< m, how much farther the other one would reach; 0 when only one is given

    bool operator==(const TravelEnd&) const = default;
};

/// Travel in force when it is known from a tape, from the arm range, or from both.
struct CombinedTravel {
    bool known = false;  ///< false: neither is given, or a range is upside down or not finite
    bool empty = false;  ///< the two ranges have no height in common
    double gap = 0.0;    ///< m between the two ranges when empty
    TravelEnd low;
    TravelEnd high;

    bool operator==(const CombinedTravel&) const = default;
};

/// Combines both: at each end the narrower binds and is named. `free_rise` (m, >= 0) at the ball is added to the upper
/// end of the lift-arm range only: a tape reads what the ball does, slot included.
CombinedTravel combine_travel(const std::optional<HeightRange>& typed, const std::optional<HeightRange>& lift_arm,
                              double free_rise = 0.0);

}  // namespace hitchwright
