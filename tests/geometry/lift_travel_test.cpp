#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/lift_travel.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_lift_a;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("lift travel: an arm range short of dead centre gives the heights at its ends", "[analytic]") {
    const LiftLinkage lift = make_lift_a();
    const LiftTravel travel = find_lift_travel(lift, to_radians(-10.0), to_radians(70.0));
    REQUIRE(travel.closure.closes());
    CHECK_FALSE(travel.dead_centre_within);
    CHECK(travel.heights.low == solve_lift_from_arm(lift, to_radians(-10.0)).ball_height);
    CHECK(travel.heights.high == solve_lift_from_arm(lift, to_radians(70.0)).ball_height);
}

TEST_CASE("lift travel: through a dead centre the extreme is there, not at the ends", "[analytic]") {
    // Arm hanging straight down over the pin of a level link: the ball is lowest with the arm at -90 degrees.
    const LiftLinkage lift{.arm_pivot = Point(0.4, 1.4),
                           .arm_length = 0.4,
                           .rod_length = 0.6,
                           .lower_pivot = Point(0.0, 0.4),
                           .lower_length = 0.8,
                           .rod_pin_along = 0.4};
    const LiftTravel travel = find_lift_travel(lift, to_radians(-120.0), to_radians(-70.0));
    REQUIRE(travel.closure.closes());
    CHECK(travel.dead_centre_within);
    CHECK(travel.heights.low == Approx(0.4).epsilon(0).margin(1e-12));
    const double ends = std::max(solve_lift_from_arm(lift, to_radians(-120.0)).ball_height,
                                 solve_lift_from_arm(lift, to_radians(-70.0)).ball_height);
    CHECK(travel.heights.high == ends);
    CHECK_FALSE(find_lift_travel(lift, to_radians(-89.0), to_radians(-70.0)).dead_centre_within);
}

TEST_CASE("lift travel: extremes and closure agree with a dense scan on random rigs", "[random][oracle]") {
    const unsigned seed = 20260106;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int closing = 0;
    int turning_back = 0;
    for (int i = 0; i < 300; ++i) {
        LiftLinkage lift = make_lift_a();
        lift.arm_pivot += Point(between(-0.1, 0.3), between(-0.1, 0.1));
        lift.arm_length = between(0.2, 0.35);
        lift.rod_length = between(0.45, 0.65);
        const double low = to_radians(between(-80.0, 20.0));
        const double high = low + to_radians(between(20.0, 120.0));
        const LiftTravel travel = find_lift_travel(lift, low, high);
        double least = 1e9;
        double most = -1e9;
        bool scan_closes = true;
        bool upright = false;
        for (int k = 0; k <= 2000; ++k) {
            const LiftPose pose = solve_lift_from_arm(lift, low + (high - low) * k / 2000.0);
            scan_closes = scan_closes && pose.closure.closes();
            upright = upright || std::abs(pose.lower_link_angle) > pi / 2.0;
            least = std::min(least, pose.ball_height);
            most = std::max(most, pose.ball_height);
        }
        CAPTURE(i, low, high);
        if (!travel.closure.closes()) {
            CHECK((!scan_closes || upright));
            continue;
        }
        ++closing;
        turning_back += travel.dead_centre_within ? 1 : 0;
        CHECK(scan_closes);
        CHECK(travel.heights.low <= least + 1e-12);
        CHECK(travel.heights.high >= most - 1e-12);
        // A parabola sampled at 1/2000 of the range is off by no more than this.
        CHECK(travel.heights.low > least - 1e-5);
        CHECK(travel.heights.high < most + 1e-5);
    }
    CHECK(closing > 50);
    CHECK(turning_back > 10);
}

