// The three-point linkage in space: mean ball height, sway and tilt of the lower hitch points in, pose of the implement out.
//
// The lower hitch points H +- y_H r hang on the two lower links, r the unit axis through them to the right,
//   r = (-sin(chi) cos(tau), cos(chi) cos(tau), sin(tau)),   chi heading, tau tilt (right one up positive),
// H = (P_x + X, s, h), P_x +- y_P the pivots, Z = h - P_z. Sum and difference of the two closures |H +- y_H r - P_RL| = c:
//   X^2 = c^2 - s^2 - Z^2 - y_H^2 - y_P^2 + 2 y_H y_P cos(chi) cos(tau)
//   G = -X y_H sin(chi) cos(tau) + s (y_H cos(chi) cos(tau) - y_P) + Z y_H sin(tau) = 0
// One unknown, sin(chi), one equation; level and centred it is zero, and X is the projected link's (lower_link.h). The upper
// link then turns the implement by q about r, as in side view: with b1, b2 the horizontal and the rising vector square to r,
//   D = ((U-H).b1, (U-H).b2),  D_r = (U-H).r,   |D - R(q) M|^2 = e^2 - D_r^2
// so that the planar kernel's triangle is used with that length. R(I -> T) = Rz(chi) Rx(tau) Ry(-q).
// Frame T and I, m and rad. Both links alike, the pin of the upper link in the median plane.
#pragma once

#include <cmath>
#include <optional>

#include "geometry/attitude.h"
#include "geometry/planar_linkage.h"
#include "geometry/vec.h"

namespace hitchwright {

/// The linkage with its measures in space.
struct SpatialLinkage {
    PlanarLinkage side_view;  ///< pivots, pins and the upper link's length; its lower_length is not used
    double lower_length = 0.0;          ///< c, pivot centre to ball centre, m
    double half_spread_at_pivot = 0.0;  ///< y_P
    double half_spread_at_ball = 0.0;   ///< y_H, of the implement's lower hitch points
};

/// Where the lower hitch points are, apart from what the links decide.
template <class T>
struct HitchPlace {
    T height;    ///< of the middle between the lower hitch points, m
    T sway;      ///< of that middle, to the right of the median plane, m
    T tilt_sine; ///< sin(tau): height of the right point over the left, per distance between them
};

/// Pose of the implement. Vectors in frame T.
template <class T>
struct SpatialPose {
    Vec3<T> hitch;                    ///< H, m
    Vec3<T> rearward, right, upward;  ///< axes of frame I

