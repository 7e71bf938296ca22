// Sine and cosine of one angle, for searches that turn bodies by small angles again and again.
#pragma once

#include <cmath>

namespace hitchwright {

struct SineCosine {
    double sine, cosine;
};

/// Of an angle in rad, to a unit of the last place; NaN of what is no number. To half a radian by
/// their series, which end at 7e-19: no call, no tables.
inline SineCosine find_sine_cosine(double a) {
    constexpr double end_of_series = 0.5;
    if (!(std::fabs(a) <= end_of_series)) return {std::sin(a), std::cos(a)};
    const auto one_over = [](double factorial) { return 1.0 / factorial; };
    const double q = a * a, q2 = q * q, q4 = q2 * q2;
    const double sine = (-one_over(6.0) + q * one_over(120.0)) + q2 * (-one_over(5040.0) + q * one_over(362880.0)) +
                        q4 * (-one_over(39916800.0) + q * one_over(6227020800.0) - q2 * one_over(1307674368000.0));
    const double cosine = (one_over(24.0) - q * one_over(720.0)) + q2 * (one_over(40320.0) - q * one_over(3628800.0)) +
                          q4 * (one_over(479001600.0) - q * one_over(87178291200.0));
    return {a + a * q * sine, 1.0 - (0.5 * q - q2 * cosine)};
}

}  // namespace hitchwright
