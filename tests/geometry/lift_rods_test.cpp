// Lift rods in space against the side view's lift linkage, check values of linkage A, their mirror image and samples.
//
// Check values, linkage A with its pivots 420 mm apart, its balls 825 mm, its arm ends 500 mm and one rod 40 mm longer than the other:
// 5.8 deg of roll; the side view with the rods' mean length is 0.30 mm and 0.18 deg of pitch off (constructed in space).
#include "geometry/lift_rods.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "tests/geometry/random_space.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// The side view of rods alike, projected by hand.
LiftLinkage project(const SpaceSample& s) {
    const SpatialLinkage& k = s.linkage;
    const double across = k.half_spread_at_ball - k.half_spread_at_pivot, projected = std::sqrt(k.lower_length * k.lower_length - across * across);
    const double share = s.rods.pin_along / k.lower_length, beside = k.half_spread_at_pivot + share * across - s.rods.arm_half_spread;
    return {s.rods.arm_pivot, s.rods.arm_length, std::sqrt(s.rods.left_length * s.rods.left_length - beside * beside),
            k.side_view.lower_pivot, projected, share * projected, s.rods.pin_offset};
}

void check_rods(const SpaceSample& s, const RodPose& p) {
    CHECK(std::fabs(find_distance(p.left_foot, p.left_arm_end) - s.rods.left_length) < 1e-9);
    CHECK(std::fabs(find_distance(p.right_foot, p.right_arm_end) - s.rods.right_length) < 1e-9);
    for (const Vec3<double>& end : {p.left_arm_end, p.right_arm_end})
        CHECK(std::fabs(std::hypot(end.x - s.rods.arm_pivot.x(), end.z - s.rods.arm_pivot.y()) - s.rods.arm_length) < 1e-9);
    CHECK(std::fabs(p.right_arm_end.y - s.rods.arm_half_spread) < 1e-15);
    CHECK(std::fabs(p.left_arm_end.y + s.rods.arm_half_spread) < 1e-15);
    CHECK(std::fabs(p.left_arm_end.z - p.right_arm_end.z) < 1e-15);
}

void make_unlike(SpaceSample& s, std::mt19937& random) {
    std::uniform_real_distribution<double> part(-0.02, 0.02);
    s.rods.left_length += part(random);
    s.rods.right_length += part(random);
}

}  // namespace

TEST_CASE("lift rods: alike and centred they are the side view's lift linkage, both ways", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> rise(-0.3, 0.35);
    int poses = 0;
    for (int i = 0; i < 1500; ++i) {
        const SpaceSample s = make_random_space(random);
        const LiftLinkage lift = project(s);
        const double height = s.linkage.side_view.lower_pivot.y() + rise(random);
        const LiftPose planar = solve_lift_from_ball(lift, height);
        const RodPose p = solve_on_rods(s.linkage, s.rods, height, 0.0);
        REQUIRE(p.closes == planar.closure.closes());
        if (!p.closes) continue;
        REQUIRE(std::fabs(p.arm_angle - planar.arm_angle) < 1e-9);
        REQUIRE(std::fabs(p.hitch.at.tilt_sine) < 1e-12);
        REQUIRE(std::hypot(p.right_foot.x - planar.rod_pin.x(), p.right_foot.z - planar.rod_pin.y()) < 1e-9);
        REQUIRE(std::hypot(p.left_arm_end.x - planar.arm_end.x(), p.left_arm_end.z - planar.arm_end.y()) < 1e-9);
        // Near the line of arm and rod the arm says little of the height.
        const std::optional<double> rate = find_arm_rate(lift, planar);
        if (!rate || *rate > 10.0) continue;
        const RodPose back = solve_at_arm(s.linkage, s.rods, planar.arm_angle, 0.0, height + 0.01);
        REQUIRE(back.closes);
        REQUIRE(std::fabs(back.hitch.at.height - height) < 1e-9);
        REQUIRE(std::fabs(solve_lift_from_arm(lift, back.arm_angle).ball_height - height) < 1e-9);
        ++poses;
    }
    CHECK(poses > 1000);
}

