// The wide-angle joint over Taylor models: half the bend as a cosine over a range of poses.
//
//   F(s) = w s + L(s) (2 s^2 - 1) - X = 0,   L(s) = -w s + N(s),   N(s) = sqrt(w^2 s^2 - w^2 + r2)      (wide_angle_joint.h)
// A polynomial s~ comes from Newton steps on power series: from the solution at the middle, each step doubles the terms that
// are right. What is off is then bounded: with |F(s~)| <= rho and dF/ds >= m > 0 on s~ +- delta, rho/m <= delta, F changes its
// sign there once, so that |s - s~| <= rho/m. F has one root only while r > w. X, r2, w: m, m^2, m.
#pragma once

#include "geometry/taylor_model.h"
#include "geometry/wide_angle_kernel.h"

namespace hitchwright {

namespace detail {

/// F and dF/ds at s.
template <std::size_t N>
struct WideAngleEquation {
    TaylorModel<N> value, slope;
};
template <std::size_t N>
WideAngleEquation<N> find_wide_angle_equation(const TaylorModel<N>& s, const TaylorModel<N>& axial,
                                              const TaylorModel<N>& squared, double w) {
    const TaylorModel<N> s2 = square(s), along = w * s;
    const TaylorModel<N> root = sqrt((w * w) * s2 + (squared - w * w));
    const TaylorModel<N> length = root - along, bend = 2.0 * s2 - 1.0;
    return {along + length * bend - axial, 4.0 * (s * length) + (w - w * (bend * (length / root)))};
}

}  // namespace detail

/// s = cos(phi/2) for X = u.(K - C1), r2 = |K - C1|^2 and spacing w; unknown where there may be no pose.
template <std::size_t N>
TaylorModel<N> find_wide_angle_half_cosine(const TaylorModel<N>& axial, const TaylorModel<N>& squared, double w) {
    if (!(detail::find_least_size(squared - w * w) > squared.radius && squared.c[0] > w * w)) return TaylorModel<N>::unknown();
    TaylorModel<N> s(find_wide_angle_half_cosine(axial.c[0], squared.c[0], w));
    for (std::size_t right = 1; right <= N; right *= 2) {
        const detail::WideAngleEquation<N> f = detail::find_wide_angle_equation(s, axial, squared, w);
        s = s - f.value / f.slope;
        s.radius = 0.0;
    }
    const detail::WideAngleEquation<N> f = detail::find_wide_angle_equation(s, axial, squared, w);
    const double rho = detail::grow(detail::find_size(f.value) + f.value.radius);
    s.radius = 2.0 * rho / f.slope.c[0];
    const TaylorModel<N> slope = detail::find_wide_angle_equation(s, axial, squared, w).slope;
    const double least = detail::find_least_size(slope) - slope.radius;
    if (!(slope.c[0] > 0.0 && least > 0.0 && detail::find_least_size(s) > s.radius)) return TaylorModel<N>::unknown();
    const double off = detail::grow(rho / least);
    if (!(off <= s.radius)) return TaylorModel<N>::unknown();
    s.radius = off;
    return s;
}

}  // namespace hitchwright
