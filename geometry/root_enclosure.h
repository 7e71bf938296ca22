// Where a function of one unknown is zero, enclosed for every value of the parameters it depends on.
//
// Interval Newton: with F(x; p) for p anywhere in a box, and F' over x in U,
//   N(U) = c - F(c; box)/F'(U; box).
// N(U) inside U proves that each p has exactly one zero in U, and that it lies in N(U) (Moore, Kearfott and Cloud,
// Introduction to Interval Analysis, ch. 8; from memory). Slopes of the zero follow from F itself: dx/dp = -F_p/F_x.
#pragma once

#include <algorithm>
#include <cmath>

#include "geometry/interval.h"

namespace hitchwright {

struct RootEnclosure {
    Interval root = whole_line();
    bool proven = false;  ///< false: nothing is known of the root; the box of parameters is too wide
};

namespace detail {
inline constexpr int root_attempts = 8;
inline constexpr double least_root_width = 1e-14;  ///< of U relative to 1: wide enough for the rounding of one step
}  // namespace detail

/// Encloses the zero near `centre`. `value()`: F(centre; box). `slope(U)`: F' over an interval of the unknown, times the box.
template <class Value, class Slope>
RootEnclosure enclose_root(double centre, const Value& value, const Slope& slope) {
    const Interval at_centre = value();
    Interval s = slope(Interval(centre));
    if (!std::isfinite(centre) || !std::isfinite(at_centre.lo) || !std::isfinite(at_centre.hi)) return {};
    double half = 0.0;
    for (int i = 0; i < detail::root_attempts; ++i) {
        if (s.lo <= 0.0 && s.hi >= 0.0) return {};
        const Interval next = Interval(centre) - at_centre / s;
        const double reach = std::max(next.hi - centre, centre - next.lo);
        if (i > 0 && reach < half) {
            const Interval again = Interval(centre) - at_centre / slope(next);
            const Interval both(std::max(next.lo, again.lo), std::min(next.hi, again.hi));
            return {both.lo <= both.hi ? both : next, true};
        }
        half = 1.2 * reach + detail::least_root_width;
        s = slope(Interval(centre - half, centre + half));
    }
    return {};
}

}  // namespace hitchwright