TEST_CASE("lift rods: feet, arms and rods keep their lengths when unlike and swayed", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> rise(-0.3, 0.3), sway(-0.1, 0.1);
    int poses = 0;
    for (int i = 0; i < 1000; ++i) {
        SpaceSample s = make_random_space(random);
        make_unlike(s, random);
        const double h = s.linkage.side_view.lower_pivot.y() + rise(random), y = sway(random);
        const RodPose p = solve_on_rods(s.linkage, s.rods, h, y);
        if (!p.closes) continue;
        check_rods(s, p);
        CHECK(std::fabs(0.5 * (p.hitch.left_ball.z + p.hitch.right_ball.z) - h) < 1e-12);
        CHECK(std::fabs(0.5 * (p.hitch.left_ball.y + p.hitch.right_ball.y) - y) < 1e-12);
        // The foot: along the link and square to it, in the upright plane of the lateral axis' normal.
        const Vec3<double> pivot{s.linkage.side_view.lower_pivot.x(), s.linkage.half_spread_at_pivot, s.linkage.side_view.lower_pivot.y()};
        const Vec3<double> link = (1.0 / s.linkage.lower_length) * (p.hitch.right_ball - pivot), foot = p.right_foot - pivot;
        CHECK(std::fabs(dot(foot, link) - s.rods.pin_along) < 1e-12);
        CHECK(std::fabs(find_distance(foot, s.rods.pin_along * link) - std::fabs(s.rods.pin_offset)) < 1e-12);
        CHECK(std::fabs(foot.y - s.rods.pin_along * link.y) < 1e-12);
        if (s.rods.pin_offset != 0.0) CHECK((foot.z > s.rods.pin_along * link.z) == (s.rods.pin_offset > 0.0));
        ++poses;
    }
    CHECK(poses > 700);
}

TEST_CASE("lift rods: linkage A with rods 40 mm unlike, check values", "[oracle]") {
    SpaceSample s = make_space_a();
    const double mean = s.rods.left_length;
    s.rods.left_length = mean + 0.020;
    s.rods.right_length = mean - 0.020;
    const LiftLinkage side_view = project(make_space_a());
    double height_off = 0.0, pitch_off = 0.0;
    for (double degrees = -30.0; degrees <= 70.0; degrees += 2.5) {
        const LiftPose planar = solve_lift_from_arm(side_view, to_radians(degrees));
        const RodPose p = solve_at_arm(s.linkage, s.rods, to_radians(degrees), 0.0, planar.ball_height);
        REQUIRE(p.closes);
        REQUIRE(p.hitch.closes);
        const PlanarPose side = solve_pose(s.linkage.side_view, planar.ball_height);
        height_off = std::max(height_off, std::fabs(p.hitch.at.height - planar.ball_height));
        pitch_off = std::max(pitch_off, std::fabs(p.hitch.attitude.pitch - side.pitch));
        if (degrees == 0.0) CHECK(to_degrees(p.hitch.attitude.roll) == Approx(5.8).margin(0.05));
    }
    CHECK(height_off == Approx(0.30e-3).epsilon(0.1));
    CHECK(to_degrees(pitch_off) == Approx(0.18).epsilon(0.1));
}

