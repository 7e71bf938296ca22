// Where a function of one unknown is zero, enclosed for every value of the parameters it depends on.
//
// Interval Newton: with F(x; p) for p anywhere in a box, and F' over x in U,
//   N(U) = c - F(c; box)/F'(U; box).
// N(U) inside U proves that each p has exactly one zero in U, and that it lies in N(U) (Moore, Kearfott and Cloud,
// Introduction to Interval Analysis, ch. 8; from memory). Slopes of the zero follow from F itself: dx/dp = -F_p/F_x.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <type_traits>

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

/// A zero with the function over it.
template <class Jet>
struct JetRoot {
    Jet root;             ///< with its slopes
    bool proven = false;  ///< false: `root` means nothing
};

/// The same for a costly function that gives jets, `function(U)`: the unknown, variable `unknown` of the jets, in U. One look at
/// the centre and mostly one over U, which serves for the slopes as well. The unknown itself gets no slope by itself.
template <class F>
auto enclose_jet_root(double centre, std::size_t unknown, const F& function) -> JetRoot<decltype(function(Interval(centre)))> {
    const auto start = function(Interval(centre));
    Interval slope = start.d[unknown];
    double half = 0.0;
    if (!std::isfinite(centre) || !std::isfinite(start.v.lo) || !std::isfinite(start.v.hi)) return {};
    for (int i = 0; i < detail::root_attempts; ++i) {
        if (slope.lo <= 0.0 && slope.hi >= 0.0) return {};
        const Interval next = Interval(centre) - start.v / slope;
        half = std::max(half, 1.2 * std::max(next.hi - centre, centre - next.lo)) + detail::least_root_width;
        const auto over = function(Interval(centre - half, centre + half));
        slope = over.d[unknown];
        if (slope.lo <= 0.0 && slope.hi >= 0.0) return {};
        const Interval root = Interval(centre) - start.v / slope;
        if (!(root.hi < centre + half && root.lo > centre - half)) continue;
        JetRoot<std::decay_t<decltype(over)>> r{{}, true};
        r.root.v = root;
        for (std::size_t k = 0; k < over.d.size(); ++k) r.root.d[k] = k == unknown ? Interval() : -(over.d[k] / slope);
        return r;
    }
    return {};
}

}  // namespace hitchwright
