// Sine and cosine over doubles, intervals and interval jets, for kernels with angles as variables.
//
// The library's sine and cosine of a double err by less than one unit in the last place (glibc's own table of errors;
// other libraries stay below two): ends are stepped outward by four. Between the ends the extremes +1 and -1 are taken in
// whenever a quarter turn may lie inside, to 1e-9 of half a turn on the wide side. An interval that is not finite or
// further out than 1e6 rad gives [-1, 1].
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "geometry/interval_jet.h"

namespace hitchwright {

namespace detail {

/// Arguments beyond this (rad) lose the place of the quarter turns.
inline constexpr double farthest_angle = 1.0e6;

/// Hull of the two end values, stepped outward; whole numbers k of half turns inside [from, to] add (-1)^k.
inline Interval enclose_wave(double at_lo, double at_hi, double from, double to) {
    const double out = 4.0 * outward::phi;
    Interval r(std::min(at_lo, at_hi), std::max(at_lo, at_hi));
    r.lo -= out * std::fabs(r.lo) + outward::eta;
    r.hi += out * std::fabs(r.hi) + outward::eta;
    const double first = std::ceil(from - 1.0e-9), last = std::floor(to + 1.0e-9);
    if (first <= last) {
        const bool even_first = std::fmod(first, 2.0) == 0.0;
        if (even_first || first < last) r.hi = 1.0;
        if (!even_first || first < last) r.lo = -1.0;
    }
    return {std::max(r.lo, -1.0), std::min(r.hi, 1.0)};
}

inline bool out_of_range(const Interval& a) { return !(a.lo >= -farthest_angle && a.hi <= farthest_angle); }

}  // namespace detail

/// All values of the cosine over an interval (rad).
inline Interval cos(const Interval& a) {
    if (detail::out_of_range(a)) return {-1.0, 1.0};
    return detail::enclose_wave(std::cos(a.lo), std::cos(a.hi), a.lo / std::numbers::pi, a.hi / std::numbers::pi);
}

/// All values of the sine over an interval (rad).
inline Interval sin(const Interval& a) {
    if (detail::out_of_range(a)) return {-1.0, 1.0};
    return detail::enclose_wave(std::sin(a.lo), std::sin(a.hi), a.lo / std::numbers::pi - 0.5,
                                a.hi / std::numbers::pi - 0.5);
}

template <std::size_t N>
IntervalJet<N> cos(const IntervalJet<N>& a) {
    IntervalJet<N> r(cos(a.v));
    const Interval slope = -sin(a.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = slope * a.d[i];
    return r;
}
template <std::size_t N>
IntervalJet<N> sin(const IntervalJet<N>& a) {
    IntervalJet<N> r(sin(a.v));
    const Interval slope = cos(a.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = slope * a.d[i];
    return r;
}

}  // namespace hitchwright
