#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/four_bar.h"

using namespace hitchwright;

TEST_CASE("four-bar: a parallelogram keeps coupler level and rocker along the crank", "[analytic]") {
    const FourBar bars{.crank = 2.0, .coupler = 6.0, .rocker = 2.0, .ground = 6.0};
    for (const double degrees : {10.0, 50.0, 90.0, 170.0}) {
        CAPTURE(degrees);
        const FourBarPose pose = solve_four_bar(bars, to_radians(degrees), Side::left);
        REQUIRE(pose.assembles);
        CHECK(pose.coupler_angle == Approx(0.0).epsilon(0).margin(1e-14));
        CHECK(to_degrees(pose.rocker_angle) == Approx(degrees).epsilon(0).margin(1e-12));
    }
}

TEST_CASE("four-bar: a right-angled frame has its transmission angle where it can be seen", "[analytic]") {
    // Crank straight up 3, rocker pivot 4 away: the diagonal is 5, coupler 3 and rocker 4 meet at right angles.
    const FourBar bars{.crank = 3.0, .coupler = 3.0, .rocker = 4.0, .ground = 4.0};
    const FourBarPose pose = solve_four_bar(bars, pi / 2.0, Side::left);
    REQUIRE(pose.assembles);
    CHECK(pose.transmission_angle == Approx(pi / 2.0).epsilon(0).margin(1e-14));
    CHECK((pose.crank_pin - Point(0.0, 3.0)).norm() < 1e-15);
}

TEST_CASE("four-bar: at a toggle both assemblies agree and the transmission angle is zero", "[analytic]") {
    const FourBar bars{.crank = 2.0, .coupler = 5.0, .rocker = 3.0, .ground = 6.0};  // A at (-2, 0): 8 = 5 + 3
    const FourBarPose left = solve_four_bar(bars, pi, Side::left);
    const FourBarPose right = solve_four_bar(bars, pi, Side::right);
    REQUIRE(left.assembles);
    REQUIRE(right.assembles);
    CHECK((left.coupler_pin - right.coupler_pin).norm() < 1e-7);
    CHECK(left.transmission_angle < 1e-7);
}

TEST_CASE("four-bar: bars that cannot assemble say by how much, too short or too long", "[analytic]") {
    // Crank back along the ground line: coupler and rocker must span 9 and have 8.
    const FourBarPose apart =
        solve_four_bar({.crank = 3.0, .coupler = 4.0, .rocker = 4.0, .ground = 6.0}, pi, Side::left);
    CHECK_FALSE(apart.assembles);
    CHECK(apart.miss == Miss::apart);
    CHECK(apart.shortfall == Approx(1.0).epsilon(0).margin(1e-14));
    const FourBarPose inside =
        solve_four_bar({.crank = 1.0, .coupler = 5.0, .rocker = 1.0, .ground = 2.0}, pi, Side::left);
    CHECK(inside.miss == Miss::inside);
    CHECK(inside.shortfall == Approx(1.0).epsilon(0).margin(1e-14));
    const FourBar bad{.crank = 1.0, .coupler = std::numeric_limits<double>::quiet_NaN(), .rocker = 1.0, .ground = 2.0};
    CHECK(solve_four_bar(bad, 0.3, Side::left).miss == Miss::undefined);
    CHECK_FALSE(solve_four_bar({.crank = 1.0, .coupler = 1.0, .rocker = 1.0, .ground = 2.0},
                               std::numeric_limits<double>::quiet_NaN(), Side::left)
                    .assembles);
}

TEST_CASE("four-bar: Grashof's condition sorts the three classes", "[analytic]") {
    CHECK(find_grashof_class({2.0, 7.0, 9.0, 6.0}) == GrashofClass::grashof);
    CHECK(find_grashof_class({5.0, 7.0, 6.0, 8.0}) == GrashofClass::special);
    CHECK(find_grashof_class({0.1, 0.7, 0.2, 0.6}) == GrashofClass::special);  // 0.1 + 0.7 against 0.2 + 0.6
    CHECK(find_grashof_class({10.0, 10.0, 10.0, 20.0}) == GrashofClass::non_grashof);
    CHECK(find_grashof_class({5.0, 7.0, 6.0, 8.0 + 1e-9}) == GrashofClass::non_grashof);
}

