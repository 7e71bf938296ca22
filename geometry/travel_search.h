// Searches over the whole travel of a mounted implement: extremes with proven bounds, and height intervals.
//
// The travel is a box of two variables, ball height and effective upper-link length; without slack it is one variable
// and searched as such. A quantity is a generic callable q(pose) over KernelPose<T>; it is evaluated with interval jets
// (bounded_extreme.h, inside_intervals.h). Searches assume that every pose of the box closes. Sway and tilt of a box are not
// looked at here: space_search.h.
#pragma once

#include <vector>

#include "geometry/bounded_extreme.h"
#include "geometry/closeness.h"
#include "geometry/inside_intervals.h"
#include "geometry/jet_pose.h"
#include "geometry/travel_box.h"

namespace hitchwright {

/// An extreme over the travel. |value - bound| is the proven error over the continuous range.
struct TravelExtreme {
    double value = 0.0;  ///< attained
    double bound = 0.0;  ///< on the far side: nothing in the travel lies beyond it
    double height = 0.0;        ///< ball height where it is attained, m
    double upper_length = 0.0;  ///< effective upper-link length there, m
    double sway = 0.0, tilt_sine = 0.0;  ///< there; in the side plane 0
    int evaluations = 0;
    bool converged = false;
    bool operator==(const TravelExtreme&) const = default;
};

namespace detail {

template <std::size_t N>
TravelExtreme to_travel_extreme(const BoundedExtreme<N>& e, const TravelBox& box) {
    TravelExtreme r{e.value, e.bound, e.at[0], box.upper_lengths.low, 0.0, 0.0, e.evaluations, e.converged};
    if constexpr (N > 1) r.upper_length = e.at[1];
    return r;
}

/// q as a function of interval jets, one variable (height) or two (height, upper-link length).
template <std::size_t N, class Q>
auto make_jet_function(const PlanarLinkage& linkage, const TravelBox& box, const Q& quantity) {
    return [&linkage, &box, &quantity](const auto& x) {
        std::decay_t<decltype(x[0])> e(box.upper_lengths.low);
        if constexpr (N > 1) e = x[1];
        return quantity(solve_jet_pose(linkage, x[0], e));
    };
}

}  // namespace detail

/// Least value of `quantity` over the box.
template <class Q, class Close>
TravelExtreme find_least(const PlanarLinkage& linkage, const TravelBox& box, const Q& quantity, const Close& close) {
    const Interval h(box.heights.low, box.heights.high);
    if (box.upper_lengths.low == box.upper_lengths.high) {
        const auto f = detail::make_jet_function<1>(linkage, box, quantity);
        return detail::to_travel_extreme(find_minimum<1>(f, IntervalBox<1>{h}, close), box);
    }
    const auto f = detail::make_jet_function<2>(linkage, box, quantity);
    const Interval e(box.upper_lengths.low, box.upper_lengths.high);
    return detail::to_travel_extreme(find_minimum<2>(f, IntervalBox<2>{h, e}, close), box);
}

/// Greatest value of `quantity` over the box.
template <class Q, class Close>
TravelExtreme find_greatest(const PlanarLinkage& linkage, const TravelBox& box, const Q& quantity, const Close& close) {
    const auto negated = [&quantity](const auto& pose) { return -quantity(pose); };
    const auto negated_close = [&close](double value, double bound) { return close(-value, -bound); };
    TravelExtreme r = find_least(linkage, box, negated, negated_close);
    r.value = -r.value;
    r.bound = -r.bound;
    return r;
}

/// Ball heights at which `quantity` stays at or below `limit`, whatever the slack.
template <class Q>
std::vector<HeightRange> find_heights_inside(const PlanarLinkage& linkage, const TravelBox& box, const Q& quantity,
                                             double limit) {
    const Interval h(box.heights.low, box.heights.high);
    if (box.upper_lengths.low == box.upper_lengths.high) {
        return find_inside(detail::make_jet_function<1>(linkage, box, quantity), IntervalBox<1>{h}, limit);
    }
    const Interval e(box.upper_lengths.low, box.upper_lengths.high);
    return find_inside(detail::make_jet_function<2>(linkage, box, quantity), IntervalBox<2>{h, e}, limit);
}

}  // namespace hitchwright
