// The driveline of a drawn implement at an attitude about the hitch, over any scalar.
//
//   R = Rz(yaw) Ry(-pitch) Rx(roll)    K = A + R K_I    u_B = R u_BI    A: articulation centre on the drawbar, frame T
// Each vector is turned about x, then y, then z: with intervals that loses less than the written-out matrix. Length and
// joint angles are those of shaft_kernel.h, which mounted implements use too.
// A steady bearing on the tongue: u_B is then the fixed shaft behind the bearing, and a third joint leads on to the
// input shaft u_C. A joint takes the arm a of the yoke before it to u x a on the shaft u behind it (square to both), and
// yokes on one shaft differ by the turn g about it, so that three joints are the linear map
//   a -> u_C x G2(u_B x G1(v x a)),   NU^2 = (F^2/p)^2 - 4,  F^2 = |map|^2 over the plane square to u_A,  p = c1 c2 c3
// as for two (two_joint.h). A wide-angle joint at the tractor turns evenly: joints 2 and 3 are then a pair. Lengths m.
#pragma once

#include <cmath>

#include "geometry/interval_trig.h"
#include "geometry/mean_value.h"
#include "geometry/shaft_kernel.h"

namespace hitchwright {

/// Sines and cosines of an attitude.
template <class T>
struct AttitudeKernel {
    T cos_yaw, sin_yaw, cos_pitch, sin_pitch, cos_roll, sin_roll;

    /// A vector of frame I seen in T.
    Vec3<T> turn(const Vec3<double>& a) const {
        const T y = a.y * cos_roll - a.z * sin_roll, z = a.y * sin_roll + a.z * cos_roll;  // roll: right side up
        const T along = a.x * cos_pitch - z * sin_pitch;                                   // pitch: rear up
        return {along * cos_yaw - y * sin_yaw, along * sin_yaw + y * cos_yaw, a.x * sin_pitch + z * cos_pitch};
    }

