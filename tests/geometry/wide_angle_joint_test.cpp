// Wide-angle joint: link lengths, half bends, accuracy of the solver, derivatives, both ends, refused input.
#include "geometry/wide_angle_joint.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"

using namespace hitchwright;

namespace {

constexpr double rounding = 1e-12;

// A joint of spacing w bent by phi, shaft part l, in its own plane: first cross at the origin, machine shaft along x.
struct PlaneCase {
    long double axial = 0;
    long double across = 0;
};

PlaneCase build(double spacing, double bend, double straight) {
    const long double half = 0.5L * bend;
    return {spacing * std::cos(half) + straight * std::cos(2 * half),
            spacing * std::sin(half) + straight * std::sin(2 * half)};
}

// s of F(s) = w s + L(s) (2 s^2 - 1) - X = 0 by bisection in long double, on the doubles the solver is given.
long double bisect_half_cosine(double axial, double squared, double spacing) {
    const long double w = spacing;
    const long double r2 = squared;
    const auto rest = [&](long double s) {
        const long double straight = -w * s + std::sqrt(w * w * s * s - w * w + r2);
        return w * s + straight * (2 * s * s - 1) - static_cast<long double>(axial);
    };
    long double low = 0;
    long double high = 1;
    for (int i = 0; i < 70; ++i) {
        const long double middle = 0.5L * (low + high);
        (rest(middle) > 0 ? high : low) = middle;
    }
    return 0.5L * (low + high);
}

WideAngleSolution solve_squared(double axial, double squared, double spacing) {
    const WideAngleSolution solution = solve_wide_angle(axial, squared, spacing);
    REQUIRE(solution.status == WideAngleStatus::ok);
    return solution;
}

}  // namespace

TEST_CASE("wide-angle joint: straight it is as long as the distance of the centres", "[analytic]") {
    const Eigen::Vector3d centre(0.4, 0.0, 0.6);
    const Eigen::Vector3d other(1.3, 0.0, 0.6);
    const WideAnglePose pose = find_wide_angle_pose(centre, Eigen::Vector3d::UnitX(), other, 0.1);
    REQUIRE(pose.solution.status == WideAngleStatus::ok);
    CHECK(std::abs(pose.solution.shaft_length - 0.9) < rounding);
    CHECK(pose.solution.bend_angle == 0.0);
    CHECK((pose.first_cross - Eigen::Vector3d(0.35, 0.0, 0.6)).norm() < rounding);
    CHECK((pose.second_cross - Eigen::Vector3d(0.45, 0.0, 0.6)).norm() < rounding);
}

TEST_CASE("wide-angle joint: without spacing it is a plain joint", "[analytic]") {
    const Eigen::Vector3d centre(0.0, 0.0, 0.0);
    const Eigen::Vector3d other(0.5, -0.3, 0.4);
    const WideAnglePose pose = find_wide_angle_pose(centre, Eigen::Vector3d::UnitX(), other, 0.0);
    REQUIRE(pose.solution.status == WideAngleStatus::ok);
    CHECK(std::abs(pose.solution.shaft_length - other.norm()) < rounding);
    CHECK(std::abs(pose.solution.bend_angle - find_angle_between(Eigen::Vector3d::UnitX(), other)) < rounding);
}

TEST_CASE("wide-angle joint: a point in place of the joint overstates the shaft by 14 to 22 mm at 80 deg",
          "[analytic]") {
    // Spacings from 80 to 120 mm, shafts from 0.6 to 1.5 m: the range the design notes give.
    for (const double spacing : {0.080, 0.100, 0.120}) {
        for (const double straight : {0.6, 1.0, 1.5}) {
            const PlaneCase plane = build(spacing, to_radians(80.0), straight);
            const double axial = static_cast<double>(plane.axial);
            const double across = static_cast<double>(plane.across);
            const double as_point = std::hypot(axial - 0.5 * spacing, across);
            const WideAngleSolution solution = solve_squared(axial, axial * axial + across * across, spacing);
            CAPTURE(spacing, straight, as_point - solution.shaft_length);
            CHECK(std::abs(solution.shaft_length - (straight + 0.5 * spacing)) < 1e-11);
            CHECK(as_point - solution.shaft_length > 0.0140);
            CHECK(as_point - solution.shaft_length < 0.0220);
        }
    }
}

