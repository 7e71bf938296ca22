// Lift arm, rod and lower link over any scalar: what a cylinder, or a force known with the rod in another hole, gives
// at the balls.
//
// The same four-bar as lift_linkage.h (its branches, its names R, E, Q, P), written for doubles and for interval jets,
// so that lift is bounded over the whole travel. By virtual work a rockshaft torque T gives F = T d(arm angle)/d(ball
// height). From the velocities, with the link turning at 1/(x_H - x_P) per unit of ball height and the rod rigid:
//   d(arm angle)/dh = [(E - Q) . perp(Q - P)] / [(E - Q) . perp(E - R)] / (x_H - x_P),  perp(v) = (-v_z, v_x).
// A cylinder from B on the tractor to C, a crank fixed to the arm, pushes with F_c: T = F_c (C - R) x (C - B)/|C - B|.
#pragma once

#include <cmath>

#include "geometry/lift_linkage.h"
#include "geometry/planar_linkage.h"

namespace hitchwright {

/// Position of arm and rod. Positions in frame T, m.
template <class T>
struct LiftKernelPose {
    Vec2<T> arm_end, rod_pin;
    T ball_height;  ///< m
    T run;          ///< m, ball behind the lower-link pivot
};

namespace detail {

template <class T>
Vec2<T> add_numbers(const Vec2<T>& a, const Point& p) {
    return {a.x + p.x(), a.z + p.y()};
}
template <class T>
Vec2<T> subtract_numbers(const Vec2<T>& a, const Point& p) {
    return {a.x - p.x(), a.z - p.y()};
}

/// The point at `ra` from A and `rb` from B, left of the directed line A -> B. Only where the circles meet.
template <class T>
Vec2<T> meet_left(const Vec2<T>& a, double ra, const Vec2<T>& b, double rb) {
    using std::sqrt;
    const Vec2<T> d = b - a;
    const T d2 = square(d.x) + square(d.z);
    const T along = 0.5 * (d2 + (ra * ra - rb * rb));
    const T side = 0.5 * clamped_sqrt(find_heron_product(ra, sqrt(d2), T(rb)));
    return {a.x + (along * d.x - side * d.z) / d2, a.z + (along * d.z + side * d.x) / d2};
}

}  // namespace detail

/// From the ball's height. Only where arm and rod reach, the ball within its link's length of the pivot.
template <class T>
LiftKernelPose<T> solve_lift_kernel(const LiftLinkage& k, const T& h) {
    const T rise = h - k.lower_pivot.y();
    const T run = find_other_leg(k.lower_length, rise);
    const T sine = rise * (1.0 / k.lower_length), cosine = run * (1.0 / k.lower_length);
    const Vec2<T> pin{k.rod_pin_along * cosine - k.rod_pin_offset * sine,
                      k.rod_pin_along * sine + k.rod_pin_offset * cosine};
    LiftKernelPose<T> p{{}, detail::add_numbers(pin, k.lower_pivot), h, run};
    const Vec2<T> pivot{T(k.arm_pivot.x()), T(k.arm_pivot.y())};
    p.arm_end = detail::meet_left(pivot, k.arm_length, p.rod_pin, k.rod_length);
    return p;
}

/// The pose of another linkage (the rod in another hole) with the arm's end at the same place.
template <class T>
LiftKernelPose<T> solve_lift_kernel_at_arm(const LiftLinkage& k, const Vec2<T>& arm_end) {
    const double radius = std::hypot(k.rod_pin_along, k.rod_pin_offset);
    const Vec2<T> pivot{T(k.lower_pivot.x()), T(k.lower_pivot.y())};
    LiftKernelPose<T> p;
    p.arm_end = arm_end;
    p.rod_pin = detail::meet_left(arm_end, k.rod_length, pivot, radius);
    const Vec2<T> pin = detail::subtract_numbers(p.rod_pin, k.lower_pivot);
    const double share = k.lower_length / (radius * radius);
    // The link's direction: the pin's, turned back by the pin's own place beside the link's line.
    p.run = share * (k.rod_pin_along * pin.x + k.rod_pin_offset * pin.z);
    p.ball_height = share * (k.rod_pin_along * pin.z - k.rod_pin_offset * pin.x) + k.lower_pivot.y();
    return p;
}

/// d(arm angle)/d(ball height), rad/m: N at the balls per N m of rockshaft torque. Not bounded where arm and rod stand
/// in line.
template <class T>
T find_arm_rate(const LiftLinkage& k, const LiftKernelPose<T>& p) {
    const Vec2<T> rod = p.arm_end - p.rod_pin;
    const Vec2<T> pin = detail::subtract_numbers(p.rod_pin, k.lower_pivot),
                  arm = detail::subtract_numbers(p.arm_end, k.arm_pivot);
    return cross(pin, rod) / cross(arm, rod) / p.run;
}

/// Lift cylinder between a point of the tractor and a crank fixed to the lift arm; frame T, m.
struct LiftCylinder {
    Point base = Point::Zero();
    double crank_length = 0.0;  ///< arm pivot to the cylinder's pin
    double crank_angle = 0.0;   ///< rad, from the lift arm to the crank, from +x to +z
    double thrust = 0.0;        ///< N, all cylinders together
};

/// Rockshaft torque of the cylinder, N m; positive raises.
template <class T>
T find_rockshaft_torque(const LiftLinkage& k, const LiftCylinder& c, const LiftKernelPose<T>& p) {
    using std::sqrt;
    const Vec2<T> arm = detail::subtract_numbers(p.arm_end, k.arm_pivot);
    const double turn = c.crank_length / k.arm_length, co = turn * std::cos(c.crank_angle),
                 si = turn * std::sin(c.crank_angle);
    const Vec2<T> crank{co * arm.x - si * arm.z, si * arm.x + co * arm.z};
    const Vec2<T> base_to_pivot{T(k.arm_pivot.x() - c.base.x()), T(k.arm_pivot.y() - c.base.y())};
    const Vec2<T> line = crank + base_to_pivot;
    // crank x (crank + b) = crank x b
    return c.thrust * cross(crank, base_to_pivot) / sqrt(square(line.x) + square(line.z));
}

}  // namespace hitchwright
