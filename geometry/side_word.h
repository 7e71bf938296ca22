// Fixed word of a side of the tractor, seen from the seat.
#pragma once

#include "geometry/lift_rods.h"

namespace hitchwright {

/// left, right.
constexpr const char* side_word(TractorSide side) { return side == TractorSide::left ? "left" : "right"; }

}  // namespace hitchwright