    /// A point of frame I.
    Vec3<T> place(const Vec3<double>& p) const { return hitch + turn(p); }
    /// A direction of frame I.
    Vec3<T> turn(const Vec3<double>& u) const {
        return {u.x * rearward.x + u.y * right.x + u.z * upward.x, u.x * rearward.y + u.y * right.y + u.z * upward.y,
                u.x * rearward.z + u.y * right.z + u.z * upward.z};
    }
};

namespace detail {

/// The unknown heading and what follows from it.
template <class T>
struct HeadingTerms {
    T run;    ///< X
    T error;  ///< G
    T slope;  ///< dG/d sin(chi)
};

/// The cosine of an angle within a quarter turn by its sine.
template <class T>
T cosine_from_sine(const T& sine) {
    return clamped_sqrt((1.0 - sine) * (1.0 + sine));
}

/// G and its slope for sin(chi) = u. The cosine of the tilt is the caller's, who may ask for many u.
template <class T>
HeadingTerms<T> find_heading_terms(const SpatialLinkage& k, const HitchPlace<T>& at, const T& cos_tau, const T& u) {
    const double yh = k.half_spread_at_ball, yp = k.half_spread_at_pivot, c = k.lower_length;
    const T z = at.height - k.side_view.lower_pivot.y();
    const T cos_chi = cosine_from_sine(u);
    const T run = clamped_sqrt((2.0 * yh * yp) * (cos_chi * cos_tau) - square(at.sway) - square(z) + (c * c - yh * yh - yp * yp));
    const T cos_slope = -(u / cos_chi);
    const T run_slope = (yh * yp) * (cos_tau * cos_slope) / run;
    HeadingTerms<T> r;
    r.run = run;
    r.error = at.sway * (yh * (cos_chi * cos_tau) - yp) + yh * (z * at.tilt_sine) - yh * (run * u * cos_tau);
    r.slope = yh * (at.sway * cos_tau * cos_slope) - yh * (cos_tau * (run + u * run_slope));
    return r;
}

template <class T>
HeadingTerms<T> find_heading_terms(const SpatialLinkage& k, const HitchPlace<T>& at, const T& u) {
    return find_heading_terms(k, at, cosine_from_sine(at.tilt_sine), u);
}

/// Axes with the implement not yet turned about the line of its lower hitch points.
template <class T>
struct PinAxis {
    Vec3<T> along;      ///< r, to the right
    Vec3<T> level;      ///< b1, horizontal, rearward
    Vec3<T> rising;     ///< b2
};

template <class T>
PinAxis<T> make_pin_axis(const T& sin_chi, const T& sin_tau) {
    const T c = cosine_from_sine(sin_chi), ct = cosine_from_sine(sin_tau);
    return {{-(sin_chi * ct), c * ct, sin_tau}, {c, sin_chi, T(0.0)}, {sin_chi * sin_tau, -(c * sin_tau), ct}};
}

/// The triangle of mast and upper link in the plane square to the pin axis.
template <class T>
struct MastTriangle {
    Vec2<T> to_pin;  ///< D
    T beside;        ///< D_r
    T upper;         ///< sqrt(e^2 - D_r^2)
};

template <class T>
MastTriangle<T> make_mast_triangle(const SpatialLinkage& k, const Vec3<T>& hitch, const PinAxis<T>& axis, const T& e) {
    const Vec3<T> d{k.side_view.upper_pin.x() - hitch.x, -hitch.y, k.side_view.upper_pin.y() - hitch.z};
    MastTriangle<T> t{{dot(d, axis.level), dot(d, axis.rising)}, dot(d, axis.along), e};
    t.upper = find_other_leg(e, t.beside);
    return t;
}

/// Cosine and sine of q.
template <class T>
struct MastTurn {
    T cosine, sine;
};

template <class T>
MastTurn<T> solve_mast_turn(const PlanarLinkage& k, const MastTriangle<T>& t) {
    using std::sqrt;
    const double m2 = k.mast_pin.squaredNorm();
    const T d2 = square(t.to_pin.x) + square(t.to_pin.z);
    const T a = 0.5 * (d2 + m2 - square(t.upper));
    const T root = 0.5 * clamped_sqrt(find_heron_product(std::sqrt(m2), sqrt(d2), t.upper));
    const T b = k.side == MastSide::above ? -root : root;
    const Vec2<T> arm{(a * t.to_pin.x - b * t.to_pin.z) / d2, (a * t.to_pin.z + b * t.to_pin.x) / d2};
    const double mx = k.mast_pin.x() / m2, mz = k.mast_pin.y() / m2;
    return {mx * arm.x + mz * arm.z, mx * arm.z - mz * arm.x};
}

template <class T>
SpatialPose<T> make_spatial_pose(const Vec3<T>& hitch, const PinAxis<T>& axis, const MastTurn<T>& turn) {
    return {hitch, turn.cosine * axis.level + turn.sine * axis.rising, axis.along,
            turn.cosine * axis.rising - turn.sine * axis.level};
}

}  // namespace detail

/// A pose in numbers.
struct SpatialSolution {
    bool reached = false;  ///< by the lower links; false: the other members are meaningless
    bool closes = false;   ///< the upper link too; false: the implement is not turned about the line of its lower pins
    HitchPlace<double> at{0.0, 0.0, 0.0};
    SpatialPose<double> pose{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    Attitude attitude;  ///< of the implement against the tractor
    Vec3<double> left_ball{0, 0, 0}, right_ball{0, 0, 0};
};

/// Heading of the line of the lower hitch points, and how far its middle is behind the lower-link pivots.
struct HitchHeading {
    double sine;  ///< sin(chi)
    double run;   ///< X, m
};

/// The heading at a place of the lower hitch points; nothing where the lower links do not reach it.
std::optional<HitchHeading> solve_heading(const SpatialLinkage& linkage, const HitchPlace<double>& at);

/// Pose at a place of the lower hitch points. Residual of every link length <= 1e-9 m.
SpatialSolution solve_spatial_pose(const SpatialLinkage& linkage, const HitchPlace<double>& at);

/// Upper link that gives a turn q about the line of the lower hitch points (the pitch, where they lie level), m. Nothing
/// where the lower links do not reach the place.
std::optional<double> find_upper_length(const SpatialLinkage& linkage, const HitchPlace<double>& at, double turn);

/// Angles of frame I against T, in the order of attitude.h.
Attitude find_attitude(const SpatialPose<double>& pose);

}  // namespace hitchwright
