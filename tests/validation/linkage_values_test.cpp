// Printed and hand values of the three-point linkage: linkage_values.toml.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/lift_travel.h"
#include "geometry/link_length.h"
#include "geometry/linkage_quantities.h"
#include "geometry/lower_link.h"
#include "tests/geometry/linkage_a.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using hitchwright::test::make_lift_a;
using hitchwright::test::make_linkage_a;
using validation::load_checks;
using validation::ValueCheck;

namespace {

constexpr double mm = 0.001;

double percent_more(double after, double before) { return 100.0 * (after / before - 1.0); }

/// Lift 610 mm behind the balls per lift at the balls.
double find_ratio_610(const PlanarLinkage& linkage, double height) {
    const PlanarPose pose = solve_pose(linkage, height);
    REQUIRE(pose.closes);
    return 1.0 / find_rise_ratio(find_link_points(linkage, pose), place_point(pose, Point(0.610, 0.0))).value();
}

/// Linkage and lift of linkage A rigged with half-spreads; projected, or with the taped lengths by mistake.
struct Rig {
    PlanarLinkage linkage = make_linkage_a();
    LiftLinkage lift = make_lift_a();
};

Rig make_projected_rig(const ValueCheck& check) {
    const LowerLink link{.length = 0.885,
                         .half_spread_at_pivot = 0.5 * check.input("pivots_apart") * mm,
                         .half_spread_at_ball = 0.5 * check.input("balls_apart") * mm,
                         .rod_pin_along = 0.430};
    const ProjectedRodPin pin = project_rod_pin(link);
    const ProjectedLength rod = project_lift_rod(0.600, 0.5 * check.input("arm_ends_apart") * mm, pin.half_spread);
    Rig rig;
    rig.linkage.lower_length = project_lower_link(link).length;
    rig.lift.lower_length = rig.linkage.lower_length;
    rig.lift.rod_pin_along = pin.along;
    rig.lift.rod_length = rod.length;
    return rig;
}

}  // namespace

TEST_CASE("linkage values: vertical convergence distance", "[analytic]") {
    for (const ValueCheck& check : load_checks("linkage_values.toml", "vertical_convergence")) {
        CAPTURE(check.name);
        const auto point = [&](const char* x, const char* z) {
            return Point(check.input(x) * mm, check.input(z) * mm);
        };
        const LinkPoints points{.lower_pivot = point("lower_pivot_x", "lower_pivot_z"),
                                .ball = point("ball_x", "ball_z"),
                                .upper_pin = point("upper_pin_x", "upper_pin_z"),
                                .mast_pin = point("mast_pin_x", "mast_pin_z")};
        const double expected = check.out.at("distance");
        CHECK(1.0 / find_inverse_hitch_distance(points).value() / mm ==
              Approx(expected).epsilon(0).margin(check.tolerance));
        // The same pins as a linkage set level.
        const PlanarLinkage linkage{.lower_pivot = points.lower_pivot,
                                    .lower_length = (points.ball - points.lower_pivot).norm(),
                                    .upper_pin = points.upper_pin,
                                    .upper_length = (points.mast_pin - points.upper_pin).norm(),
                                    .mast_pin = points.mast_pin - points.ball};
        CHECK(1.0 / find_inverse_vertical_convergence(linkage).value() / mm ==
              Approx(expected).epsilon(0).margin(check.tolerance));
    }
}

TEST_CASE("linkage values: horizontal convergence distance lies in its category's band", "[handbook]") {
    for (const ValueCheck& check : load_checks("linkage_values.toml", "horizontal_convergence")) {
        CAPTURE(check.name);
        const double distance = 1.0 /
                                find_inverse_horizontal_convergence(check.input("half_spread_at_pivot") * mm,
                                                                    check.input("half_spread_at_ball") * mm,
                                                                    check.input("plan_length") * mm)
                                    .value() /
                                mm;
        CHECK(distance == Approx(check.out.at("distance")).epsilon(0).margin(check.tolerance));
        CHECK(distance > check.out.at("band_least"));
        CHECK(distance < check.out.at("band_most"));
    }
}

