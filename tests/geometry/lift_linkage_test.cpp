#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/lift_linkage.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_lift_a;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Arm and link equal and parallel, the rod always upright: arm angle = link angle.
LiftLinkage make_parallelogram() {
    return {.arm_pivot = Point(0.0, 1.0),
            .arm_length = 0.4,
            .rod_length = 0.6,
            .lower_pivot = Point(0.0, 0.4),
            .lower_length = 0.8,
            .rod_pin_along = 0.4,
            .rod_pin_offset = 0.0};
}

LiftLinkage make_random_lift(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    LiftLinkage lift = make_lift_a();
    lift.arm_pivot += Point(between(-0.05, 0.05), between(-0.05, 0.05));
    lift.arm_length = between(0.22, 0.32);
    lift.rod_length = between(0.5, 0.68);
    lift.rod_pin_along = between(0.38, 0.5);
    lift.rod_pin_offset = between(-0.06, 0.06);
    return lift;
}

void check_lengths(const LiftLinkage& lift, const LiftPose& pose) {
    CHECK(std::abs((pose.arm_end - lift.arm_pivot).norm() - lift.arm_length) < 1e-12);
    CHECK(std::abs((pose.arm_end - pose.rod_pin).norm() - lift.rod_length) < 1e-12);
    CHECK(std::abs((pose.ball - lift.lower_pivot).norm() - lift.lower_length) < 1e-12);
    const Point in_link = rotate(pose.rod_pin - lift.lower_pivot, -pose.lower_link_angle);
    CHECK((in_link - Point(lift.rod_pin_along, lift.rod_pin_offset)).norm() < 1e-12);
    CHECK(std::abs(pose.ball.y() - pose.ball_height) < 1e-12);
    CHECK((pose.arm_end - lift.arm_pivot - lift.arm_length * unit_vector(pose.arm_angle)).norm() < 1e-12);
}

}  // namespace

TEST_CASE("lift linkage: in a parallelogram the link follows the arm", "[analytic]") {
    const LiftLinkage lift = make_parallelogram();
    for (double degrees = -60.0; degrees <= 60.0; degrees += 15.0) {
        CAPTURE(degrees);
        const double angle = to_radians(degrees);
        const LiftPose pose = solve_lift_from_arm(lift, angle);
        REQUIRE(pose.closure.closes());
        CHECK(pose.lower_link_angle == Approx(angle).epsilon(0).margin(1e-14));
        CHECK(pose.ball_height == Approx(0.4 + 0.8 * std::sin(angle)).epsilon(0).margin(1e-14));
        const std::optional<double> rate = find_arm_rate(lift, pose);
        REQUIRE(rate);
        CHECK(*rate == Approx(1.0 / (0.8 * std::cos(angle))).epsilon(0).margin(1e-13));
    }
}

TEST_CASE("lift linkage: a pin above the link turns the link down by its angle", "[analytic]") {
    LiftLinkage lift = make_parallelogram();
    // The same pin circle, the pin now 30 degrees above the link: link angle = arm angle - 30.
    lift.rod_pin_along = 0.4 * std::cos(to_radians(30.0));
    lift.rod_pin_offset = 0.4 * std::sin(to_radians(30.0));
    const LiftPose pose = solve_lift_from_arm(lift, to_radians(20.0));
    REQUIRE(pose.closure.closes());
    CHECK(to_degrees(pose.lower_link_angle) == Approx(-10.0).epsilon(0).margin(1e-12));
}

TEST_CASE("lift linkage: arm to ball and ball to arm undo each other", "[random][residual]") {
    const unsigned seed = 20260105;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int solved = 0;
    for (int i = 0; i < 500; ++i) {
        const LiftLinkage lift = make_random_lift(random);
        const double angle = to_radians(std::uniform_real_distribution<double>(-20.0, 60.0)(random));
        const LiftPose there = solve_lift_from_arm(lift, angle);
        CAPTURE(i, angle);
        if (!there.closure.closes()) {
            CHECK(there.closure.part == LinkagePart::lift_rod);
            continue;
        }
        ++solved;
        check_lengths(lift, there);
        // On the working side of the line arm pivot -> rod pin, or past the dead centre on the other.
        const bool working = cross(there.rod_pin - lift.arm_pivot, there.arm_end - lift.arm_pivot) > 0.0;
        const LiftPose back = solve_lift_from_ball(lift, there.ball_height, working ? Side::left : Side::right);
        REQUIRE(back.closure.closes());
        check_lengths(lift, back);
        CHECK(std::abs(wrap_angle(back.arm_angle - angle)) < 1e-9);
    }
    CHECK(solved > 450);
}

