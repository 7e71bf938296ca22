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
};

/// Place of `extreme`, found over `range` of heights and `lengths` of the upper link.
TravelPlace find_place(const TravelExtreme& extreme, const HeightRange& range, const HeightRange& lengths, bool in_work);

/// The same place of another model: a box of one height and one upper-link length.
TravelBox find_box_at(const TravelPlace& place, const MountedModel& model);

}  // namespace hitchwright
