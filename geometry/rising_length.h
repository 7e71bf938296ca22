// Proof that a longer drawbar lengthens the shaft at every attitude of a box.
//
// The derivative of the length with the place of the pin is enclosed over boxes of four variables (drawbar length, yaw,
// pitch, roll) by interval jets; boxes that do not decide are halved along their longest side. With plain joints and a level
// stub the derivative is cos B1, but the proof asks nothing of the kind and holds for wide-angle joints too.
#pragma once

#include "geometry/drawn_model.h"
#include "geometry/height_range.h"

namespace hitchwright {

/// True: proven for every drawbar length of `lengths` (m) and every attitude of the model's box. False: it is not so, or
/// `evaluation_limit` evaluations did not decide. Adds the evaluations made. Needs model.has_shaft.
bool is_length_rising(const DrawnModel& model, const HeightRange& lengths, int& evaluations);

}  // namespace hitchwright
