// How near the travel comes to a dead centre: the least angle between upper link and mast, in closed form.
//
// Triangle ball - mast pin - upper-link pin with sides m (mast), e (link), d (ball to pin):
//     cos(gamma) = (m^2 + e^2 - d^2) / (2 m e)      gamma = 0: folded, gamma = pi: stretched.
// gamma rises with d. The ball moves on a circle about the lower-link pivot, so d is greatest and least at an end of the
// travel or where the ball lies on the line through that pivot and the upper-link pin: three heights settle it. Over a
// floating link's lengths |cos(gamma)| is greatest at an end (its only turning point is a least one).
#pragma once

#include <optional>

#include "geometry/closable_heights.h"
#include "geometry/mounted_model.h"
#include "geometry/travel_search.h"

namespace hitchwright {

/// Room to the nearest dead centre.
struct DeadCentreRoom {
    double angle = 0.0;   ///< rad: upper link and mast out of one line by at least this, over the whole travel
    double height = 0.0;  ///< ball height where that is
    DeadCentreKind nearer = DeadCentreKind::stretched;
    std::optional<double> beyond;  ///< ball height of the nearest dead centre outside the travel; empty: there is none
    double beyond_by = 0.0;        ///< m: how much farther than the travel that is
    bool operator==(const DeadCentreRoom&) const = default;
};

/// True when all heights of the box close for the lengths at both its ends and stay clear of every dead centre, by 1e-6 m in d. False
/// where that is not so, or is not certain.
bool stays_clear_of_dead_centres(const PlanarLinkage& linkage, const TravelBox& box);

/// Room over a box of heights and link lengths whose poses close.
DeadCentreRoom find_dead_centre_room(const PlanarLinkage& linkage, const TravelBox& box);

/// Its angle alone, rad.
double find_dead_centre_angle(const PlanarLinkage& linkage, const TravelBox& box);

}  // namespace hitchwright
