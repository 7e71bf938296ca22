// Linkage A in space, and random linkages in space with lift rods and check chains, for tests of the spatial linkage. m, frame T.
#pragma once

#include <cmath>
#include <random>

#include "geometry/check_chains.h"
#include "tests/geometry/linkage_a.h"

namespace hitchwright::test {

struct SpaceSample {
    SpatialLinkage linkage;
    LiftRods rods;
    CheckChains chains;
};

/// Linkage A with its lower links 210 mm from the median plane in front and 412.5 mm behind, arm ends at 250 mm, rods alike.
inline SpaceSample make_space_a() {
    SpaceSample s;
    const LiftLinkage lift = make_lift_a();
    s.linkage = {make_linkage_a(), std::hypot(0.885, 0.2025), 0.210, 0.4125};
    const double share = lift.rod_pin_along / 0.885, pin_spread = 0.210 + 0.2025 * share;
    const double rod = std::hypot(lift.rod_length, pin_spread - 0.250);
    s.rods = {lift.arm_pivot, lift.arm_length, 0.250, rod, rod, share * s.linkage.lower_length, 0.0};
    s.chains = {0.020, 0.080, 0.450, 0.600, 0.0, 0.0};
    return s;
}

/// Length of a chain, mirrored by its fellow, that comes taut at a sway of the hitch, level at a height.
inline double find_taut_length(const SpatialLinkage& k, const CheckChains& chains, double height, double sway, TractorSide side) {
    const SpatialSolution p = solve_spatial_pose(k, {height, sway, 0.0});
    const double sign = side == TractorSide::right ? 1.0 : -1.0, share = chains.pin_along / k.lower_length;
    const Vec3<double>& ball = side == TractorSide::right ? p.right_ball : p.left_ball;
    const double px = k.side_view.lower_pivot.x(), py = sign * k.half_spread_at_pivot, pz = k.side_view.lower_pivot.y();
    return std::hypot(px + share * (ball.x - px) - chains.anchor_x, py + share * (ball.y - py) - sign * chains.anchor_half_spread,
                      pz + share * (ball.z - pz) - chains.anchor_z);
}

/// Tractor-like proportions; lower links spread towards the balls, rods alike, rod feet on the link line or off it, chains that come
/// taut at 10 to 80 mm of sway near the pivots' height.
inline SpaceSample make_random_space(std::mt19937& random) {
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    SpaceSample s;
    s.linkage.side_view = make_random_linkage(random);
    s.linkage.half_spread_at_pivot = between(0.15, 0.28);
    s.linkage.half_spread_at_ball = between(0.33, 0.46);
    s.linkage.lower_length = std::hypot(s.linkage.side_view.lower_length, s.linkage.half_spread_at_ball - s.linkage.half_spread_at_pivot);
    const Point pivot = s.linkage.side_view.lower_pivot;
    s.rods.arm_pivot = pivot + Point(between(0.05, 0.15), between(0.45, 0.55));
    s.rods.arm_length = between(0.24, 0.30);
    s.rods.arm_half_spread = between(0.20, 0.30);
    s.rods.pin_along = between(0.45, 0.60) * s.linkage.lower_length;
    s.rods.pin_offset = std::bernoulli_distribution(0.5)(random) ? 0.0 : between(-0.05, 0.05);
    const double rod = *find_rod_length(s.linkage, s.rods, {pivot.y() + between(-0.1, 0.1), 0.0, 0.0}, between(-0.1, 0.5), TractorSide::left);
    s.rods.left_length = s.rods.right_length = rod;
    s.chains = {pivot.x() + between(-0.05, 0.10), between(0.04, 0.12), pivot.y() + between(-0.10, 0.05),
                between(0.5, 0.8) * s.linkage.lower_length, 0.0, 0.0};
    s.chains.right_length = find_taut_length(s.linkage, s.chains, pivot.y(), between(0.01, 0.08), TractorSide::right);
    s.chains.left_length = find_taut_length(s.linkage, s.chains, pivot.y(), between(-0.08, -0.01), TractorSide::left);
    return s;
}

inline double find_distance(const Vec3<double>& a, const Vec3<double>& b) { return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z); }

}  // namespace hitchwright::test
