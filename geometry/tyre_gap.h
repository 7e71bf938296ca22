// Room between a lower link and the rear tyre beside it, over heights, sways and tilts.
//
// The tyre's inner half is taken as a disk of its loaded radius R about the axle with a flat inner face at y_T, half the track
// less half the width; what bulges is not in it. The link is its middle line, its outermost part `outer` beside it, and a ball
// that slides outwards along its pin takes its end of the link along:
//   y(t) = |y of the line| + outer + t play,  t = 0 at the pivot .. 1 at the ball.
// Room of a point: to the disk where it lies outside it in side view or inwards of the face; negative: inside the tyre, by
// the shorter way out. Frame T, m.
#pragma once

#include "geometry/lift_rods.h"

namespace hitchwright {

struct TyreRoomParts {
    double radius = 0.0, inner_face = 0.0;  ///< of the tyre; the face from the median plane
    double outer_half_width = 0.0;          ///< of the link
    double side_play = 0.0;                 ///< of a ball along its pin
};

/// Least room over a box.
struct TyreRoom {
    double room = 0.0;   ///< m, attained
    double bound = 0.0;  ///< nothing in the box is below it
    TractorSide side = TractorSide::right;
    HitchPlace<double> at{0.0, 0.0, 0.0};
    double along = 0.0;  ///< share of the link's length from the pivot
    int evaluations = 0;
    bool converged = false;
};

/// Room of a point of the link of one side with its ball at `ball`; `along` 0 .. 1.
double find_tyre_room_at(const SpatialLinkage& linkage, const TyreRoomParts& parts, TractorSide side, const Vec3<double>& ball, double along);

/// Least room of both links over heights, sways and tilts of a box (its upper-link lengths do not matter).
TyreRoom find_tyre_room(const SpatialLinkage& linkage, const TyreRoomParts& parts, const SpatialBox& box);

}  // namespace hitchwright
