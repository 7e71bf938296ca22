// The bounded searches of the hole study: shaft length, joint angles and the load's rise over a travel, in one search where
// the link is rigid, and the heights at which both joints keep their limits.
#pragma once

#include <array>
#include <vector>

#include "geometry/mounted_model.h"
#include "geometry/travel_search.h"

namespace hitchwright {

/// What was found over one range of heights; lengths m, angles rad, greatest; rises dz_load/dz_ball.
struct MotionExtremes {
    TravelExtreme shortest, longest, tractor_angle, implement_angle, rise_least, rise_most;
    int evaluations = 0;
};

/// What is looked for.
struct MotionQuestions {
    bool lengths = false, angles = false, rise = false;
};

/// One search for all that is wanted, over the heights of `box` with the link at its lower length. Every pose closes; for the
/// lengths and angles model.has_shaft, for the rise has_bounded_rise.
MotionExtremes find_motion_extremes(const MountedModel& model, const TravelBox& box, const Point& load, const MotionQuestions& wanted);

/// True where nothing but the height moves: no slack, no sway, no tilt.
bool is_height_alone(const TravelBox& box);

/// Lengths and angles where more than the height moves: one search each.
MotionExtremes find_motion_extremes_in_box(const MountedModel& model, const TravelBox& box);

/// Two limits (rad) for each joint, in the order tractor, implement, tractor, implement.
using AngleLimits = std::array<double, 4>;
using AngleMarks = std::array<bool, 4>;

/// Heights at which the joints keep the limits, whatever slack, sway and tilt. Where a limit is not `broken` anywhere it is the whole
/// travel and not searched for.
std::array<std::vector<HeightRange>, 4> find_heights_inside_angles(const MountedModel& model, const TravelBox& box,
                                                                   const AngleLimits& angles, const AngleMarks& broken);

}  // namespace hitchwright
