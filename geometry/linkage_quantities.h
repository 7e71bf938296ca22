// What is read off a solved pose of the three-point linkage, in closed form.
//
//   V - - - - U ------------- M      V virtual hitch point: where the lines of lower and upper link meet.
//     ` . .                  /       X horizontal distance ball -> V, positive ahead of the ball.
//         ` P ------------- H        lever a: distance of the ball from the upper-link line.
//
// Velocity loop at a still tractor: the implement turns about V, so d(pitch)/d(ball height) = 1/X; with the link angles
// phi (lower), theta (upper): 1/X = sin(theta - phi) / (a cos phi), a = (H - M) x unit(theta).
// 1/X is the quantity carried: it passes smoothly through 0 where the links are parallel and X is infinite.
// A longer upper link lowers the rear: d(pitch)/d(length) = -1/a. For a mast square over the ball (mast pin at x = 0 in
// frame I) a = mast x cos(theta - pitch); with an offset mast pin a is still the lever, so a is what is used here.
// a = 0 is the dead centre, where rates have no value: those functions then return nothing.
// Frame T, m and rad; pitch positive: rear up.
#pragma once

#include <optional>

#include "geometry/planar_linkage.h"

namespace hitchwright {

/// The four pins of a pose, frame T, m.
struct LinkPoints {
    Point lower_pivot = Point::Zero();
    Point ball = Point::Zero();
    Point upper_pin = Point::Zero();
    Point mast_pin = Point::Zero();

    bool operator==(const LinkPoints&) const = default;
};

/// Least lever as a part of the mast (or run as a part of the lower link) that counts as more than dead centre. A pose
/// solved at a dead centre is off it by the square root of rounding, some 1e-8 rad; this lies above that.
inline constexpr double dead_centre_share = 1e-7;

/// Pins of a pose that closes.
LinkPoints find_link_points(const PlanarLinkage& linkage, const PlanarPose& pose);

/// Lever a, m: distance of the ball from the upper-link line, positive when the mast pin lies above it
/// (MastSide::above). 0 when the upper link has no length.
double find_mast_lever(const LinkPoints& points);

/// 1/X, 1/m: X the horizontal distance from the ball to the virtual hitch point, positive ahead; 0 parallel links,
/// negative: the links meet behind the ball. Empty at a dead centre or with the lower link upright.
std::optional<double> find_inverse_hitch_distance(const LinkPoints& points);

/// The virtual hitch point, frame T; empty when the links are parallel to within 1e-9 rad. At a dead centre it is the
/// ball.
std::optional<Point> find_virtual_hitch_point(const LinkPoints& points);

/// 1 / vertical convergence distance, 1/m: 1/X with the lower links level (grade C reading of ISO 730: side view, links
/// level, from the hitch point to the meeting of the link lines). Empty if that pose does not close.
std::optional<double> find_inverse_vertical_convergence(const PlanarLinkage& linkage);

/// 1 / horizontal convergence distance, 1/m: plan view, from the hitch axis forward to where the lower links' centre
/// lines meet. Half-spreads at pivot and ball, and the links' length in plan, m. 0: parallel; negative: they meet
/// behind. Empty unless ball half-spread and plan length are positive.
std::optional<double> find_inverse_horizontal_convergence(double half_spread_at_pivot, double half_spread_at_ball,
                                                          double plan_length);

/// d(pitch)/d(upper-link length) at a fixed ball height, rad/m; negative on the usual side. Empty at a dead centre.
std::optional<double> find_pitch_per_length(const LinkPoints& points);

/// Pitch change for one turn that lengthens the upper link by `advance_per_turn`, m (both threads together); rad.
/// First order: exact for the rate, not for many turns. Empty at a dead centre.
std::optional<double> find_pitch_per_turn(const LinkPoints& points, double advance_per_turn);

/// d(pitch)/d(ball height) at a fixed upper link, rad/m, by the velocity loop itself. Equals 1/X.
/// Empty at a dead centre or with the lower link upright.
std::optional<double> find_pitch_rate(const LinkPoints& points);

/// d(height of a point fixed to the implement)/d(ball height); `point` in frame T, m. 1 at the ball. By virtual work
/// the load capacity there is the capacity at the balls divided by this; <= 0: the point does not rise.
std::optional<double> find_rise_ratio(const LinkPoints& points, const Point& point);

/// How far a pose is from its dead centres.
struct DeadCentreDistance {
    double sine = 0.0;  ///< of the angle between upper link and mast, 0 at either dead centre; sign of the lever
    double to_stretched = 0.0;  ///< m: mast + link less the distance of ball and upper-link pin
    double to_folded = 0.0;     ///< m: that distance less |mast - link|

    bool operator==(const DeadCentreDistance&) const = default;
};

/// Distance to dead centre; sine 0 when mast or link has no length.
DeadCentreDistance find_dead_centre_distance(const LinkPoints& points);

}  // namespace hitchwright
