// Linkage A: the constructed three-point linkage behind tests/validation/golden_hitch_a.csv, and the means
// that several tests share. Side view, m, frame T; not a real machine.
#pragma once

#include <cmath>
#include <random>

#include "geometry/lift_linkage.h"
#include "geometry/planar_linkage.h"

namespace hitchwright::test {

inline PlanarLinkage make_linkage_a() {
    return {.lower_pivot = Point(0.0, 0.500),
            .lower_length = 0.885,
            .upper_pin = Point(0.240, 0.960),
            .upper_length = 0.660,
            .mast_pin = Point(0.0, 0.610)};
}

inline LiftLinkage make_lift_a() {
    return {.arm_pivot = Point(0.110, 1.010),
            .arm_length = 0.280,
            .rod_length = 0.600,
            .lower_pivot = Point(0.0, 0.500),
            .lower_length = 0.885,
            .rod_pin_along = 0.430,
            .rod_pin_offset = 0.0};
}

/// A linkage of tractor-like proportions; closes at most heights near its lower pivot.
inline PlanarLinkage make_random_linkage(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    PlanarLinkage linkage;
    linkage.lower_pivot = Point(between(0.0, 0.1), between(0.3, 0.7));
    linkage.lower_length = between(0.6, 1.1);
    linkage.upper_pin = linkage.lower_pivot + Point(between(0.05, 0.3), between(0.35, 0.6));
    linkage.mast_pin = Point(between(-0.1, 0.1), between(0.45, 0.7));
    const Point level_ball = linkage.lower_pivot + Point(linkage.lower_length, 0.0);
    const Point link = level_ball + linkage.mast_pin - linkage.upper_pin;
    linkage.upper_length = std::hypot(link.x(), link.y()) * between(0.97, 1.03);
    return linkage;
}

}  // namespace hitchwright::test
