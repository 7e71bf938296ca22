// How close a bounded search comes, and how an extreme of a rising function of a quantity becomes one of the quantity.
//
// Angles are searched through their cosine, ripple through its square; closeness is measured in the quantity itself.
// 0.01 mm and 0.001 deg are promised, a tenth of each is used. A speed ratio is judged at 0.03; a finer search is costly
// where the ripple vanishes throughout (parallel shafts on a parallelogram).
#pragma once

#include <algorithm>
#include <cmath>

namespace hitchwright {

inline constexpr double length_closeness = 1.0e-6;  ///< m
inline constexpr double angle_closeness = 1.7e-6;   ///< rad
inline constexpr double ratio_closeness = 1.0e-4;

/// A joint bent as far as this counts as one that cannot turn (rad, 89.9 deg): the speed ratio passes 500.
inline constexpr double no_turning = 1.569;

/// An angle from the negative of its cosine, which rises with it.
inline double angle_from_negated_cosine(double x) { return std::acos(std::clamp(-x, -1.0, 1.0)); }
/// An angle from 1 less its cosine, exact also where it is small.
inline double angle_from_versine(double x) { return 2.0 * std::asin(std::sqrt(std::clamp(0.5 * x, 0.0, 1.0))); }
/// A quantity that is not negative from its square.
inline double root_of_square(double x) { return std::sqrt(std::max(0.0, x)); }

/// Proven error of an extreme over its continuous range, unit of the extreme.
template <class E>
double find_bound_error(const E& e) {
    return std::fabs(e.bound - e.value);
}

/// Turns an extreme of a monotone rising function of a quantity into one of the quantity.
template <class E, class F>
E convert_extreme(E e, const F& back) {
    e.value = back(e.value);
    e.bound = back(e.bound);
    return e;
}

/// Closeness of the quantity when the search runs on a rising function of it; the last step back to the quantity
/// is a library call with an error far below the tolerance.
template <class F>
auto close_in(const F& back, double tolerance) {
    return [back, tolerance](double value, double bound) { return std::fabs(back(value) - back(bound)) <= tolerance; };
}

}  // namespace hitchwright