TEST_CASE("wide-angle joint: links keep their lengths and both crosses take half the bend", "[residual]") {
    constexpr unsigned seed = 60601u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> side(-0.6, 0.6);
    std::uniform_real_distribution<double> along(0.2, 1.5);
    std::uniform_real_distribution<double> gap(0.04, 0.15);
    std::uniform_real_distribution<double> tilt(-0.7, 0.7);
    for (int i = 0; i < 300; ++i) {
        CAPTURE(i);
        const Eigen::Vector3d centre(side(random), side(random), side(random));
        const Eigen::Vector3d axis = make_shaft_axis(tilt(random), tilt(random));
        const Eigen::Vector3d other = centre + Eigen::Vector3d(along(random), side(random), side(random));
        const double spacing = gap(random);
        const WideAnglePose pose = find_wide_angle_pose(centre, axis, other, spacing);
        REQUIRE(pose.solution.status == WideAngleStatus::ok);
        const Eigen::Vector3d bar = pose.second_cross - pose.first_cross;
        const Eigen::Vector3d shaft = other - pose.second_cross;
        CHECK((pose.first_cross - (centre - 0.5 * spacing * axis)).norm() < rounding);
        CHECK(std::abs(bar.norm() - spacing) < rounding);
        CHECK(std::abs(shaft.norm() + 0.5 * spacing - pose.solution.shaft_length) < rounding);
        CHECK((shaft / shaft.norm() - pose.direction).norm() < 1e-11);
        CHECK(std::abs(find_angle_between(axis, bar) - 0.5 * pose.solution.bend_angle) < 1e-11);
        CHECK(std::abs(find_angle_between(bar, shaft) - 0.5 * pose.solution.bend_angle) < 1e-11);
        CHECK(std::abs(find_angle_between(axis, shaft) - pose.solution.bend_angle) < 1e-11);
    }
}

TEST_CASE("wide-angle joint: the half cosine is exact to 1e-14 from its two distances", "[oracle]") {
    constexpr unsigned seed = 8088u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> gap(0.02, 0.5);
    std::uniform_real_distribution<double> bend(0.0, to_radians(170.0));
    std::uniform_real_distribution<double> part(0.05, 2.5);
    for (int i = 0; i < 2000; ++i) {
        const double spacing = gap(random);
        // Every fourth case bends by less than a thousandth of a degree, where acos has no digits left.
        const double angle = i % 4 == 0 ? 1e-7 * bend(random) : bend(random);
        const PlaneCase plane = build(spacing, angle, part(random));
        const double axial = static_cast<double>(plane.axial);
        const double squared = static_cast<double>(plane.axial * plane.axial + plane.across * plane.across);
        const long double reference = bisect_half_cosine(axial, squared, spacing);
        CAPTURE(i, spacing, angle, axial, squared);
        const WideAngleSolution solution = solve_squared(axial, squared, spacing);
        CHECK(std::abs(static_cast<double>(solution.half_bend_cosine - reference)) < 1e-14);
    }
}