TEST_CASE("lift rods: exchanged rods and a mirrored sway give the mirrored pose", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> rise(-0.3, 0.3), sway(-0.1, 0.1);
    const auto mirror = [](const Vec3<double>& v) { return Vec3<double>{v.x, -v.y, v.z}; };
    int poses = 0;
    for (int i = 0; i < 500; ++i) {
        SpaceSample s = make_random_space(random);
        make_unlike(s, random);
        LiftRods exchanged = s.rods;
        std::swap(exchanged.left_length, exchanged.right_length);
        const double h = s.linkage.side_view.lower_pivot.y() + rise(random), y = sway(random);
        const RodPose a = solve_on_rods(s.linkage, s.rods, h, y), b = solve_on_rods(s.linkage, exchanged, h, -y);
        REQUIRE(a.closes == b.closes);
        if (!a.closes) continue;
        REQUIRE(std::fabs(a.arm_angle - b.arm_angle) < 1e-11);
        REQUIRE(std::fabs(a.hitch.at.tilt_sine + b.hitch.at.tilt_sine) < 1e-12);
        REQUIRE(find_distance(mirror(a.left_foot), b.right_foot) < 1e-11);
        REQUIRE(find_distance(mirror(a.right_arm_end), b.left_arm_end) < 1e-11);
        REQUIRE(std::fabs(a.hitch.attitude.yaw + b.hitch.attitude.yaw) < 1e-10);
        ++poses;
    }
    CHECK(poses > 350);
}

TEST_CASE("lift rods: a longer rod lowers its side", "[analytic]") {
    SpaceSample s = make_space_a();
    s.rods.left_length += 0.02;
    const RodPose p = solve_on_rods(s.linkage, s.rods, 0.4, 0.0);
    REQUIRE(p.closes);
    CHECK(p.hitch.left_ball.z < p.hitch.right_ball.z);
    CHECK(p.hitch.attitude.roll > 0.02);
}

TEST_CASE("lift rods: the length for a place and the arm's angle undo the pose", "[random][inverse]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> rise(-0.3, 0.3), sway(-0.1, 0.1);
    int poses = 0;
    for (int i = 0; i < 500; ++i) {
        SpaceSample s = make_random_space(random);
        make_unlike(s, random);
        const RodPose p = solve_on_rods(s.linkage, s.rods, s.linkage.side_view.lower_pivot.y() + rise(random), sway(random));
        if (!p.closes) continue;
        for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
            const double rod = side == TractorSide::left ? s.rods.left_length : s.rods.right_length;
            REQUIRE(std::fabs(find_rod_length(s.linkage, s.rods, p.hitch.at, p.arm_angle, side).value() - rod) < 1e-9);
            REQUIRE(std::fabs(find_arm_angle(s.linkage, s.rods, p.hitch.at, side).value() - p.arm_angle) < 1e-9);
        }
        ++poses;
    }
    CHECK(poses > 350);
}

TEST_CASE("lift rods: the tilt over heights and sways of a box, with slopes, against samples", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int boxes = 0, narrow = 0, bounded = 0;
    while (boxes < 400) {
        SpaceSample s = make_random_space(random);
        make_unlike(s, random);
        const double half = std::pow(10.0, between(-6.0, -0.7)), h = s.linkage.side_view.lower_pivot.y() + between(-0.2, 0.2), y = between(-0.08, 0.08);
        // A range of heights with one sway, and of sways with one height, as well.
        const double half_height = boxes % 4 == 1 ? 0.0 : half, half_sway = boxes % 4 == 0 ? 0.0 : half;
        const SpatialBox box{Interval(h - half_height, h + half_height), Interval(y - half_sway, y + half_sway), Interval(0.0), Interval(s.linkage.side_view.upper_length)};
        if (!solve_on_rods(s.linkage, s.rods, h, y).closes) continue;
        const SpatialJet tilt = enclose_rod_tilt(s.linkage, s.rods, box);
        CAPTURE(half, h, y, tilt.v.lo, tilt.v.hi);
        REQUIRE(tilt.v.lo <= tilt.v.hi);
        for (int n = 0; n < 20; ++n) {
            const double hn = between(h - half_height, h + half_height), yn = between(y - half_sway, y + half_sway);
            const RodPose p = solve_on_rods(s.linkage, s.rods, hn, yn);
            if (!p.closes) continue;
            REQUIRE(tilt.v.lo - 1e-12 <= p.hitch.at.tilt_sine);
            REQUIRE(p.hitch.at.tilt_sine <= tilt.v.hi + 1e-12);
            constexpr double step = 1e-5;
            const RodPose up = solve_on_rods(s.linkage, s.rods, hn + step, yn), down = solve_on_rods(s.linkage, s.rods, hn - step, yn),
                          right = solve_on_rods(s.linkage, s.rods, hn, yn + step), left = solve_on_rods(s.linkage, s.rods, hn, yn - step);
            if (!up.closes || !down.closes || !right.closes || !left.closes) continue;
            const double slopes[] = {(up.hitch.at.tilt_sine - down.hitch.at.tilt_sine) / (2.0 * step),
                                     (right.hitch.at.tilt_sine - left.hitch.at.tilt_sine) / (2.0 * step)};
            for (std::size_t i = 0; i < 2; ++i) {
                const double slack = 1e-6 * (1.0 + std::fabs(slopes[i])) + 10.0 * step * (half < 1e-4 ? 0.1 : 0.0);
                CAPTURE(i, slopes[i], tilt.d[i].lo, tilt.d[i].hi);
                REQUIRE(tilt.d[i].lo - slack <= slopes[i]);
                REQUIRE(slopes[i] <= tilt.d[i].hi + slack);
            }
        }
        if (half < 1e-3) {
            ++narrow;
            if (tilt.v.width() < 10.0 * half + 1e-10) ++bounded;
        }
        ++boxes;
    }
    CHECK(narrow > 100);
    CHECK(bounded > 0.95 * narrow);
}

