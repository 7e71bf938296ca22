// The arc sine of up to 1/sqrt 2 as a polynomial, and the angle of a chord by it, for loops that the compiler is to vectorise.
//
//   asin x = x + x t R(t),  t = x^2 <= 1/2;   R of degree 15, best in the relative error of asin (Remez' exchange in 50 digits)
// The polynomial is within 6.5e-16 of asin, a few units in the last place; each degree more makes that six times less and the
// loop 2 % slower. Larger arguments go by asin x = pi/2 - asin sqrt(1 - x^2), of which the caller has the root. Evaluated by
// halves (Estrin), so that no operation waits for more than four others (tests/geometry/pose_batch_test.cpp).
#pragma once

#include <array>

namespace hitchwright {
namespace detail {

/// R, from its constant on.
inline constexpr std::array<double, 16> arc_sine_terms{
    0x1.55555555514f4p-3,  0x1.3333333a566d1p-4, 0x1.6db6d6fc3209cp-5,  0x1.f1c8839c2a54bp-6,
    0x1.6e69d6f6afb5cp-6,  0x1.1e619963fec41p-6, 0x1.9cb9419472280p-7,  0x1.6a7a8d049501bp-6,
    -0x1.972f23371a1b4p-5, 0x1.04cbea5db07d4p-2, -0x1.7d1423ea2f08ap-1, 0x1.ade4c61499af0p+0,
    -0x1.5248cae08c079p+1, 0x1.6c204ff4c64dcp+1, -0x1.dbd2d1819576cp+0, 0x1.292735926f185p-1};

/// R(t/4)/4: what a chord takes, which is twice the sine of half its angle. Quarters are exact.
inline constexpr std::array<double, 16> chord_terms = [] {
    std::array<double, 16> terms = arc_sine_terms;
    double share = 1.0;
    for (double& term : terms) term *= share *= 0.25;
    return terms;
}();

template <const std::array<double, 16>& c>
inline double sum_terms(double t) {
    const double t2 = t * t, t4 = t2 * t2, t8 = t4 * t4;
    const double low = ((c[0] + t * c[1]) + t2 * (c[2] + t * c[3])) + t4 * ((c[4] + t * c[5]) + t2 * (c[6] + t * c[7]));
    const double high = ((c[8] + t * c[9]) + t2 * (c[10] + t * c[11])) + t4 * ((c[12] + t * c[13]) + t2 * (c[14] + t * c[15]));
    return low + t8 * high;
}

}  // namespace detail

/// asin(x) in rad for |x| <= sqrt(1/2); `squared` is x^2, which callers often have before x.
inline double find_arc_sine(double x, double squared) {
    return x + x * squared * detail::sum_terms<detail::arc_sine_terms>(squared);
}

/// 2 asin(chord/2) in rad, the angle between unit vectors whose ends are `chord` <= sqrt 2 apart; `squared` is its square.
inline double find_chord_angle(double chord, double squared) {
    return chord + chord * squared * detail::sum_terms<detail::chord_terms>(squared);
}

}  // namespace hitchwright