TEST_CASE("lift linkage: a shorter rod raises the lower hitch points", "[metamorphic]") {
    LiftLinkage shorter = make_lift_a();
    shorter.rod_length -= 0.010;
    for (double degrees = -8.0; degrees <= 70.0; degrees += 6.0) {
        CAPTURE(degrees);
        const LiftPose before = solve_lift_from_arm(make_lift_a(), to_radians(degrees));
        const LiftPose after = solve_lift_from_arm(shorter, to_radians(degrees));
        REQUIRE(before.closure.closes());
        REQUIRE(after.closure.closes());
        CHECK(after.ball_height > before.ball_height + 0.010);
    }
}

TEST_CASE("lift linkage: the arm rate matches central differences", "[analytic]") {
    const LiftLinkage lift = make_lift_a();
    const double step = 1e-5;
    for (double height = 0.20; height <= 0.96; height += 0.05) {
        CAPTURE(height);
        const std::optional<double> rate = find_arm_rate(lift, solve_lift_from_ball(lift, height));
        const double after = solve_lift_from_ball(lift, height + step).arm_angle;
        const double before = solve_lift_from_ball(lift, height - step).arm_angle;
        REQUIRE(rate);
        CHECK(*rate == Approx((after - before) / (2.0 * step)).epsilon(0).margin(1e-7));
    }
}

TEST_CASE("lift linkage: a rod that cannot close is named with its shortfall", "[analytic]") {
    LiftLinkage lift = make_parallelogram();
    // Arm level: arm end (0.4, 1.0), pivot (0, 0.4): sqrt(0.52) apart, pin circle 0.4.
    const double apart = std::sqrt(0.52);
    lift.rod_length = 0.1;
    const Closure too_short = solve_lift_from_arm(lift, 0.0).closure;
    CHECK(too_short.part == LinkagePart::lift_rod);
    CHECK(too_short.misfit == Misfit::too_short);
    CHECK(too_short.shortfall == Approx(apart - 0.4 - 0.1).epsilon(0).margin(1e-14));
    lift.rod_length = 1.5;
    const Closure too_long = solve_lift_from_arm(lift, 0.0).closure;
    CHECK(too_long.part == LinkagePart::lift_rod);
    CHECK(too_long.misfit == Misfit::too_long);
    CHECK(too_long.shortfall == Approx(1.5 - apart - 0.4).epsilon(0).margin(1e-14));
    // Link level: pin (0.4, 0.4), sqrt(0.52) from the arm pivot, arm 0.4.
    lift.rod_length = 0.1;
    const Closure from_ball = solve_lift_from_ball(lift, 0.4).closure;
    CHECK(from_ball.part == LinkagePart::lift_rod);
    CHECK(from_ball.misfit == Misfit::too_short);
    CHECK(from_ball.shortfall == Approx(apart - 0.4 - 0.1).epsilon(0).margin(1e-14));
}

TEST_CASE("lift linkage: a ball out of the lower link's reach is charged to the lower link", "[analytic]") {
    const Closure closure = solve_lift_from_ball(make_parallelogram(), 1.3).closure;
    CHECK(closure.part == LinkagePart::lower_link);
    CHECK(closure.misfit == Misfit::too_short);
    CHECK(closure.shortfall == Approx(0.1).epsilon(0).margin(1e-15));
}

TEST_CASE("lift linkage: measures without meaning are undefined, never a pose", "[analytic]") {
    LiftLinkage pin_on_pivot = make_parallelogram();
    pin_on_pivot.rod_pin_along = 0.0;
    CHECK(solve_lift_from_arm(pin_on_pivot, 0.0).closure.misfit == Misfit::undefined);
    CHECK(solve_lift_from_ball(pin_on_pivot, 0.4).closure.misfit == Misfit::undefined);
    for (double LiftLinkage::*member : {&LiftLinkage::arm_length, &LiftLinkage::rod_length, &LiftLinkage::lower_length,
                                        &LiftLinkage::rod_pin_along, &LiftLinkage::rod_pin_offset}) {
        LiftLinkage bad = make_parallelogram();
        bad.*member = not_a_number;
        CHECK(solve_lift_from_arm(bad, 0.0).closure.misfit == Misfit::undefined);
        CHECK(solve_lift_from_ball(bad, 0.4).closure.misfit == Misfit::undefined);
        CHECK_FALSE(find_arm_rate(bad, solve_lift_from_arm(bad, 0.0)));
    }
    CHECK(solve_lift_from_arm(make_parallelogram(), not_a_number).closure.misfit == Misfit::undefined);
    CHECK(solve_lift_from_ball(make_parallelogram(), not_a_number).closure.misfit == Misfit::undefined);
}

