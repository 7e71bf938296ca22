// The greatest length the shaft of a drawn implement can have at any attitude, whatever the box.
//
// A joint carried round the pin stays on a sphere about it, and the length depends on its place alone, so that the
// greatest length is reached along a whole line of attitudes: a search over the box creeps along that line. Plain
// joints: the other joint, the pin and this one in one line, S = |A - Q| + |K_I|. A wide-angle joint: S depends on the
// place x along its axis and the distance rho from it, and dS/drho = (w sin a + 2 L sin 2a)/(w cos a + 2 L) >= 0 (2a:
// its bend), so that the farthest places lie in the plane of its axis and the pin: one angle is left to search, with
// proven bounds. Lengths m.
#pragma once

#include "geometry/drawn_model.h"

namespace hitchwright {

/// Upper bound of the length over all attitudes, m, above the greatest by no more than rounding and `length_closeness`;
/// `evaluations` grows by those made. Needs model.has_shaft.
double find_longest_reach(const DrawnModel& model, int& evaluations);

}  // namespace hitchwright
