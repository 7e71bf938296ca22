// The upper link and the mast closed over a ball that is already placed: pitch for a given link length.
//
// Circles about the upper-link pin (radius: upper link) and the ball (radius: |mast pin|) meet in the mast pin.
// Same branch as planar_linkage.h (MastSide), by another route (find_circle_intersection), in doubles only and with
// the reason when nothing meets: for link lengths that vary (slots, straps, wanted pitch) and for findings.
// Side view, frame T: x rearward, z up; pitch positive: rear up.
#pragma once

#include "geometry/closure.h"
#include "geometry/planar_linkage.h"

namespace hitchwright {

/// Implement frame at a placed ball.
struct MastPose {
    Closure closure{};               ///< charged to upper_link, or to mast when the mast has no length
    double pitch = 0.0;              ///< rad in (-pi, pi]
    double upper_link_angle = 0.0;   ///< upper pin -> mast pin, rad in [-pi, pi]
    Point mast_pin = Point::Zero();  ///< frame T, m

    bool operator==(const MastPose&) const = default;
};

/// Pitch for `ball` and `upper_pin` (frame T), `upper_length` and `mast_pin` (frame I), m.
/// Dead centres (link and mast in one line) close, within rounding. Never throws.
MastPose solve_mast(const Point& ball, const Point& upper_pin, double upper_length, const Point& mast_pin,
                    MastSide side = MastSide::above);

/// Whether the linkage closes at a ball height, and if not: which part, short or long, by how much.
/// The lower link is named before the upper link. Agrees with closes_at but for rounding at a dead centre.
Closure find_pose_closure(const PlanarLinkage& linkage, double ball_height);

}  // namespace hitchwright