TEST_CASE("lift travel: a rod that fails inside the range fails the range, with the worst shortfall", "[analytic]") {
    // Both ends close; between them, at +90 degrees, the arm end is farthest from the pivot straight below.
    const LiftLinkage lift{.arm_pivot = Point(0.0, 1.0),
                           .arm_length = 0.3,
                           .rod_length = 0.45,
                           .lower_pivot = Point(0.0, 0.4),
                           .lower_length = 0.8,
                           .rod_pin_along = 0.4};
    REQUIRE(solve_lift_from_arm(lift, to_radians(20.0)).closure.closes());
    REQUIRE(solve_lift_from_arm(lift, to_radians(160.0)).closure.closes());
    const LiftTravel travel = find_lift_travel(lift, to_radians(20.0), to_radians(160.0));
    CHECK(travel.closure.part == LinkagePart::lift_rod);
    CHECK(travel.closure.misfit == Misfit::too_short);
    CHECK(travel.closure.shortfall == Approx(0.9 - 0.4 - 0.45).epsilon(0).margin(1e-14));
    CHECK(travel.heights == HeightRange{});
}

TEST_CASE("lift travel: a rod too long where the arm comes nearest to the pivot fails the range", "[analytic]") {
    // Both ends close; between them, at -90 degrees, the arm end is only 0.3 above the pivot.
    const LiftLinkage lift{.arm_pivot = Point(0.0, 1.0),
                           .arm_length = 0.3,
                           .rod_length = 0.75,
                           .lower_pivot = Point(0.0, 0.4),
                           .lower_length = 0.8,
                           .rod_pin_along = 0.4};
    REQUIRE(solve_lift_from_arm(lift, to_radians(-160.0)).closure.closes());
    REQUIRE(solve_lift_from_arm(lift, to_radians(-20.0)).closure.closes());
    const LiftTravel travel = find_lift_travel(lift, to_radians(-160.0), to_radians(-20.0));
    CHECK(travel.closure.part == LinkagePart::lift_rod);
    CHECK(travel.closure.misfit == Misfit::too_long);
    CHECK(travel.closure.shortfall == Approx(0.75 - 0.4 - 0.3).epsilon(0).margin(1e-14));
}

TEST_CASE("lift travel: a range that is none is charged to the lift arm", "[analytic]") {
    const Closure none{LinkagePart::lift_arm, Misfit::undefined, 0.0};
    const LiftLinkage lift = make_lift_a();
    CHECK(find_lift_travel(lift, 0.5, 0.5).closure == none);
    CHECK(find_lift_travel(lift, 0.5, 0.2).closure == none);
    CHECK(find_lift_travel(lift, 0.0, pi).closure == none);
    CHECK(find_lift_travel(lift, not_a_number, 0.5).closure == none);
    CHECK(find_lift_travel(lift, 0.0, std::numeric_limits<double>::infinity()).closure == none);
}

TEST_CASE("lift travel: a lower link that would pass upright is refused", "[analytic]") {
    // A leaning parallelogram: the link angle equals the arm angle.
    const LiftLinkage lift{.arm_pivot = Point(-0.3, 1.0),
                           .arm_length = 0.4,
                           .rod_length = std::sqrt(0.45),
                           .lower_pivot = Point(0.0, 0.4),
                           .lower_length = 0.8,
                           .rod_pin_along = 0.4};
    REQUIRE(solve_lift_from_arm(lift, to_radians(100.0)).lower_link_angle ==
            Approx(to_radians(100.0)).epsilon(0).margin(1e-12));
    const LiftTravel short_of_it = find_lift_travel(lift, to_radians(60.0), to_radians(89.0));
    REQUIRE(short_of_it.closure.closes());
    CHECK(short_of_it.heights.high == Approx(0.4 + 0.8 * std::sin(to_radians(89.0))).epsilon(0).margin(1e-12));
    const LiftTravel beyond = find_lift_travel(lift, to_radians(60.0), to_radians(100.0));
    CHECK(beyond.closure == Closure{LinkagePart::lower_link, Misfit::undefined, 0.0});
    CHECK(beyond.heights == HeightRange{});
}