TEST_CASE("wide-angle joint: derivatives agree with differences", "[residual]") {
    constexpr unsigned seed = 1234u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> gap(0.04, 0.15);
    std::uniform_real_distribution<double> bend(to_radians(5.0), to_radians(150.0));
    std::uniform_real_distribution<double> part(0.3, 1.5);
    for (int i = 0; i < 100; ++i) {
        const double w = gap(random);
        const PlaneCase plane = build(w, bend(random), part(random));
        const double x = static_cast<double>(plane.axial);
        const double r2 = static_cast<double>(plane.axial * plane.axial + plane.across * plane.across);
        const WideAngleSolution at = solve_squared(x, r2, w);
        const WideAngleDerivatives<double> d = find_wide_angle_derivatives(at.half_bend_cosine, at.straight_part, w);
        const BendDerivatives phi = find_bend_derivatives(at, w);
        REQUIRE(phi.finite);
        const double h = 1e-6;
        const WideAngleSolution right = solve_squared(x + h, r2, w);
        const WideAngleSolution left = solve_squared(x - h, r2, w);
        const WideAngleSolution up = solve_squared(x, r2 + h, w);
        const WideAngleSolution down = solve_squared(x, r2 - h, w);
        CAPTURE(i, x, r2, w);
        // Differences: truncation h^2 f''' and rounding 1e-16/h, both below 1e-7 of values up to 50.
        const auto near = [h](double value, double more, double less) {
            return std::abs(value - (more - less) / (2.0 * h)) < 1e-6 * (1.0 + std::abs(value));
        };
        CHECK(near(d.length_by_axial, right.shaft_length, left.shaft_length));
        CHECK(near(d.length_by_squared, up.shaft_length, down.shaft_length));
        CHECK(near(d.half_cosine_by_axial, right.half_bend_cosine, left.half_bend_cosine));
        CHECK(near(d.half_cosine_by_squared, up.half_bend_cosine, down.half_bend_cosine));
        CHECK(near(d.bend_cosine_by_axial, std::cos(right.bend_angle), std::cos(left.bend_angle)));
        CHECK(near(d.bend_cosine_by_squared, std::cos(up.bend_angle), std::cos(down.bend_angle)));
        CHECK(near(phi.by_axial, right.bend_angle, left.bend_angle));
        CHECK(near(phi.by_squared, up.bend_angle, down.bend_angle));
        CHECK(d.length_by_axial < 0.0);
        CHECK(d.length_by_squared > 0.0);
        CHECK(d.half_cosine_by_axial > 0.0);
        CHECK((d.half_cosine_by_squared < 0.0) == (at.bend_angle < to_radians(90.0)));
    }
}

TEST_CASE("wide-angle joint: the angle of a straight joint has no derivative and says so", "[analytic]") {
    CHECK_FALSE(find_bend_derivatives(solve_squared(0.9, 0.81, 0.1), 0.1).finite);
    CHECK_FALSE(find_bend_derivatives(WideAngleSolution{}, 0.1).finite);
}

TEST_CASE("wide-angle driveline: at the implement it is the mirror of the same at the tractor", "[metamorphic]") {
    constexpr unsigned seed = 2718u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> side(-0.3, 0.3);
    std::uniform_real_distribution<double> tilt(-0.8, 0.8);
    for (int i = 0; i < 50; ++i) {
        CAPTURE(i);
        const MachineShaft stub{{0.3, side(random), 0.6}, make_shaft_axis(tilt(random), tilt(random)), 0.05, 0.02};
        const MachineShaft input{{1.4, side(random), 0.6}, make_shaft_axis(tilt(random), tilt(random)), 0.03, 0.0};
        const WideAngleDriveline rear = find_wide_angle_driveline(stub, input, MachineEnd::implement, 0.1);
        REQUIRE(rear.wide.solution.status == WideAngleStatus::ok);
        const auto turn_round = [](const MachineShaft& s) {
            return MachineShaft{-s.end, s.axis, s.joint_offset, s.added_length};
        };
        const WideAngleDriveline front =
            find_wide_angle_driveline(turn_round(input), turn_round(stub), MachineEnd::tractor, 0.1);
        REQUIRE(front.wide.solution.status == WideAngleStatus::ok);
        CHECK(std::abs(front.length - rear.length) < rounding);
        CHECK(std::abs(front.wide_joint_angle - rear.wide_joint_angle) < rounding);
        CHECK(std::abs(front.plain_joint_angle - rear.plain_joint_angle) < rounding);
        CHECK((front.direction - rear.direction).norm() < rounding);
        CHECK(rear.direction.x() > 0.0);
        // With almost no spacing both ends give the plain driveline.
        const WideAngleDriveline thin = find_wide_angle_driveline(stub, input, MachineEnd::implement, 0.0);
        const DrivelinePose plain = find_driveline_pose(stub, input);
        CHECK(std::abs(thin.length - plain.length) < rounding);
        CHECK(std::abs(thin.wide_joint_angle - plain.implement_joint_angle) < rounding);
        CHECK(std::abs(thin.plain_joint_angle - plain.tractor_joint_angle) < rounding);
    }
}