TEST_CASE("linkage values: pitch per mm of upper link on linkage A", "[oracle]") {
    const PlanarLinkage a = make_linkage_a();
    for (const ValueCheck& check : load_checks("linkage_values.toml", "upper_link_change")) {
        CAPTURE(check.name);
        double least = 1e9;
        double most = 0.0;
        const int steps = 750;
        const double low = check.input("ball_low") * mm;
        const double high = check.input("ball_high") * mm;
        for (int i = 0; i <= steps; ++i) {
            const PlanarPose pose = solve_pose(a, low + (high - low) * i / steps);
            REQUIRE(pose.closes);
            const double rate = -to_degrees(find_pitch_per_turn(find_link_points(a, pose), 1.0 * mm).value());
            least = std::min(least, rate);
            most = std::max(most, rate);
        }
        CHECK(least == Approx(check.out.at("least")).epsilon(0).margin(check.tolerance));
        CHECK(most == Approx(check.out.at("most")).epsilon(0).margin(check.tolerance));
    }
}

TEST_CASE("linkage values: a higher upper-link pin lifts more behind and pitches less at the top", "[oracle]") {
    const PlanarLinkage a = make_linkage_a();
    for (const ValueCheck& check : load_checks("linkage_values.toml", "higher_pin")) {
        CAPTURE(check.name);
        PlanarLinkage higher = a;
        higher.upper_pin.y() += check.input("higher") * mm;
        const WantedLength wanted = solve_upper_link_length(higher, 0.500, solve_pose(a, 0.500).pitch);
        REQUIRE(wanted.closure.closes());
        CHECK(wanted.length / mm == Approx(check.out.at("upper_link")).epsilon(0).margin(0.0005));
        higher.upper_length = wanted.length;
        CHECK(percent_more(find_ratio_610(higher, 0.500), find_ratio_610(a, 0.500)) ==
              Approx(check.out.at("more_lift_610")).epsilon(0).margin(check.tolerance));
        const double less = to_degrees(solve_pose(a, 0.9243).pitch - solve_pose(higher, 0.9243).pitch);
        CHECK(less == Approx(check.out.at("less_pitch_at_924_3")).epsilon(0).margin(check.tolerance));
    }
}

TEST_CASE("linkage values: shortened lower links lift more and less high", "[handbook]") {
    for (const ValueCheck& check : load_checks("linkage_values.toml", "shortened_lower_link")) {
        CAPTURE(check.name);
        LiftLinkage before = make_lift_a();
        before.lower_length = check.input("before") * mm;
        LiftLinkage after = before;
        after.lower_length = check.input("after") * mm;
        // The same range of the arm: what the stops of the rockshaft allow.
        const double low = to_radians(-8.0);
        const double high = to_radians(70.0);
        const LiftTravel long_links = find_lift_travel(before, low, high);
        const LiftTravel short_links = find_lift_travel(after, low, high);
        REQUIRE(long_links.closure.closes());
        REQUIRE(short_links.closure.closes());
        CHECK(percent_more(short_links.heights.high - short_links.heights.low,
                           long_links.heights.high - long_links.heights.low) ==
              Approx(check.out.at("more_height")).epsilon(0).margin(check.tolerance));
        for (double arm = low; arm < high; arm += to_radians(6.0)) {
            const double force_before = find_arm_rate(before, solve_lift_from_arm(before, arm)).value();
            const double force_after = find_arm_rate(after, solve_lift_from_arm(after, arm)).value();
            CHECK(percent_more(force_after, force_before) ==
                  Approx(check.out.at("more_lift")).epsilon(0).margin(check.tolerance));
        }
    }
}

TEST_CASE("linkage values: leaving out the projection is wrong by what closure in space says", "[oracle]") {
    for (const ValueCheck& check : load_checks("linkage_values.toml", "unprojected")) {
        CAPTURE(check.name);
        const Rig projected = make_projected_rig(check);
        const Rig mistaken;
        double height_error = 0.0;
        double pitch_error = 0.0;
        for (double degrees = check.input("arm_low"); degrees <= check.input("arm_high"); degrees += 0.5) {
            const LiftPose right = solve_lift_from_arm(projected.lift, to_radians(degrees));
            const LiftPose wrong = solve_lift_from_arm(mistaken.lift, to_radians(degrees));
            REQUIRE(right.closure.closes());
            REQUIRE(wrong.closure.closes());
            height_error = std::max(height_error, std::abs(wrong.ball_height - right.ball_height));
            const double right_pitch = solve_pose(projected.linkage, right.ball_height).pitch;
            const double wrong_pitch = solve_pose(mistaken.linkage, wrong.ball_height).pitch;
            pitch_error = std::max(pitch_error, std::abs(wrong_pitch - right_pitch));
        }
        CHECK(height_error / mm == Approx(check.out.at("ball_height")).epsilon(0).margin(check.tolerance));
        CHECK(to_degrees(pitch_error) == Approx(check.out.at("pitch")).epsilon(0).margin(check.tolerance));
    }
}
