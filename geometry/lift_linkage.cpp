// See lift_linkage.h.
#include "geometry/lift_linkage.h"

#include <cmath>

#include "geometry/angle.h"
#include "geometry/lower_link.h"

namespace hitchwright {
namespace {

/// Sine of the angle between two bars below which they count as in line. A pose solved at a dead centre is off it by
/// the square root of rounding, some 1e-8 rad; this lies above that.
constexpr double in_line_sine = 1e-7;

/// Angle of the rod pin seen from the pivot, above the line pivot-ball.
double pin_angle(const LiftLinkage& lift) { return std::atan2(lift.rod_pin_offset, lift.rod_pin_along); }

LiftPose open_pose(const Closure& closure) { return {.closure = closure}; }

/// Closure of the measures that no circle checks: a pin on the pivot turns nothing.
Closure check_lower_link(const LiftLinkage& lift) {
    const bool sound = std::isfinite(lift.lower_length) && lift.lower_length > 0.0 && find_pin_radius(lift) > 0.0;
    return sound ? Closure{} : Closure{LinkagePart::lower_link, Misfit::undefined, 0.0};
}

}  // namespace

double find_pin_radius(const LiftLinkage& lift) { return std::hypot(lift.rod_pin_along, lift.rod_pin_offset); }

LiftPose solve_lift_from_arm(const LiftLinkage& lift, double arm_angle, Side side) {
    const Closure link = check_lower_link(lift);
    if (!link.closes()) {
        return open_pose(link);
    }
    const Point arm_end = lift.arm_pivot + lift.arm_length * unit_vector(arm_angle);
    const CircleIntersection meeting =
        find_circle_intersection(arm_end, lift.rod_length, lift.lower_pivot, find_pin_radius(lift), side);
    if (!meeting.meet) {
        return open_pose(find_closure(meeting, LinkagePart::lift_rod, lift.rod_length, find_pin_radius(lift)));
    }
    const double angle = wrap_angle(direction(meeting.at - lift.lower_pivot) - pin_angle(lift));
    const Point ball = lift.lower_pivot + lift.lower_length * unit_vector(angle);
    return {.closure = {},
            .arm_angle = wrap_angle(arm_angle),
            .lower_link_angle = angle,
            .ball_height = ball.y(),
            .arm_end = arm_end,
            .rod_pin = meeting.at,
            .ball = ball};
}

LiftPose solve_lift_from_ball(const LiftLinkage& lift, double ball_height, Side side) {
    const Closure link = check_lower_link(lift);
    if (!link.closes()) {
        return open_pose(link);
    }
    const LowerLinkPose lower = solve_lower_link(lift.lower_pivot, lift.lower_length, ball_height);
    if (!lower.closure.closes()) {
        return open_pose(lower.closure);
    }
    const Point rod_pin = lift.lower_pivot + rotate(Point(lift.rod_pin_along, lift.rod_pin_offset), lower.angle);
    const CircleIntersection meeting =
        find_circle_intersection(lift.arm_pivot, lift.arm_length, rod_pin, lift.rod_length, side);
    if (!meeting.meet) {
        return open_pose(find_closure(meeting, LinkagePart::lift_rod, lift.rod_length, lift.arm_length));
    }
    return {.closure = {},
            .arm_angle = direction(meeting.at - lift.arm_pivot),
            .lower_link_angle = lower.angle,
            .ball_height = ball_height,
            .arm_end = meeting.at,
            .rod_pin = rod_pin,
            .ball = lower.ball};
}

std::optional<double> find_arm_rate(const LiftLinkage& lift, const LiftPose& pose) {
    if (!pose.closure.closes()) {
        return std::nullopt;
    }
    // Rod rigid: (E - Q) . (vE - vQ) = 0 with vE = arm rate x perp(E - R), vQ = link rate x perp(Q - P),
    // and the ball rises at link rate x (H - P).x.
    const Point rod = pose.arm_end - pose.rod_pin;
    const double arm_lever = rod.dot(perpendicular(pose.arm_end - lift.arm_pivot));
    const double link_lever = rod.dot(perpendicular(pose.rod_pin - lift.lower_pivot));
    const double ball_lever = pose.ball.x() - lift.lower_pivot.x();
    if (std::abs(arm_lever) <= in_line_sine * lift.arm_length * lift.rod_length ||
        std::abs(ball_lever) <= in_line_sine * lift.lower_length) {
        return std::nullopt;
    }
    return link_lever / (arm_lever * ball_lever);
}

FreeRise find_free_rise(const LiftLinkage& lift, double arm_angle, double slot) {
    LiftLinkage raised = lift;
    raised.rod_length = lift.rod_length - slot;
    const LiftPose hanging = solve_lift_from_arm(lift, arm_angle);
    const LiftPose up = solve_lift_from_arm(raised, arm_angle);
    if (!hanging.closure.closes() || !up.closure.closes()) {
        return {hanging.closure.closes() ? up.closure : hanging.closure, 0.0};
    }
    return {{}, up.ball_height - hanging.ball_height};
}

}  // namespace hitchwright
