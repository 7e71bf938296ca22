// The driveline kernel: length, joint angles and ripple, over any scalar.
//
// One function takes the joint centre K and the shaft axis u_B of the implement as they stand in frame T; a mounted
// implement is placed by the pose of its linkage here, a drawn one by its attitude about the hitch (drawn_kernel.h).
//   mounted: K = H + R(p) K_I,  u_B = R(p) u_BI;   V = K - Q,  S = |V|
//   cos B1 = u_A.V/S,  cos B2 = u_B.V/S                                        (plain joints)
// Non-uniformity NU = 1/cos B_e - cos B_e of the equivalent joint (two_joint.h), without its singular places: with
// n1 = u_A x v, n2 = v x u_B, phase error g,
//   q = (v.(n2 x n1) cos g + (n1.n2) sin g)^2,  F^2 = cos^2 B1 + cos^2 B2 + q,
//   NU^2 = (F^2/(cos B1 cos B2))^2 - 4
// since s_min s_max = |det M| = cos B1 cos B2 and s_min^2 + s_max^2 = |M|^2 = F^2, and
// sin^2(f+g) sin^2 B1 sin^2 B2 = q. Smooth also where a joint is straight. Checked against two_joint.h on random
// attitudes (tests/geometry/shaft_kernel_test.cpp).
// A wide-angle joint (spacing w between its crosses) at one end: wide_angle_joint.h. It turns evenly, so that the
// ripple is the plain partner's: NU = sin B tan B. Frame T throughout; lengths m.
#pragma once

#include <algorithm>
#include <cmath>

#include "geometry/planar_linkage.h"
#include "geometry/spatial_linkage.h"
#include "geometry/vec.h"
#include "geometry/wide_angle_kernel.h"