TEST_CASE("four-bar: a Grashof crank turns fully, a non-Grashof one does not", "[analytic][random]") {
    const unsigned seed = 20260102;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> length(1.0, 10.0);
    int turning = 0;
    int rocking = 0;
    for (int i = 0; i < 200; ++i) {
        const FourBar bars{length(random), length(random), length(random), length(random)};
        const double shortest = std::min({bars.crank, bars.coupler, bars.rocker, bars.ground});
        bool turns = true;
        for (int k = 0; k < 3600; ++k) {
            turns = turns && solve_four_bar(bars, to_radians(0.1 * k), Side::left).assembles;
        }
        CAPTURE(bars.crank, bars.coupler, bars.rocker, bars.ground);
        const GrashofClass grashof = find_grashof_class(bars);
        if (grashof == GrashofClass::grashof && (bars.crank == shortest || bars.ground == shortest)) {
            ++turning;
            CHECK(turns);
        } else {
            ++rocking;
            CHECK_FALSE(turns);
        }
    }
    CHECK(turning > 20);
    CHECK(rocking > 20);
}

TEST_CASE("four-bar: every bar keeps its length on both assemblies", "[random][residual]") {
    const unsigned seed = 20260103;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> length(0.2, 1.2);
    std::uniform_real_distribution<double> turn(-pi, pi);
    int solved = 0;
    for (int i = 0; i < 2000; ++i) {
        const FourBar bars{length(random), length(random), length(random), length(random)};
        const double angle = turn(random);
        for (const Side side : {Side::left, Side::right}) {
            const FourBarPose pose = solve_four_bar(bars, angle, side);
            if (!pose.assembles) {
                continue;
            }
            ++solved;
            // Rebuilt from the reported angles, not from the points.
            const Point by_coupler = bars.crank * unit_vector(angle) + bars.coupler * unit_vector(pose.coupler_angle);
            const Point by_rocker = Point(bars.ground, 0.0) + bars.rocker * unit_vector(pose.rocker_angle);
            CHECK((by_coupler - by_rocker).norm() < 1e-12);
            CHECK((by_coupler - pose.coupler_pin).norm() < 1e-12);
        }
    }
    CHECK(solved > 1000);
}

TEST_CASE("four-bar: rocker speed from the velocity loop matches differences", "[analytic]") {
    const FourBar bars{40.0, 120.0, 80.0, 100.0};
    const double step = 1e-5;
    for (double angle = 0.1; angle < 6.2; angle += 0.37) {
        CAPTURE(angle);
        const FourBarPose pose = solve_four_bar(bars, angle, Side::left);
        const double speed = bars.crank * std::sin(pose.coupler_angle - angle) /
                             (bars.rocker * std::sin(pose.coupler_angle - pose.rocker_angle));
        const double after = solve_four_bar(bars, angle + step, Side::left).rocker_angle;
        const double before = solve_four_bar(bars, angle - step, Side::left).rocker_angle;
        CHECK(wrap_angle(after - before) / (2.0 * step) == Approx(speed).epsilon(0).margin(1e-7));
    }
}

TEST_CASE("four-bar: scaled bars keep their angles, mirrored ones change sides", "[metamorphic]") {
    const FourBar bars{2.0, 7.0, 9.0, 6.0};
    const FourBar inches{2.0 * 25.4, 7.0 * 25.4, 9.0 * 25.4, 6.0 * 25.4};
    const FourBarPose pose = solve_four_bar(bars, 0.7, Side::left);
    const FourBarPose scaled = solve_four_bar(inches, 0.7, Side::left);
    const FourBarPose mirrored = solve_four_bar(bars, -0.7, Side::right);
    CHECK(scaled.coupler_angle == Approx(pose.coupler_angle).epsilon(0).margin(1e-14));
    CHECK(scaled.rocker_angle == Approx(pose.rocker_angle).epsilon(0).margin(1e-14));
    CHECK(mirrored.coupler_angle == Approx(-pose.coupler_angle).epsilon(0).margin(1e-14));
    CHECK(mirrored.rocker_angle == Approx(-pose.rocker_angle).epsilon(0).margin(1e-14));
    CHECK(mirrored.transmission_angle == Approx(pose.transmission_angle).epsilon(0).margin(1e-14));
}