TEST_CASE("wide-angle joint: poses it cannot take are named, never a number", "[analytic]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    CHECK(solve_wide_angle(nan, 1.0, 0.1).status == WideAngleStatus::not_finite);
    CHECK(solve_wide_angle(0.5, nan, 0.1).status == WideAngleStatus::not_finite);
    CHECK(solve_wide_angle(0.5, 1.0, inf).status == WideAngleStatus::not_finite);
    CHECK(solve_wide_angle(inf, 1.0, 0.1).status == WideAngleStatus::not_finite);
    CHECK(solve_wide_angle(0.5, inf, 0.1).status == WideAngleStatus::not_finite);
    CHECK(solve_wide_angle(0.5, 1.0, -0.1).status == WideAngleStatus::spacing_negative);
    CHECK(solve_wide_angle(1.1, 1.0, 0.1).status == WideAngleStatus::distances_impossible);
    CHECK(solve_wide_angle(0.0, -1.0, 0.1).status == WideAngleStatus::distances_impossible);
    CHECK(solve_wide_angle(0.05, 0.0025, 0.1).status == WideAngleStatus::plain_joint_inside);
    CHECK(solve_wide_angle(-1.0, 1.0, 0.1).status == WideAngleStatus::folded_back);
    CHECK(solve_wide_angle(-0.9, 0.81 + 0.099 * 0.099, 0.1).status == WideAngleStatus::folded_back);
    CHECK(solve_wide_angle(-1.0, 1.0, 0.1).shaft_length == 0.0);
    // Just short of folding: a bend below 180 deg.
    const WideAngleSolution deep = solve_squared(-0.9, 0.81 + 0.101 * 0.101, 0.1);
    CHECK(deep.bend_angle < pi);
    CHECK(deep.bend_angle > to_radians(170.0));

    const Eigen::Vector3d centre(0.0, 0.0, 0.0);
    const Eigen::Vector3d long_axis(1.2, 0.0, 0.0);
    const Eigen::Vector3d other(1.0, 0.2, 0.0);
    CHECK(find_wide_angle_pose(centre, long_axis, other, 0.1).solution.status == WideAngleStatus::axis_not_unit);
    const Eigen::Vector3d lost(nan, 0.0, 0.0);
    CHECK(find_wide_angle_pose(centre, Eigen::Vector3d::UnitX(), lost, 0.1).solution.status ==
          WideAngleStatus::not_finite);
    MachineShaft stub;
    MachineShaft input{{1.0, 0.0, 0.0}, long_axis, 0.0, 0.0};
    CHECK(find_wide_angle_driveline(stub, input, MachineEnd::tractor, 0.1).wide.solution.status ==
          WideAngleStatus::axis_not_unit);
    input.axis.x() = nan;
    CHECK(find_wide_angle_driveline(stub, input, MachineEnd::tractor, 0.1).wide.solution.status ==
          WideAngleStatus::not_finite);
    CHECK(find_wide_angle_driveline(stub, input, MachineEnd::tractor, 0.1).length == 0.0);
}
