// The attitude of a drawn implement over a box, with its derivatives from the structure of the turns.
//
// The same turns as AttitudeKernel (drawn_kernel.h), for the one case that the searches over boxes ask most: yaw, pitch
// and roll are themselves the variables 0, 1 and 2. A turn's derivative is then the turned vector again, a quarter turn
// on, and half of all derivatives are nothing at all:
//   y = ay cr - az sr, z = ay sr + az cr              dy/dr = -z, dz/dr = y
//   x' = ax cp - z sp, u = ax sp + z cp               dx'/dp = -u, du/dp = x', dx'/dr = -y sp, du/dr = y cp
//   X = x' cy - y sy,  Y = x' sy + y cy, Z = u        dX/dyaw = -Y, dY/dyaw = X
// Values are those of the general jets to the last bit, slopes to rounding; they cost a fifth.
#pragma once

#include "geometry/drawn_kernel.h"

namespace hitchwright {

namespace detail {

/// Interval(s) * a with half the products: the same ends to the last bit.
inline Interval scale(double s, const Interval& a) {
    const double p = s * a.lo, q = s * a.hi;
    if (std::isnan(p + q)) return whole_line();
    return widen(std::min(p, q), std::max(p, q));
}

/// Cosine and sine over an angle, as interval_trig.h gives them one by one.
struct Turn {
    Interval cosine{-1.0, 1.0}, sine{-1.0, 1.0};

    explicit Turn(const Interval& a) {
        if (out_of_range(a)) return;
        const double cos_lo = std::cos(a.lo), sin_lo = std::sin(a.lo), from = a.lo / std::numbers::pi,
                     to = a.hi / std::numbers::pi;
        const bool thin = a.lo == a.hi;
        cosine = enclose_wave(cos_lo, thin ? cos_lo : std::cos(a.hi), from, to);
        sine = enclose_wave(sin_lo, thin ? sin_lo : std::sin(a.hi), from - 0.5, to - 0.5);
    }
};

}  // namespace detail

/// Sines and cosines over a box (or, with thin sides, at a point) of yaw, pitch and roll, rad.
struct AttitudeJets {
    Interval cos_yaw, sin_yaw, cos_pitch, sin_pitch, cos_roll, sin_roll;

    explicit AttitudeJets(const IntervalBox<3>& box)
        : AttitudeJets(detail::Turn(box[0]), detail::Turn(box[1]), detail::Turn(box[2])) {}
    AttitudeJets(const detail::Turn& yaw, const detail::Turn& pitch, const detail::Turn& roll)
        : cos_yaw(yaw.cosine),
          sin_yaw(yaw.sine),
          cos_pitch(pitch.cosine),
          sin_pitch(pitch.sine),
          cos_roll(roll.cosine),
          sin_roll(roll.sine) {}

    /// A vector of frame I seen in T, with the slopes in yaw, pitch and roll.
    Vec3<IntervalJet<3>> turn(const Vec3<double>& a) const {
        const Interval y = detail::scale(a.y, cos_roll) - detail::scale(a.z, sin_roll),
                       z = detail::scale(a.y, sin_roll) + detail::scale(a.z, cos_roll);
        const Interval along = detail::scale(a.x, cos_pitch) - z * sin_pitch,
                       up = detail::scale(a.x, sin_pitch) + z * cos_pitch;
        const Interval along_by_roll = -(y * sin_pitch);
        Vec3<IntervalJet<3>> r{along * cos_yaw - y * sin_yaw, along * sin_yaw + y * cos_yaw, up};
        r.x.d = {-r.y.v, -(up * cos_yaw), along_by_roll * cos_yaw + z * sin_yaw};
        r.y.d = {r.x.v, -(up * sin_yaw), along_by_roll * sin_yaw - z * cos_yaw};
        r.z.d = {Interval(0.0), along, y * cos_pitch};
        return r;
    }

    /// A vector of T seen in I.
    Vec3<IntervalJet<3>> turn_back(const Vec3<double>& a) const {
        const Interval along = detail::scale(a.x, cos_yaw) + detail::scale(a.y, sin_yaw),
                       beside = detail::scale(a.y, cos_yaw) - detail::scale(a.x, sin_yaw);
        const Interval up = detail::scale(a.z, cos_pitch) - along * sin_pitch,
                       front = along * cos_pitch + detail::scale(a.z, sin_pitch);
        const Interval up_by_yaw = -(beside * sin_pitch);
        Vec3<IntervalJet<3>> r{front, beside * cos_roll + up * sin_roll, up * cos_roll - beside * sin_roll};
        r.x.d = {beside * cos_pitch, up, Interval(0.0)};
        r.y.d = {up_by_yaw * sin_roll - along * cos_roll, -(front * sin_roll), r.z.v};
        r.z.d = {up_by_yaw * cos_roll + along * sin_roll, -(front * cos_roll), -r.y.v};
        return r;
    }
};

/// The sides of a box from its variables.
inline IntervalBox<3> get_sides(const std::array<IntervalJet<3>, 3>& x) { return {x[0].v, x[1].v, x[2].v}; }

/// The middle of a box, as thin sides.
inline IntervalBox<3> find_middle(const IntervalBox<3>& box) {
    return {Interval(box[0].middle()), Interval(box[1].middle()), Interval(box[2].middle())};
}

/// `constant + a` for a vector of plain numbers.
template <class T>
Vec3<T> add_constant(const Vec3<double>& constant, const Vec3<T>& a) {
    return {a.x + constant.x, a.y + constant.y, a.z + constant.z};
}

/// The cross product u x a of a constant with a vector.
template <class T>
Vec3<T> cross_constant(const Vec3<double>& u, const Vec3<T>& a) {
    return {u.y * a.z - u.z * a.y, u.z * a.x - u.x * a.z, u.x * a.y - u.y * a.x};
}

/// The scalar product of a constant with a vector.
template <class T>
T dot_constant(const Vec3<double>& u, const Vec3<T>& a) {
    return u.x * a.x + u.y * a.y + u.z * a.z;
}

}  // namespace hitchwright