TEST_CASE("lift linkage: no arm rate where arm and rod stand in one line", "[analytic]") {
    LiftLinkage lift = make_parallelogram();
    // Pin at (0.4, 0.4) with the link level; arm pivot straight above it at arm + rod.
    lift.arm_pivot = Point(0.4, 1.4);
    const LiftPose pose = solve_lift_from_ball(lift, 0.4);
    REQUIRE(pose.closure.closes());
    CHECK(pose.arm_angle == Approx(-pi / 2.0).epsilon(0).margin(1e-7));  // rounding enters by its square root
    CHECK_FALSE(find_arm_rate(lift, pose));
    // Link upright: the ball turns back, no rate of the arm per height either.
    LiftLinkage upright = make_parallelogram();
    upright.arm_pivot = Point(0.3, 1.0);
    const LiftPose top = solve_lift_from_ball(upright, 1.2);
    REQUIRE(top.closure.closes());
    CHECK_FALSE(find_arm_rate(upright, top));
}

TEST_CASE("lift linkage: a slot in the rod frees the ball by what a shorter rod gives", "[analytic]") {
    // Arm end straight above the lower pivot at 0.6. Rod sqrt(0.61): pin level at 0.5. Rod 0.6: pin at the height
    // (0.25 + 0.36 - 0.36) / 1.2 on a radius of 0.5; the link is 1 long.
    const LiftLinkage lift{.arm_pivot = Point(-0.4, 1.0),
                           .arm_length = 0.4,
                           .rod_length = std::sqrt(0.61),
                           .lower_pivot = Point(0.0, 0.4),
                           .lower_length = 1.0,
                           .rod_pin_along = 0.5};
    const FreeRise free = find_free_rise(lift, 0.0, std::sqrt(0.61) - 0.6);
    REQUIRE(free.closure.closes());
    CHECK(free.rise == Approx(0.25 / 1.2 / 0.5).epsilon(0).margin(1e-14));
    CHECK(find_free_rise(lift, 0.0, 0.0).rise == 0.0);
    const FreeRise beyond = find_free_rise(lift, 0.0, 0.75);
    CHECK(beyond.closure.part == LinkagePart::lift_rod);
    CHECK(beyond.closure.misfit == Misfit::too_short);
    CHECK(beyond.rise == 0.0);
}

TEST_CASE("lift linkage: moved, scaled and mirrored twins give the twin pose", "[metamorphic]") {
    const LiftLinkage lift = make_lift_a();
    const LiftPose pose = solve_lift_from_arm(lift, to_radians(25.0));
    LiftLinkage moved = lift;
    moved.arm_pivot += Point(1.0, 2.0);
    moved.lower_pivot += Point(1.0, 2.0);
    CHECK(solve_lift_from_arm(moved, to_radians(25.0)).ball_height ==
          Approx(pose.ball_height + 2.0).epsilon(0).margin(1e-14));
    const double k = 1.0 / 0.0254;
    const LiftLinkage inches{.arm_pivot = k * lift.arm_pivot,
                             .arm_length = k * lift.arm_length,
                             .rod_length = k * lift.rod_length,
                             .lower_pivot = k * lift.lower_pivot,
                             .lower_length = k * lift.lower_length,
                             .rod_pin_along = k * lift.rod_pin_along};
    CHECK(solve_lift_from_arm(inches, to_radians(25.0)).ball_height ==
          Approx(k * pose.ball_height).epsilon(0).margin(1e-12));
    LiftLinkage mirrored = lift;  // upside down: the other branch, angles reversed
    mirrored.arm_pivot.y() *= -1.0;
    mirrored.lower_pivot.y() *= -1.0;
    const LiftPose below = solve_lift_from_arm(mirrored, to_radians(-25.0), Side::right);
    CHECK(below.ball_height == Approx(-pose.ball_height).epsilon(0).margin(1e-14));
    CHECK(below.lower_link_angle == Approx(-pose.lower_link_angle).epsilon(0).margin(1e-14));
}
