#include <catch2/catch.hpp>

#include <Eigen/Geometry>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/lower_link.h"

using namespace hitchwright;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// The rod pin built in space: along the slanting link, then off it along unit(link x lateral axis).
Eigen::Vector3d build_rod_pin(const LowerLink& link, double projected, double angle) {
    const double spread = link.half_spread_at_ball - link.half_spread_at_pivot;
    const Eigen::Vector3d along(projected * std::cos(angle), spread, projected * std::sin(angle));
    const Eigen::Vector3d off = along.cross(Eigen::Vector3d::UnitY()).normalized();
    return Eigen::Vector3d(0.0, link.half_spread_at_pivot, 0.0) + link.rod_pin_along / link.length * along +
           link.rod_pin_offset * off;
}

}  // namespace

TEST_CASE("lower link: a 3-4-5 slant shows 4 of its 5 and halves its pin", "[analytic]") {
    const LowerLink link{.length = 5.0,
                         .half_spread_at_pivot = 1.0,
                         .half_spread_at_ball = 4.0,
                         .rod_pin_along = 2.5,
                         .rod_pin_offset = 0.125};
    const ProjectedLength projected = project_lower_link(link);
    REQUIRE(projected.closure.closes());
    CHECK(projected.length == 4.0);
    const ProjectedRodPin pin = project_rod_pin(link);
    REQUIRE(pin.closure.closes());
    CHECK(pin.along == 2.0);
    CHECK(pin.offset == 0.125);
    CHECK(pin.half_spread == 2.5);
    const ProjectedLength rod = project_lift_rod(1.3, 2.0, pin.half_spread);
    REQUIRE(rod.closure.closes());
    CHECK(rod.length == Approx(1.2).epsilon(0).margin(1e-15));
}

TEST_CASE("lower link: converging either way projects alike, parallel not at all", "[analytic]") {
    CHECK(project_length(LinkagePart::lower_link, 5.0, 3.0).length == 4.0);
    CHECK(project_length(LinkagePart::lower_link, 5.0, -3.0).length == 4.0);
    CHECK(project_length(LinkagePart::lower_link, 5.0, 0.0).length == 5.0);
}

TEST_CASE("lower link: one too short for its spread names the shortfall", "[analytic]") {
    LowerLink link{.length = 2.0, .half_spread_at_pivot = 0.5, .half_spread_at_ball = 3.0, .rod_pin_along = 1.0};
    const Closure expected{LinkagePart::lower_link, Misfit::too_short, 0.5};
    CHECK(project_lower_link(link).closure == expected);
    CHECK(project_lower_link(link).length == 0.0);
    CHECK(project_rod_pin(link).closure == expected);
    link.half_spread_at_ball = 2.5;  // just straight across
    CHECK(project_lower_link(link).closure.misfit == Misfit::undefined);
    const Closure rod = project_lift_rod(0.2, 0.1, 0.5).closure;
    CHECK(rod.part == LinkagePart::lift_rod);
    CHECK(rod.misfit == Misfit::too_short);
    CHECK(rod.shortfall == Approx(0.2).epsilon(0).margin(1e-15));
}

TEST_CASE("lower link: lengths that are no lengths are undefined", "[analytic]") {
    for (const double bad : {0.0, -1.0, not_a_number, std::numeric_limits<double>::infinity()}) {
        CAPTURE(bad);
        CHECK(project_length(LinkagePart::lower_link, bad, 0.1).closure.misfit == Misfit::undefined);
        CHECK(solve_lower_link(Point(0.0, 0.5), bad, 0.5).closure.misfit == Misfit::undefined);
    }
    CHECK(project_length(LinkagePart::lower_link, 1.0, not_a_number).closure.misfit == Misfit::undefined);
    CHECK(solve_lower_link(Point(0.0, 0.5), 1.0, not_a_number).closure.misfit == Misfit::undefined);
    CHECK(solve_lower_link(Point(not_a_number, 0.5), 1.0, 0.5).closure.misfit == Misfit::undefined);
    const LowerLink no_pin{.length = 1.0, .rod_pin_along = not_a_number};
    CHECK(project_rod_pin(no_pin).closure.misfit == Misfit::undefined);
}

