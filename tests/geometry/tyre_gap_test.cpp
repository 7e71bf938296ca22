// Room beside the tyre against a grid over height, sway, tilt and place on the link, with the room of a point by hand.
#include "geometry/tyre_gap.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/geometry/random_space.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Room of a point of the link's outer side: to the half cylinder |(x, z - R)| <= R, y >= face of the tyre's mirror image on that side.
double find_room_by_hand(const SpatialLinkage& k, const TyreRoomParts& t, TractorSide side, const HitchPlace<double>& at, double along) {
    const SpatialSolution s = solve_spatial_pose(k, at);
    const double sign = side == TractorSide::right ? 1.0 : -1.0;
    const Vec3<double>& ball = side == TractorSide::right ? s.right_ball : s.left_ball;
    const double x = (1.0 - along) * k.side_view.lower_pivot.x() + along * ball.x, z = (1.0 - along) * k.side_view.lower_pivot.y() + along * ball.z;
    const double y = (1.0 - along) * k.half_spread_at_pivot + along * sign * ball.y + t.outer_half_width + along * t.side_play;
    const double to_tread = std::hypot(x, z - t.radius) - t.radius, to_face = t.inner_face - y;
    if (to_tread <= 0.0 && to_face <= 0.0) return to_tread > to_face ? to_tread : to_face;  // inside: the shorter way out
    if (to_tread <= 0.0) return to_face;
    if (to_face <= 0.0) return to_tread;
    return std::hypot(to_tread, to_face);
}

double room_at(const SpatialLinkage& k, const TyreRoomParts& t, TractorSide side, const HitchPlace<double>& at, double along) {
    const SpatialSolution s = solve_spatial_pose(k, at);
    return find_tyre_room_at(k, t, side, side == TractorSide::right ? s.right_ball : s.left_ball, along);
}

double find_room_on_grid(const SpatialLinkage& k, const TyreRoomParts& t, const SpatialBox& box, int steps) {
    double least = 1e9;
    const auto value = [&](std::size_t v, int i, int n) { return n == 0 ? box[v].lo : box[v].lo + (box[v].hi - box[v].lo) * i / n; };
    const int hn = box[0].width() > 0.0 ? steps : 0, sn = box[1].width() > 0.0 ? 8 : 0, tn = box[2].width() > 0.0 ? 4 : 0;
    for (int a = 0; a <= hn; ++a) {
        for (int b = 0; b <= sn; ++b) {
            for (int c = 0; c <= tn; ++c) {
                const HitchPlace<double> at{value(0, a, hn), value(1, b, sn), value(2, c, tn)};
                for (int p = 0; p <= 60; ++p) {
                    for (const TractorSide side : {TractorSide::left, TractorSide::right}) least = std::min(least, find_room_by_hand(k, t, side, at, p / 60.0));
                }
            }
        }
    }
    return least;
}

void check(const SpatialLinkage& k, const TyreRoomParts& t, const SpatialBox& box, int steps, double coarseness) {
    const TyreRoom r = find_tyre_room(k, t, box);
    const double grid = find_room_on_grid(k, t, box, steps);
    CAPTURE(r.room, r.bound, grid, r.at.height, r.at.sway, r.at.tilt_sine, r.along, r.evaluations, t.radius, t.inner_face);
    CHECK(r.bound <= r.room);
    // Inside the tyre, where both ways out are alike, the search may end before it is as close as elsewhere.
    if (r.room >= 0.0) CHECK(r.converged);
    const double closeness = r.converged ? 1.01e-6 : 1e-4;
    CHECK(r.room - r.bound <= closeness);
    CHECK(grid >= r.bound - 1e-12);            // nothing lies below the bound
    CHECK(r.room <= grid + closeness);         // the grid is no better than the search
    CHECK(grid - r.room < coarseness);
    CHECK(std::fabs(find_room_by_hand(k, t, r.side, r.at, r.along) - r.room) < 1e-9);  // attained where it says
    CHECK(std::fabs(room_at(k, t, r.side, r.at, r.along) - r.room) < 1e-9);
    CHECK(box[0].contains(r.at.height));
    CHECK(box[1].contains(r.at.sway));
    CHECK(box[2].contains(r.at.tilt_sine));
}

SpatialBox make_box(double low, double high, double sway, double tilt) {
    return {Interval(low, high), Interval(-sway, sway), Interval(-tilt, tilt), Interval(0.66)};
}

}  // namespace

