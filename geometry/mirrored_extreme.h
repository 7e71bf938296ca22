// Which side is named where a machine that is its own mirror image is as bad on both: the left one, on every computer. Without a
// rule the last bit of a sine would say it.
#pragma once

#include "geometry/drawn_extremes.h"

namespace hitchwright {

/// The same attitude of a machine turned over about its middle plane.
Attitude mirror(const Attitude& attitude);

/// `e.at` becomes its mirror image where that is turned (else rolled) to the left, lies in the box, and `quantity` is the same
/// there but for roundings. Value and bound stay. Needs model.has_shaft.
void name_left_side(const DrawnModel& model, const AttitudeBox& box, double (*quantity)(const DrivelineState&), AttitudeExtreme& e);

}  // namespace hitchwright