namespace hitchwright {

/// Which joint of the driveline.
enum class JointEnd { tractor, implement };

/// Which end carries a wide-angle joint.
enum class WideAngleEnd { none, tractor, implement };

/// Both ends of the driveline as the kernel needs them.
struct DrivelineEnds {
    Vec3<double> tractor_joint{0, 0, 0};    ///< Q, frame T
    Vec3<double> stub_axis{1, 0, 0};        ///< unit, rearward, frame T
    Vec3<double> implement_joint{0, 0, 0};  ///< K, frame I
    Vec3<double> input_axis{1, 0, 0};       ///< unit, rearward, frame I
    double yoke_phase_error = 0.0;          ///< rad
    WideAngleEnd wide_angle = WideAngleEnd::none;
    double spacing = 0.0;  ///< of the wide-angle joint, m
};

/// Length and cosines of the joint angles at one pose.
template <class T>
struct ShaftState {
    T length;              ///< S on the closed-length convention, m
    T cos_tractor_joint;   ///< of the angle the joint must turn through
    T cos_implement_joint;
    Vec3<T> from, to;      ///< ends of the straight shaft piece (joint centres, or the inner cross)
    Vec3<T> stub_axis, input_axis;
};

/// The implement's end of the driveline as it stands in frame T.
template <class T>
struct PlacedInput {
    Vec3<T> joint;  ///< K, m
    Vec3<T> axis;   ///< u_B, unit, rearward
};

namespace detail {
template <class T>
Vec3<T> lift(const Vec3<double>& a) { return {T(a.x), T(a.y), T(a.z)}; }
template <class T>
Vec3<T> place_in_space(const KernelPose<T>& pose, const Vec3<double>& p) {
    const Vec2<T> xz = pose.place(p.x, p.z);
    return {xz.x, T(p.y), xz.z};
}
template <class T>
Vec3<T> turn_in_space(const KernelPose<T>& pose, const Vec3<double>& u) {
    const Vec2<T> xz = pose.turn(u.x, u.z);
    return {xz.x, T(u.y), xz.z};
}

/// Wide-angle joint on the axis `u` (pointing from its own machine to the other), its centre at `centre`; the plain
/// joint at `other`. Gives the inner cross, the direction from it to `other` and the cosine of the joint's bend.
template <class T>
struct WideAngleReach {
    Vec3<T> inner_cross;
    Vec3<T> direction;
    T cos_bend;
    T length;
};
template <class T>
WideAngleReach<T> reach_wide_angle(const Vec3<T>& centre, const Vec3<T>& u, const Vec3<T>& other, double spacing) {
    const Vec3<T> outer = centre - T(0.5 * spacing) * u;
    const Vec3<T> away = other - outer;
    const T squared = square(away.x) + square(away.y) + square(away.z);
    const T half_cosine = find_wide_angle_half_cosine(dot(u, away), squared, spacing);
    const T shaft = find_wide_angle_shaft(half_cosine, squared, spacing);
    // away = w (u + v)/(2 s) + L v  gives the shaft direction v, hence the inner cross C2 = other - L v.
    const Vec3<T> v = (T(1.0) / (half_cosine * shaft + 0.5 * spacing)) * (half_cosine * away - T(0.5 * spacing) * u);
    return {other - shaft * v, v, 2.0 * square(half_cosine) - 1.0, shaft + 0.5 * spacing};
}
}  // namespace detail

/// The driveline from the tractor's end to an implement's end as placed.
template <class T>
ShaftState<T> find_shaft_state(const DrivelineEnds& ends, const PlacedInput<T>& input) {
    using std::sqrt;
    ShaftState<T> s;
    s.stub_axis = detail::lift<T>(ends.stub_axis);
    s.input_axis = input.axis;
    s.from = detail::lift<T>(ends.tractor_joint);
    s.to = input.joint;
    if (ends.wide_angle == WideAngleEnd::none) {
        const Vec3<T> v = s.to - s.from;
        s.length = sqrt(square(v.x) + square(v.y) + square(v.z));
        s.cos_tractor_joint = dot(s.stub_axis, v) / s.length;
        s.cos_implement_joint = dot(s.input_axis, v) / s.length;
        return s;
    }
    const bool at_tractor = ends.wide_angle == WideAngleEnd::tractor;
    const detail::WideAngleReach<T> reach =
        at_tractor ? detail::reach_wide_angle(s.from, s.stub_axis, s.to, ends.spacing)
                   : detail::reach_wide_angle(s.to, T(-1.0) * s.input_axis, s.from, ends.spacing);
    (at_tractor ? s.from : s.to) = reach.inner_cross;
    s.length = reach.length;
    // Seen from the implement the direction points forward, the axes rearward.
    s.cos_tractor_joint = at_tractor ? reach.cos_bend : -dot(s.stub_axis, reach.direction);
    s.cos_implement_joint = at_tractor ? dot(s.input_axis, reach.direction) : reach.cos_bend;
    return s;
}

/// The driveline of a mounted implement at a pose of its linkage.
template <class T>
ShaftState<T> find_shaft_state(const DrivelineEnds& ends, const KernelPose<T>& pose) {
    return find_shaft_state(ends, PlacedInput<T>{detail::place_in_space(pose, ends.implement_joint),
                                                 detail::turn_in_space(pose, ends.input_axis)});
}

/// The driveline of a mounted implement at a pose in space.
template <class T>
ShaftState<T> find_shaft_state(const DrivelineEnds& ends, const SpatialPose<T>& pose) {
    return find_shaft_state(ends, PlacedInput<T>{pose.place(ends.implement_joint), pose.turn(ends.input_axis)});
}

/// Square of the non-uniformity of two plain joints one after the other: shaft axes u_a, v, u_b (unit vectors), their
/// cosines u_a.v and v.u_b, and the error of phase of the yokes on v (rad).
template <class T>
T find_pair_non_uniformity_squared(const Vec3<T>& u_a, const Vec3<T>& v, const Vec3<T>& u_b, const T& cos_a,
                                   const T& cos_b, double phase) {
    const Vec3<T> n1 = cross(u_a, v), n2 = cross(v, u_b);
    const T turned = std::cos(phase) * dot(v, cross(n2, n1)) + std::sin(phase) * dot(n1, n2);
    const T sum = square(cos_a) + square(cos_b) + square(turned);
    const T difference = square(cos_a - cos_b) + square(turned);
    const T product = cos_a * cos_b;
    // (F^2/p)^2 - 4 = (F^2 - 2p)(F^2 + 2p)/p^2, and F^2 - 2p is a sum of squares: no cancellation.
    return difference * (sum + 2.0 * product) / square(product);
}

/// Unit vector along the straight shaft piece, rearward.
template <class T>
Vec3<T> find_shaft_direction(const ShaftState<T>& s) {
    using std::sqrt;
    const Vec3<T> v = s.to - s.from;
    return (T(1.0) / sqrt(square(v.x) + square(v.y) + square(v.z))) * v;
}

/// No driveline is more uneven than its joints one after the other with every yoke as bad as can be: each turns a direction to a
/// ratio between its cosine and one over it. `cosines`: their product, above 0.
inline double find_most_non_uniformity(double cosines) { return 1.0 / cosines - cosines; }

/// Bounds a greatest non-uniformity by the greatest angles of its joints, rad and below 90 deg, where its search ended without a near
/// bound of its own. A wide-angle joint turns evenly.
template <class E>
void bound_by_joints(const DrivelineEnds& ends, double tractor_angle, double implement_angle, double last_angle, E& non_uniformity) {
    const double cosines = (ends.wide_angle == WideAngleEnd::tractor ? 1.0 : std::cos(tractor_angle)) *
                           (ends.wide_angle == WideAngleEnd::implement ? 1.0 : std::cos(implement_angle)) * std::cos(last_angle);
    non_uniformity.bound = std::max(std::min(non_uniformity.bound, find_most_non_uniformity(cosines)), non_uniformity.value);
}

/// Square of the non-uniformity (greatest minus least speed ratio) of the whole driveline. Both joints below 90 deg.
template <class T>
T find_non_uniformity_squared(const DrivelineEnds& ends, const ShaftState<T>& s) {
    if (ends.wide_angle != WideAngleEnd::none) {
        const T c2 = square(ends.wide_angle == WideAngleEnd::tractor ? s.cos_implement_joint : s.cos_tractor_joint);
        return square(1.0 - c2) / c2;
    }
    const Vec3<T> v = (T(1.0) / s.length) * (s.to - s.from);
    return find_pair_non_uniformity_squared(s.stub_axis, v, s.input_axis, s.cos_tractor_joint, s.cos_implement_joint,
                                            ends.yoke_phase_error);
}

}  // namespace hitchwright