TEST_CASE("lift rods: out of reach and without sense they say so", "[analytic]") {
    const SpaceSample s = make_space_a();
    LiftRods rods = s.rods;
    CHECK_FALSE(solve_on_rods(s.linkage, rods, 2.0, 0.0).closes);
    CHECK_FALSE(solve_on_rods(s.linkage, rods, 0.5, 1.5).closes);
    CHECK_FALSE(find_rod_length(s.linkage, rods, {2.0, 0.0, 0.0}, 0.0, TractorSide::left));
    rods.left_length = rods.right_length = 0.05;
    CHECK_FALSE(solve_on_rods(s.linkage, rods, 0.2, 0.0).closes);
    CHECK_FALSE(find_arm_angle(s.linkage, rods, {0.2, 0.0, 0.0}, TractorSide::right));
    rods = s.rods;
    rods.right_length += 0.4;
    CHECK_FALSE(solve_on_rods(s.linkage, rods, 0.5, 0.0).closes);
    for (const double bad : {not_a_number, std::numeric_limits<double>::infinity()}) {
        CHECK_FALSE(solve_on_rods(s.linkage, s.rods, bad, 0.0).closes);
        CHECK_FALSE(solve_on_rods(s.linkage, s.rods, 0.5, bad).closes);
        CHECK_FALSE(solve_at_arm(s.linkage, s.rods, bad, 0.0, 0.5).closes);
        CHECK_FALSE(solve_at_arm(s.linkage, s.rods, 0.1, bad, 0.5).closes);
        CHECK_FALSE(solve_at_arm(s.linkage, s.rods, 0.1, 0.0, bad).closes);
        rods = s.rods;
        rods.left_length = bad;
        CHECK_FALSE(solve_on_rods(s.linkage, rods, 0.5, 0.0).closes);
        CHECK_FALSE(solve_at_arm(s.linkage, rods, 0.1, 0.0, 0.5).closes);
    }
}

TEST_CASE("lift rods: at an arm angle the arms stand there, or nothing is said", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> angle(-3.1, 3.1), rise(-0.4, 0.4);
    int closed = 0, open = 0;
    for (int i = 0; i < 400; ++i) {
        SpaceSample s = make_random_space(random);
        make_unlike(s, random);
        const double arm = angle(random);
        const RodPose p = solve_at_arm(s.linkage, s.rods, arm, 0.0, s.linkage.side_view.lower_pivot.y() + rise(random));
        ++(p.closes ? closed : open);
        if (!p.closes) continue;
        REQUIRE(std::fabs(p.arm_angle - arm) < 1e-9);
        check_rods(s, p);
    }
    CHECK(closed > 50);
    CHECK(open > 50);
}
