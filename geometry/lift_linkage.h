// Lift arm and lift rod: the four-bar that raises the lower links, in side view with projected lengths.
//
//        R . . . arm . . . E          R lift-arm pivot, E arm end, Q lift-rod pin on the lower link,
//                          |          P lower-link pivot, H ball (lower hitch point).
//                          rod        Closures: |E - R| = arm, |E - Q| = rod, Q at (along, offset) from P on P -> H.
//                          |
//    P ------------------- Q ------ H
//
// Two branches each way, named by the Side of find_circle_intersection and kept by continuity:
//   arm -> ball: Q left of the directed line E -> P. That is the rod pin below and behind that line, as on every
//                mounted hitch; the other branch has the link folded up over the arm.
//   ball -> arm: E left of the directed line R -> Q, that is behind it. The other branch has the arm reaching forward.
// The two agree until arm and rod stand in one line (dead centre), where the ball reaches its highest or lowest
// point (lift_travel.h).
// Angles: arm and link from +x to +z, so a raised arm or link has a positive angle.
#pragma once

#include <optional>

#include "geometry/closure.h"

namespace hitchwright {

/// Arm, rod and lower link of one side, projected into the side plane; m, frame T.
struct LiftLinkage {
    Point arm_pivot = Point::Zero();
    double arm_length = 0.0;
    double rod_length = 0.0;  ///< projected: project_lift_rod
    Point lower_pivot = Point::Zero();
    double lower_length = 0.0;    ///< projected c'
    double rod_pin_along = 0.0;   ///< projected r'
    double rod_pin_offset = 0.0;  ///< positive above the link

    bool operator==(const LiftLinkage&) const = default;
};

/// A position of the lift linkage; points and angles are set only when it closes.
struct LiftPose {
    Closure closure{};              ///< charged to lift_rod or lower_link
    double arm_angle = 0.0;         ///< rad in [-pi, pi]
    double lower_link_angle = 0.0;  ///< rad in (-pi, pi]
    double ball_height = 0.0;       ///< m
    Point arm_end = Point::Zero();
    Point rod_pin = Point::Zero();
    Point ball = Point::Zero();

    bool operator==(const LiftPose&) const = default;
};

/// Distance of the rod pin from the lower-link pivot, m.
double find_pin_radius(const LiftLinkage& lift);

/// Position for an arm angle, rad. `side`: of the rod pin from the line arm end -> lower-link pivot.
LiftPose solve_lift_from_arm(const LiftLinkage& lift, double arm_angle, Side side = Side::left);

/// Position for a ball height, m. `side`: of the arm end from the line arm pivot -> rod pin.
LiftPose solve_lift_from_ball(const LiftLinkage& lift, double ball_height, Side side = Side::left);

/// d(arm angle)/d(ball height), rad/m, from the velocities of the closed pose: by virtual work also the force at the
/// ball ends per rockshaft torque, N per N m. Empty at the dead centre of arm and rod (and with a vertical lower link).
std::optional<double> find_arm_rate(const LiftLinkage& lift, const LiftPose& pose);

/// Rise that a slot gives the ball while the arm stands still.
struct FreeRise {
    Closure closure{};
    double rise = 0.0;  ///< m, vertical, at the ball

    bool operator==(const FreeRise&) const = default;
};

/// Free rise at the ball from a slot of `slot` (m, pin travel) in the lift rod, at an arm angle: the link may rise
/// until the rod acts as if it were shorter by the slot. (A slot in the ball end itself is its own free rise.)
FreeRise find_free_rise(const LiftLinkage& lift, double arm_angle, double slot);

}  // namespace hitchwright
