// The motions of a mounted implement that are searched together.
#pragma once

#include "geometry/height_range.h"

namespace hitchwright {

/// The box searched: ball heights, effective upper-link lengths, sway and tilt, each with each.
struct TravelBox {
    HeightRange heights;
    HeightRange upper_lengths;      ///< low == high without slack, m
    HeightRange sway = {};          ///< of the middle between the lower hitch points, to the right, m
    HeightRange tilt_sine = {};     ///< of the line through them, right one up
    /// A motion in the side plane.
    bool planar() const { return sway == HeightRange{} && tilt_sine == HeightRange{}; }
};

}  // namespace hitchwright
