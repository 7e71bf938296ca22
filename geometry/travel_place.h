// A place in the travel that survives a change of the readings: an end stays an end, the rest stays at its height.
#pragma once

#include "geometry/mounted_extremes.h"

namespace hitchwright {

/// Where an extreme was found, relative to the range searched.
struct TravelPlace {
    enum class Kind { low_end, high_end, inside } kind = Kind::inside;
    double height = 0.0;        ///< ball height when inside, m
    bool in_work = false;       ///< of the working band instead of the travel
    double length_share = 0.0;  ///< effective upper-link length, 0 shortest .. 1 longest
    double sway_share = 0.0;    ///< 0 farthest left .. 1 farthest right
    double tilt_share = 0.0;    ///< 0 right side lowest .. 1 highest
};

/// Place of `extreme`, found over `range` of heights and the rest of `box`.
TravelPlace find_place(const TravelExtreme& extreme, const HeightRange& range, const TravelBox& box, bool in_work);

/// The same place of another model: a box of one height, one upper-link length, one sway and one tilt.
TravelBox find_box_at(const TravelPlace& place, const MountedModel& model);

/// True when both models have the same places and the same poses there: linkage, ranges of height, slack, sway and tilt.
bool has_same_poses(const MountedModel& a, const MountedModel& b);
/// True when both have the same ends of the driveline.
bool has_same_ends(const MountedModel& a, const MountedModel& b);

}  // namespace hitchwright