TEST_CASE("combined travel: the narrower binds at each end and says by how much", "[analytic]") {
    const CombinedTravel travel = combine_travel(HeightRange{0.20, 0.90}, HeightRange{0.25, 0.95});
    REQUIRE(travel.known);
    CHECK_FALSE(travel.empty);
    CHECK(travel.low.height == 0.25);
    CHECK(travel.low.bound == TravelBound::lift_arm);
    CHECK(travel.low.spare == Approx(0.05).epsilon(0).margin(1e-15));
    CHECK(travel.high.height == 0.90);
    CHECK(travel.high.bound == TravelBound::typed);
    CHECK(travel.high.spare == Approx(0.05).epsilon(0).margin(1e-15));
    const CombinedTravel swapped = combine_travel(HeightRange{0.25, 0.95}, HeightRange{0.20, 0.90});
    CHECK(swapped.low.bound == TravelBound::typed);
    CHECK(swapped.low.height == 0.25);
    CHECK(swapped.high.bound == TravelBound::lift_arm);
    CHECK(swapped.high.height == 0.90);
}

TEST_CASE("combined travel: equal ends count as typed", "[analytic]") {
    const CombinedTravel travel = combine_travel(HeightRange{0.2, 0.9}, HeightRange{0.2, 0.9});
    CHECK(travel.low == TravelEnd{0.2, TravelBound::typed, 0.0});
    CHECK(travel.high == TravelEnd{0.9, TravelBound::typed, 0.0});
}

TEST_CASE("combined travel: with one of them given that one holds", "[analytic]") {
    const CombinedTravel typed = combine_travel(HeightRange{0.2, 0.9}, std::nullopt, 0.05);
    REQUIRE(typed.known);
    CHECK(typed.high == TravelEnd{0.9, TravelBound::typed, 0.0});
    const CombinedTravel arm = combine_travel(std::nullopt, HeightRange{0.2, 0.9}, 0.05);
    REQUIRE(arm.known);
    CHECK(arm.low == TravelEnd{0.2, TravelBound::lift_arm, 0.0});
    CHECK(arm.high.height == Approx(0.95).epsilon(0).margin(1e-15));
    CHECK(arm.high.bound == TravelBound::lift_arm);
    CHECK_FALSE(combine_travel(std::nullopt, std::nullopt).known);
}

TEST_CASE("combined travel: free rise raises the arm's upper end only", "[analytic]") {
    const CombinedTravel travel = combine_travel(HeightRange{0.2, 0.93}, HeightRange{0.2, 0.9}, 0.05);
    CHECK(travel.high.height == 0.93);
    CHECK(travel.high.bound == TravelBound::typed);
    CHECK(travel.high.spare == Approx(0.02).epsilon(0).margin(1e-15));
    CHECK(travel.low.spare == 0.0);
}

TEST_CASE("combined travel: ranges without a common height are empty, with the gap", "[analytic]") {
    const CombinedTravel travel = combine_travel(HeightRange{0.2, 0.4}, HeightRange{0.5, 0.9});
    REQUIRE(travel.known);
    CHECK(travel.empty);
    CHECK(travel.gap == Approx(0.1).epsilon(0).margin(1e-15));
    CHECK(travel.low.bound == TravelBound::lift_arm);
    CHECK(travel.high.bound == TravelBound::typed);
}

TEST_CASE("combined travel: ranges upside down or not finite are not known", "[analytic]") {
    CHECK_FALSE(combine_travel(HeightRange{0.9, 0.2}, HeightRange{0.2, 0.9}).known);
    CHECK_FALSE(combine_travel(HeightRange{0.2, 0.9}, HeightRange{0.2, not_a_number}).known);
    CHECK_FALSE(combine_travel(HeightRange{0.2, 0.9}, std::nullopt, -0.1).known);
    CHECK_FALSE(combine_travel(HeightRange{0.2, 0.9}, std::nullopt, not_a_number).known);
}
