// The wide-angle joint over any scalar, for the driveline kernel: half the bend as a cosine, and the shaft behind it.
//
// Doubles take solve_wide_angle as it is. Intervals use that s = cos(phi/2) rises with X at fixed r2, and is monotone
// in r2 at fixed X (ds/dr2 has the sign of -cos phi, and cos phi = 0 is a solution of that equation, so it is never
// crossed): its range over a box of (X, r2) is spanned by its corners, each padded by more than the solver's rounding. Derivatives follow from the implicit function theorem over the interval (wide_angle_joint.h).
// Where the joint has no pose (it would fold back, or the other joint lies inside it) it counts as bent by 180 deg,
// s = 0: beyond every stop, so that such a height is never called good. X, r2, w: m, m^2, m.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "geometry/interval_jet.h"
#include "geometry/vec.h"
#include "geometry/wide_angle_joint.h"

namespace hitchwright {

/// Added to a solved half cosine on both sides before it counts as an enclosure; the solver's own error is below
/// 1e-14 (tests/geometry/wide_angle_joint_test.cpp).
inline constexpr double half_cosine_pad = 1.0e-12;

/// s = cos(phi/2) for X = u.(K - C1), r2 = |K - C1|^2 and spacing w; 0, a bend of 180 deg, when there is no pose.
inline double find_wide_angle_half_cosine(double axial, double squared, double spacing) {
    const WideAngleSolution s = solve_wide_angle(axial, squared, spacing);
    return s.status == WideAngleStatus::ok ? s.half_bend_cosine : 0.0;
}

namespace detail {
/// Solution at a corner of a box of (X, r2). It may lie outside the possible |X| <= r: the nearest possible point bounds.
inline WideAngleSolution solve_wide_angle_corner(double axial, double squared, double spacing) {
    const double reach = std::sqrt(std::max(squared, 0.0));
    return solve_wide_angle(std::clamp(axial, -reach, reach), squared, spacing);
}

/// Enclosure of s over a box with a corner without pose.
inline Interval enclose_without_pose(const Interval& axial, const Interval& squared, double spacing) {
    if (!std::isfinite(axial.hi) || !std::isfinite(squared.hi)) return {0.0, 1.0};
    // The farthest corner ahead is the last to lose its pose: without it there is none in the box.
    const bool some = solve_wide_angle_corner(axial.hi, squared.hi, spacing).status == WideAngleStatus::ok;
    return {0.0, some ? 1.0 : 0.0};
}
}  // namespace detail

/// Enclosure of s over enclosures of X and r2.
inline Interval find_wide_angle_half_cosine(const Interval& axial, const Interval& squared, double spacing) {
    // cos phi = 0 at X = w/sqrt 2 whatever r2: the two corners with the least and the greatest s are known beyond it.
    const double right_angle = spacing * 0.70710678118654752;
    const bool falls = axial.lo > right_angle * (1.0 + 1e-9), rises = axial.hi < right_angle * (1.0 - 1e-9);
    Interval range(1.0, 0.0);
    for (const double x : {axial.lo, axial.hi}) {
        for (const double r2 : {squared.lo, squared.hi}) {
            const bool least = x == axial.lo && r2 == (rises ? squared.lo : squared.hi);
            const bool greatest = x == axial.hi && r2 == (rises ? squared.hi : squared.lo);
            if ((falls || rises) && !least && !greatest) continue;
            const WideAngleSolution s = detail::solve_wide_angle_corner(x, r2, spacing);
            if (s.status != WideAngleStatus::ok) return detail::enclose_without_pose(axial, squared, spacing);
            range.lo = std::min(range.lo, s.half_bend_cosine - half_cosine_pad);
            range.hi = std::max(range.hi, s.half_bend_cosine + half_cosine_pad);
        }
    }
    return {std::max(range.lo, 0.0), std::min(range.hi, 1.0)};
}

/// L = |K - C2| = sqrt(w^2 s^2 - w^2 + r2) - w s; 0 where the other joint lies inside this one.
template <class T>
T find_wide_angle_shaft(const T& half_cosine, const T& squared, double spacing) {
    const T along = half_cosine * T(spacing);
    return clamped_sqrt(square(along) - T(spacing * spacing) + squared) - along;
}

/// Enclosure of s with its derivatives; they are unknown where there may be no pose.
template <std::size_t N>
IntervalJet<N> find_wide_angle_half_cosine(const IntervalJet<N>& axial, const IntervalJet<N>& squared, double spacing) {
    IntervalJet<N> s(find_wide_angle_half_cosine(axial.v, squared.v, spacing));
    if constexpr (N == 0) return s;
    if (s.v.lo <= 0.0) {
        s.d.fill(whole_line());
        return s;
    }
    const Interval shaft = find_wide_angle_shaft(s.v, squared.v, spacing);
    const WideAngleDerivatives<Interval> d = find_wide_angle_derivatives(s.v, shaft, Interval(spacing));
    for (std::size_t i = 0; i < N; ++i) {
        s.d[i] = d.half_cosine_by_axial * axial.d[i] + d.half_cosine_by_squared * squared.d[i];
    }
    return s;
}

}  // namespace hitchwright