    /// A vector of T seen in I: the turns undone, the last first.
    Vec3<T> turn_back(const Vec3<double>& a) const {
        const T along = a.x * cos_yaw + a.y * sin_yaw, beside = a.y * cos_yaw - a.x * sin_yaw;
        const T up = a.z * cos_pitch - along * sin_pitch;
        return {along * cos_pitch + a.z * sin_pitch, beside * cos_roll + up * sin_roll, up * cos_roll - beside * sin_roll};
    }
};

template <class T>
AttitudeKernel<T> make_attitude_kernel(const T& yaw, const T& pitch, const T& roll) {
    using std::cos;
    using std::sin;
    return {cos(yaw), sin(yaw), cos(pitch), sin(pitch), cos(roll), sin(roll)};
}

/// The fixed shaft between a steady bearing and the input shaft. ends.implement_joint is the bearing's joint then,
/// ends.input_axis the fixed shaft.
struct FixedShaft {
    bool fitted = false;
    Vec3<double> last_axis{1, 0, 0};  ///< u_C, the input shaft, frame I
    double phase = 0.0;               ///< g2, rad
};

/// Driveline of a drawn implement: both ends, the hitch between them, and what follows behind a steady bearing.
struct DrawnDriveline {
    DrivelineEnds ends;
    Vec3<double> pin{0, 0, 0};  ///< A, articulation centre, frame T
    FixedShaft fixed;
};

/// State of the driveline at an attitude.
template <class T>
struct DrawnState {
    ShaftState<T> shaft;
    Vec3<T> last_axis;  ///< u_C, frame T; only with a fixed shaft
};

namespace detail {

template <class T>
DrawnState<T> evaluate_drawn_state(const DrawnDriveline& d, const T& yaw, const T& pitch, const T& roll) {
    const AttitudeKernel<T> turned = make_attitude_kernel(yaw, pitch, roll);
    const PlacedInput<T> input{lift<T>(d.pin) + turned.turn(d.ends.implement_joint), turned.turn(d.ends.input_axis)};
    DrawnState<T> s{find_shaft_state(d.ends, input), input.axis};
    if (d.fixed.fitted) s.last_axis = turned.turn(d.fixed.last_axis);
    return s;
}

}  // namespace detail

/// The driveline at an attitude.
template <class T>
DrawnState<T> find_drawn_state(const DrawnDriveline& d, const T& yaw, const T& pitch, const T& roll) {
    return detail::evaluate_drawn_state(d, yaw, pitch, roll);
}

/// Over a box of attitudes, whose sides yaw, pitch and roll must be (variables 0, 1 and 2): every part of the state is
/// narrowed by its mean-value form before more is made of it, so that searches need far fewer boxes.
inline DrawnState<IntervalJet<3>> find_drawn_state(const DrawnDriveline& d, const IntervalJet<3>& yaw,
                                                   const IntervalJet<3>& pitch, const IntervalJet<3>& roll) {
    const IntervalBox<3> box{yaw.v, pitch.v, roll.v};
    DrawnState<IntervalJet<3>> s = detail::evaluate_drawn_state(d, yaw, pitch, roll);
    const DrawnState<Interval> middle = detail::evaluate_drawn_state(d, Interval(yaw.v.middle()), Interval(pitch.v.middle()),
                                                                     Interval(roll.v.middle()));
    narrow_by_mean(s.shaft.length, middle.shaft.length, box);
    narrow_by_mean(s.shaft.cos_tractor_joint, middle.shaft.cos_tractor_joint, box);
    narrow_by_mean(s.shaft.cos_implement_joint, middle.shaft.cos_implement_joint, box);
    narrow_by_mean(s.shaft.from, middle.shaft.from, box);
    narrow_by_mean(s.shaft.to, middle.shaft.to, box);
    narrow_by_mean(s.shaft.input_axis, middle.shaft.input_axis, box);
    if (d.fixed.fitted) narrow_by_mean(s.last_axis, middle.last_axis, box);
    return s;
}

namespace detail {

/// The shaft's direction, not of unit length: v = (line + bar)/length. `line` runs from joint (of a wide-angle joint the outer
/// cross) to joint, `bar` takes off what the wide-angle joint's bar is beside it, (w/2s) of that joint's axis.
template <class T>
struct ShaftLine {
    double outer = 0.0;  ///< m along its own axis from the wide-angle joint's centre to its outer cross, away from the shaft
    T bar{0.0};          ///< w/(2 s), m
    T length;            ///< L + w/(2 s), or S with plain joints
};

inline double find_least(double x) { return x; }
inline double find_least(const Interval& x) { return x.lo; }
template <std::size_t N>
double find_least(const IntervalJet<N>& x) { return x.v.lo; }

template <class T>
ShaftLine<T> find_shaft_line(const DrawnDriveline& d, const DrawnState<T>& s) {
    using std::sqrt;
    if (d.ends.wide_angle == WideAngleEnd::none) return {0.0, T(0.0), s.shaft.length};
    const T bend = d.ends.wide_angle == WideAngleEnd::tractor ? s.shaft.cos_tractor_joint : s.shaft.cos_implement_joint;
    const double half = 0.5 * d.ends.spacing;
    const T bar = T(half) / sqrt(0.5 * (1.0 + bend));
    return {half, bar, s.shaft.length - half + bar};
}

}  // namespace detail

/// 1 - cos B of a plain joint as sin^2 B/(1 + cos B), the sine from a product of vectors as the joint's own machine sees them:
/// where the joint stays nearly straight while the machine turns far, an enclosure of the cosine alone says next to nothing.
/// For a wide-angle joint 1 - cos B as it is. Square to joint 2, seen in I:  u_B x (K_I + R^T (A - Q)).
template <class T>
T find_joint_versine(const DrawnDriveline& d, const T& yaw, const T& pitch, const T& roll, JointEnd joint) {
    const DrawnState<T> s = find_drawn_state(d, yaw, pitch, roll);
    const bool tractor = joint == JointEnd::tractor;
    const T cosine = tractor ? s.shaft.cos_tractor_joint : s.shaft.cos_implement_joint;
    const WideAngleEnd wide = d.ends.wide_angle;
    // Beyond 120 deg the cosine is the better one, and at 180 deg the only one.
    if (wide == (tractor ? WideAngleEnd::tractor : WideAngleEnd::implement) || !(detail::find_least(cosine) > -0.5)) return 1.0 - cosine;
    const AttitudeKernel<T> turned = make_attitude_kernel(yaw, pitch, roll);
    const detail::ShaftLine<T> line = detail::find_shaft_line(d, s);
    const Vec3<double> to_pin = d.pin - d.ends.tractor_joint;
    Vec3<T> across;
    if (tractor) {  // the other joint is plain or, at the implement, a wide-angle one
        const Vec3<T> v = detail::lift<T>(to_pin) + turned.turn(d.ends.implement_joint + line.outer * d.ends.input_axis) -
                          line.bar * turned.turn(d.ends.input_axis);
        across = cross(detail::lift<T>(d.ends.stub_axis), v);
    } else {
        const Vec3<T> v = detail::lift<T>(d.ends.implement_joint) + turned.turn_back(to_pin + line.outer * d.ends.stub_axis) -
                          line.bar * turned.turn_back(d.ends.stub_axis);
        across = cross(detail::lift<T>(d.ends.input_axis), v);
    }
    return (square(across.x) + square(across.y) + square(across.z)) / (square(line.length) * (1.0 + cosine));
}

namespace detail {

/// `arm`, square to the unit vector `axis`, turned about it.
template <class T>
Vec3<T> turn_arm(const Vec3<T>& axis, const Vec3<T>& arm, double angle) {
    return T(std::cos(angle)) * arm + T(std::sin(angle)) * cross(axis, arm);
}

/// Two unit vectors that make a right-handed frame with the unit vector `u`.
struct Across {
    Vec3<double> first, second;
};
inline Across make_across(const Vec3<double>& u) {
    const Vec3<double> helper = std::fabs(u.z) < 0.9 ? Vec3<double>{0, 0, 1} : Vec3<double>{0, 1, 0};
    Vec3<double> first = cross(u, helper);
    first = (1.0 / std::sqrt(dot(first, first))) * first;
    return {first, cross(u, first)};
}

template <class T>
T find_three_joint_non_uniformity_squared(const DrawnDriveline& d, const DrawnState<T>& s, const T& cos_last) {
    const Vec3<T> v = find_shaft_direction(s.shaft);
    const Vec3<T>& fixed = s.shaft.input_axis;
    const Across across = make_across(d.ends.stub_axis);
    T sum(0.0);
    for (const Vec3<double>& arm : {across.first, across.second}) {
        const Vec3<T> inner = turn_arm(v, cross(v, lift<T>(arm)), d.ends.yoke_phase_error);
        const Vec3<T> last = cross(s.last_axis, turn_arm(fixed, cross(fixed, inner), d.fixed.phase));
        sum = sum + square(last.x) + square(last.y) + square(last.z);
    }
    const T product = s.shaft.cos_tractor_joint * s.shaft.cos_implement_joint * cos_last;
    return (sum - 2.0 * product) * (sum + 2.0 * product) / square(product);
}

}  // namespace detail

/// Square of the non-uniformity of the whole driveline, the joint behind a steady bearing counted in. All joints below
/// 90 deg.
template <class T>
T find_non_uniformity_squared(const DrawnDriveline& d, const DrawnState<T>& s) {
    if (!d.fixed.fitted) return find_non_uniformity_squared(d.ends, s.shaft);
    const T cos_last = T(dot(d.ends.input_axis, d.fixed.last_axis));
    if (d.ends.wide_angle == WideAngleEnd::none) {
        return detail::find_three_joint_non_uniformity_squared(d, s, cos_last);
    }
    return find_pair_non_uniformity_squared(find_shaft_direction(s.shaft), s.shaft.input_axis, s.last_axis,
                                            s.shaft.cos_implement_joint, cos_last, d.fixed.phase);
}

/// u_A . (v x u_B), in size sin B1 sin B2 |sin f|: how far the three axes leave one plane. 0 where both joints bend in
/// one plane, and smooth where a joint is straight; the angle f between the bending planes itself jumps there and takes
/// every value near by, so that it has no extreme worth naming over a box that holds such an attitude.
template <class T>
T find_out_of_plane(const ShaftState<T>& s) {
    return dot(s.stub_axis, cross(find_shaft_direction(s), s.input_axis));
}

}  // namespace hitchwright
