// Searches over a travel that leaves the side plane: height, sway, tilt and effective upper-link length together.
//
// As travel_search.h, over four variables: a quantity is a generic callable q(pose) over SpatialPose<T>. Sides of the box
// without width cost nothing. Searches assume that every pose of the box closes (mounted_space.h, closes_throughout).
#pragma once

#include "geometry/mounted_space.h"
#include "geometry/travel_search.h"

namespace hitchwright {

namespace detail {

/// q as a function of the four variables as jets, or at a point.
template <class Q>
auto make_space_function(const SpatialLinkage& linkage, const Q& quantity) {
    return [&linkage, &quantity](const auto& x) {
        const SpatialBox box{x[0].v, x[1].v, x[2].v, x[3].v};
        using Jet = std::decay_t<decltype(x[0])>;
        if constexpr (std::is_same_v<Jet, SpatialJet>) return quantity(solve_spatial_jets(linkage, box));
        else return Jet(quantity(solve_spatial_point(linkage, box)));
    };
}

}  // namespace detail

/// Least value of `quantity` over the box.
template <class Q, class Close>
TravelExtreme find_least(const SpatialLinkage& linkage, const TravelBox& box, const Q& quantity, const Close& close) {
    const BoundedExtreme<4> e = find_minimum<4>(detail::make_space_function(linkage, quantity), make_spatial_box(box), close);
    return {e.value, e.bound, e.at[0], e.at[3], e.at[1], e.at[2], e.evaluations, e.converged};
}

/// Greatest value of `quantity` over the box.
template <class Q, class Close>
TravelExtreme find_greatest(const SpatialLinkage& linkage, const TravelBox& box, const Q& quantity, const Close& close) {
    const auto negated = [&quantity](const auto& pose) { return -quantity(pose); };
    const auto negated_close = [&close](double value, double bound) { return close(-value, -bound); };
    TravelExtreme r = find_least(linkage, box, negated, negated_close);
    r.value = -r.value;
    r.bound = -r.bound;
    return r;
}

/// Ball heights at which `quantity` stays at or below `limit`, whatever slack, sway and tilt.
template <class Q>
std::vector<HeightRange> find_heights_inside(const SpatialLinkage& linkage, const TravelBox& box, const Q& quantity, double limit) {
    // Ends to 0.2 um would cost most of the search; rounded inward they are never too wide.
    constexpr double finest = 2.0e-5;  // m, and of the tilt's sine
    return find_inside(detail::make_space_function(linkage, quantity), make_spatial_box(box), limit, finest);
}

}  // namespace hitchwright