TEST_CASE("lower link: the projected pin is where the pin built in space is seen", "[random][analytic]") {
    const unsigned seed = 20260104;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (int i = 0; i < 500; ++i) {
        const LowerLink link{.length = between(0.6, 1.1),
                             .half_spread_at_pivot = between(0.15, 0.35),
                             .half_spread_at_ball = between(0.3, 0.6),
                             .rod_pin_along = between(0.2, 0.6),
                             .rod_pin_offset = between(-0.1, 0.1)};
        const double arm_half_spread = between(0.15, 0.4);
        const double angle = between(-0.6, 0.7);
        const double projected = project_lower_link(link).length;
        const ProjectedRodPin pin = project_rod_pin(link);
        const Eigen::Vector3d in_space = build_rod_pin(link, projected, angle);
        const Point in_plane = rotate(Point(pin.along, pin.offset), angle);
        CAPTURE(i, angle);
        CHECK(std::abs(in_space.x() - in_plane.x()) < 1e-14);
        CHECK(std::abs(in_space.z() - in_plane.y()) < 1e-14);
        CHECK(std::abs(in_space.y() - pin.half_spread) < 1e-14);
        // A rod from any arm end keeps its spatial length through its projection.
        const Eigen::Vector3d arm_end(0.35, arm_half_spread, 0.55);
        const double rod = (arm_end - in_space).norm();
        const Point seen = Point(arm_end.x(), arm_end.z()) - in_plane;
        CHECK(std::abs(project_lift_rod(rod, arm_half_spread, pin.half_spread).length - seen.norm()) < 1e-14);
    }
}

TEST_CASE("lower link: a pin offset is positive above a level link", "[analytic]") {
    const LowerLink link{.length = 1.0, .rod_pin_along = 0.5, .rod_pin_offset = 0.1};
    const ProjectedRodPin pin = project_rod_pin(link);
    CHECK(rotate(Point(pin.along, pin.offset), 0.0) == Point(0.5, 0.1));
    CHECK(build_rod_pin(link, 1.0, 0.0).z() == Approx(0.1).epsilon(0).margin(1e-15));
}

TEST_CASE("lower link: the ball lies at its height on a 3-4-5 triangle", "[analytic]") {
    const LowerLinkPose up = solve_lower_link(Point(0.1, 0.5), 1.0, 1.1);
    REQUIRE(up.closure.closes());
    CHECK((up.ball - Point(0.9, 1.1)).norm() < 1e-15);
    CHECK(up.angle == Approx(std::asin(0.6)).epsilon(0).margin(1e-15));
    const LowerLinkPose down = solve_lower_link(Point(0.1, 0.5), 1.0, -0.1);
    CHECK(down.angle == Approx(-up.angle).epsilon(0).margin(1e-15));
}

TEST_CASE("lower link: upright it still reaches, beyond that it is short by the rest", "[analytic]") {
    const LowerLinkPose upright = solve_lower_link(Point(0.0, 0.5), 0.75, 1.25);
    REQUIRE(upright.closure.closes());
    CHECK(upright.angle == Approx(pi / 2.0).epsilon(0).margin(1e-15));
    const Closure above = solve_lower_link(Point(0.0, 0.5), 0.75, 1.5).closure;
    CHECK(above == Closure{LinkagePart::lower_link, Misfit::too_short, 0.25});
    const Closure below = solve_lower_link(Point(0.0, 0.5), 0.75, -0.5).closure;
    CHECK(below == Closure{LinkagePart::lower_link, Misfit::too_short, 0.25});
}

TEST_CASE("lower link: the ball keeps its distance near upright", "[residual]") {
    for (int exponent = 1; exponent <= 16; ++exponent) {
        const double height = 0.5 + 0.885 * (1.0 - std::pow(10.0, -exponent));
        const LowerLinkPose pose = solve_lower_link(Point(0.0, 0.5), 0.885, height);
        CAPTURE(exponent);
        REQUIRE(pose.closure.closes());
        CHECK(std::abs(std::hypot(pose.ball.x(), pose.ball.y() - 0.5) - 0.885) < 1e-15);
        CHECK(pose.ball.y() == height);
    }
}