TEST_CASE("room beside the tyre: a point of the link, by hand", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int inside = 0, beside = 0, behind = 0, corner = 0;
    for (int i = 0; i < 2000; ++i) {
        const SpatialLinkage k = make_random_space(random).linkage;
        const TyreRoomParts t{between(0.4, 0.8), between(0.3, 0.55), between(0.01, 0.06), between(0.0, 0.04)};
        const HitchPlace<double> at{k.side_view.lower_pivot.y() + between(-0.3, 0.3), between(-0.1, 0.1), between(-0.1, 0.1)};
        const TractorSide side = i % 2 == 0 ? TractorSide::left : TractorSide::right;
        const double along = between(0.0, 1.0), room = room_at(k, t, side, at, along);
        REQUIRE(std::fabs(room - find_room_by_hand(k, t, side, at, along)) < 1e-12);
        const SpatialSolution s = solve_spatial_pose(k, at);
        const Vec3<double>& ball = side == TractorSide::right ? s.right_ball : s.left_ball;
        const double x = (1.0 - along) * k.side_view.lower_pivot.x() + along * ball.x, z = (1.0 - along) * k.side_view.lower_pivot.y() + along * ball.z;
        const bool outside = std::hypot(x, z - t.radius) > t.radius;
        if (room < 0.0) ++inside;
        else if (!outside) ++beside;
        else if (std::fabs(room - (std::hypot(x, z - t.radius) - t.radius)) < 1e-12) ++behind;
        else ++corner;
    }
    CHECK(inside > 20);
    CHECK(beside > 200);
    CHECK(behind > 20);
    CHECK(corner > 200);
}

TEST_CASE("room beside the tyre: beside, inside and behind it, over a travel in the plane", "[oracle]") {
    const SpatialLinkage k = make_space_a().linkage;
    check(k, {0.60, 0.55, 0.03, 0.0}, make_box(0.2, 0.9, 0.0, 0.0), 400, 1e-3);   // beside
    check(k, {0.60, 0.40, 0.05, 0.01}, make_box(0.2, 0.9, 0.0, 0.0), 400, 3e-3);  // the link runs into the tyre's face
    check(k, {0.35, 0.20, 0.05, 0.0}, make_box(0.4, 0.6, 0.0, 0.0), 400, 3e-3);   // its front half lies in line with the tyre
    SpatialLinkage behind = k;
    behind.side_view.lower_pivot.x() = 0.75;
    check(behind, {0.60, 0.10, 0.05, 0.0}, make_box(0.2, 0.9, 0.0, 0.0), 400, 1e-3);  // all of it is behind
}

TEST_CASE("room beside the tyre: with sway and tilt", "[oracle]") {
    const SpatialLinkage k = make_space_a().linkage;
    check(k, {0.60, 0.55, 0.03, 0.0}, make_box(0.3, 0.8, 0.05, 0.0), 60, 2e-3);
    check(k, {0.60, 0.50, 0.03, 0.02}, make_box(0.3, 0.8, 0.06, 0.05), 40, 3e-3);
    check(k, {0.70, 0.42, 0.03, 0.0}, make_box(0.3, 0.8, 0.05, 0.03), 40, 8e-3);  // swayed it enters the tyre
    SpatialBox one_sided = make_box(0.3, 0.8, 0.0, 0.0);
    one_sided[1] = Interval(0.01, 0.06);
    check(k, {0.60, 0.55, 0.03, 0.0}, one_sided, 60, 2e-3);
    CHECK(find_tyre_room(k, {0.60, 0.55, 0.03, 0.0}, one_sided).side == TractorSide::right);
    one_sided[1] = Interval(-0.06, -0.01);
    CHECK(find_tyre_room(k, {0.60, 0.55, 0.03, 0.0}, one_sided).side == TractorSide::left);
}

TEST_CASE("room beside the tyre: random linkages and tyres", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    for (int i = 0; i < 15; ++i) {
        const SpatialLinkage k = make_random_space(random).linkage;
        const TyreRoomParts t{between(0.35, 0.8), between(0.35, 0.6), between(0.01, 0.05), i % 3 == 0 ? between(0.0, 0.03) : 0.0};
        const double z = k.side_view.lower_pivot.y(), sway = i % 2 == 0 ? between(0.01, 0.08) : 0.0, tilt = i % 4 == 0 ? between(0.0, 0.06) : 0.0;
        check(k, t, make_box(z - between(0.0, 0.3), z + between(0.05, 0.3), sway, tilt), 30, 2e-2);
    }
}

TEST_CASE("room beside the tyre: more sway, a wider link and more play leave less", "[metamorphic]") {
    const SpatialLinkage k = make_space_a().linkage;
    const double room = find_tyre_room(k, {0.60, 0.60, 0.03, 0.0}, make_box(0.3, 0.8, 0.02, 0.0)).room;
    CHECK(find_tyre_room(k, {0.60, 0.60, 0.03, 0.0}, make_box(0.3, 0.8, 0.03, 0.0)).room < room - 0.004);
    CHECK(find_tyre_room(k, {0.60, 0.60, 0.04, 0.0}, make_box(0.3, 0.8, 0.02, 0.0)).room < room - 0.004);
    CHECK(find_tyre_room(k, {0.60, 0.60, 0.03, 0.01}, make_box(0.3, 0.8, 0.02, 0.0)).room < room - 0.003);
    CHECK(find_tyre_room(k, {0.60, 0.61, 0.03, 0.0}, make_box(0.3, 0.8, 0.02, 0.0)).room > room + 0.004);
}
