// Two joints: pencil values, equal angles, phase, the sign of the twist, precision near no ripple, refused input.
#include "geometry/two_joint.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/driveline_geometry.h"

using namespace hitchwright;

namespace {

constexpr double rounding = 1e-12;

double equivalent(double b1, double b2, double f, double g) {
    const TwoJointMotion motion = find_two_joint_motion({b1, b2, f, g});
    REQUIRE(motion.motion.status == JointMotionStatus::ok);
    return motion.equivalent_angle;
}

}  // namespace

TEST_CASE("two joints: equal angles in one plane and in phase cancel exactly", "[analytic]") {
    const double b = to_radians(GENERATE(0.0, 1e-7, 12.0, 44.0, 80.0));
    CAPTURE(b);
    CHECK(equivalent(b, b, 0.0, 0.0) == 0.0);
}

TEST_CASE("two joints: one straight joint leaves the other, whatever twist and phase", "[analytic]") {
    const double f = to_radians(GENERATE(0.0, 35.0, 90.0, -160.0));
    CAPTURE(f);
    CHECK(std::abs(equivalent(to_radians(25.0), 0.0, f, 0.0) - to_radians(25.0)) < rounding);
    CHECK(std::abs(equivalent(0.0, to_radians(31.0), f, 0.4) - to_radians(31.0)) < rounding);
}

TEST_CASE("two joints: inner yokes 90 deg out multiply the cosines", "[analytic]") {
    const double b1 = to_radians(20.0);
    const double b2 = to_radians(15.0);
    const double be = equivalent(b1, b2, 0.0, to_radians(90.0));
    CHECK(std::abs(std::cos(be) - std::cos(b1) * std::cos(b2)) < rounding);
    CHECK(std::abs(be - equivalent(b1, b2, to_radians(90.0), 0.0)) < rounding);
}

TEST_CASE("two joints: in phase and in one plane the cosines divide", "[analytic]") {
    const double b1 = to_radians(11.0);
    const double b2 = to_radians(37.0);
    CHECK(std::abs(std::cos(equivalent(b1, b2, 0.0, 0.0)) - std::cos(b2) / std::cos(b1)) < rounding);
    CHECK(std::abs(equivalent(b1, b2, to_radians(180.0), 0.0) - equivalent(b1, b2, 0.0, 0.0)) < rounding);
}

TEST_CASE("two joints: the shop formula is no substitute when planes are twisted", "[analytic]") {
    // Equal joints: sqrt|B1^2 - B2^2| = 0, while the truth for 90 deg between the planes is 14 to 23 deg.
    CHECK(to_degrees(equivalent(to_radians(10.0), to_radians(10.0), to_radians(90.0), 0.0)) > 14.0);
    CHECK(to_degrees(equivalent(to_radians(16.0), to_radians(16.0), to_radians(90.0), 0.0)) > 22.0);
}

TEST_CASE("two joints: the equivalent angle keeps its digits when it is tiny", "[analytic]") {
    // cos B_e = cos b / cos(b + d): B_e^2 / 2 = d tan b to first order, with d = 1e-14 far below acos near 1.
    const double b = 0.5;
    const double next = b + 1e-14;
    const double d = next - b;
    CHECK(std::abs(equivalent(b, next, 0.0, 0.0) / std::sqrt(2.0 * d * std::tan(b)) - 1.0) < 1e-6);
    // A phase error of 1e-9 alone: difference / sum = (1 - c^2) sin g / (2 c) and B_e = 2 sqrt of it.
    const double c = std::cos(b);
    const double phase = 1e-9;
    CHECK(std::abs(equivalent(b, b, 0.0, phase) / (2.0 * std::sqrt((1.0 - c * c) * phase / (2.0 * c))) - 1.0) < 1e-6);
}

TEST_CASE("two joints: the ratio's extremes over a turn are those of the equivalent joint", "[random]") {
    constexpr unsigned seed = 902u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> joint(0.0, to_radians(70.0));
    std::uniform_real_distribution<double> turn(-pi, pi);
    for (int i = 0; i < 50; ++i) {
        const TwoJointShaft shaft{joint(random), joint(random), turn(random), turn(random)};
        CAPTURE(i, shaft.joint_angle_1, shaft.joint_angle_2, shaft.bending_plane_angle, shaft.yoke_phase_error);
        const TwoJointMotion motion = find_two_joint_motion(shaft);
        double least = 1e9;
        double most = 0.0;
        for (int k = 0; k < 3600; ++k) {
            const double ratio = find_two_joint_speed_ratio(shaft, pi * k / 3600.0).value();
            least = std::min(least, ratio);
            most = std::max(most, ratio);
        }
        // Samples stand 0.05 deg apart: off the extreme by at most curvature x (0.0005)^2/2 of the ratio.
        CHECK(most <= motion.motion.speed_ratio_most * (1.0 + rounding));
        CHECK(least >= motion.motion.speed_ratio_least * (1.0 - rounding));
        CHECK(most >= motion.motion.speed_ratio_most * (1.0 - 2e-4));
        CHECK(least <= motion.motion.speed_ratio_least * (1.0 + 2e-4));
    }
}

TEST_CASE("bending-plane angle: Z gives half a turn, W nothing, a straight joint something finite", "[analytic]") {
    const Eigen::Vector3d level = make_shaft_axis(0.0, 0.0);
    const Eigen::Vector3d down = make_shaft_axis(to_radians(-15.0), 0.0);
    const Eigen::Vector3d steeper = make_shaft_axis(to_radians(-30.0), 0.0);
    CHECK(std::abs(std::abs(find_bending_plane_angle(level, down, level)) - pi) < rounding);
    CHECK(std::abs(find_bending_plane_angle(level, down, steeper)) < rounding);
    CHECK(find_bending_plane_angle(level, level, level) == 0.0);
    CHECK(std::isfinite(find_bending_plane_angle(level, level, down)));
    CHECK(std::isfinite(find_bending_plane_angle(level, down, down)));
}

TEST_CASE("bending-plane angle: a quarter twist has the sign of the turn from the second normal to the first",
          "[analytic]") {
    // Shaft along x, stub sloping down to the rear (normal u_a x v = -y), input bent to the right (v x u_b = +z).
    const Eigen::Vector3d shaft = Eigen::Vector3d::UnitX();
    const Eigen::Vector3d stub = make_shaft_axis(to_radians(-20.0), 0.0);
    const Eigen::Vector3d input = make_shaft_axis(0.0, to_radians(20.0));
    const double first_y = stub.z() * shaft.x() - stub.x() * shaft.z();
    const double second_z = shaft.x() * input.y() - shaft.y() * input.x();
    REQUIRE(first_y < 0.0);
    REQUIRE(second_z > 0.0);
    // From +z to -y about +x: y turns to z turns to -y, so this is plus 90 deg.
    CHECK(std::abs(find_bending_plane_angle(stub, shaft, input) - to_radians(90.0)) < rounding);
}

TEST_CASE("best yoke phase: it cancels the twist modulo half a turn and no other phase does better", "[random]") {
    constexpr unsigned seed = 77u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> joint(to_radians(2.0), to_radians(60.0));
    std::uniform_real_distribution<double> turn(-pi, pi);
    for (int i = 0; i < 40; ++i) {
        const double b1 = joint(random);
        const double b2 = joint(random);
        const double f = turn(random);
        CAPTURE(i, b1, b2, f);
        const double best = find_best_yoke_phase(f);
        CHECK(best > -0.5 * pi - rounding);
        CHECK(best <= 0.5 * pi);
        CHECK(std::abs(std::sin(f + best)) < rounding);
        const double least = equivalent(b1, b2, f, best);
        for (int k = 0; k < 60; ++k) {
            CHECK(equivalent(b1, b2, f, to_radians(3.0 * k)) >= least - 1e-9);
        }
    }
}

TEST_CASE("two joints: impossible angles are named, never a number", "[analytic]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(find_two_joint_motion({nan, 0.1, 0.0, 0.0}).motion.status == JointMotionStatus::not_finite);
    CHECK(find_two_joint_motion({0.1, 0.1, nan, 0.0}).motion.status == JointMotionStatus::not_finite);
    CHECK(find_two_joint_motion({0.1, 0.1, 0.0, nan}).motion.status == JointMotionStatus::not_finite);
    CHECK(find_two_joint_motion({0.1, 0.1, 1.7e308, 1.7e308}).motion.status == JointMotionStatus::not_finite);
    CHECK(find_two_joint_motion({0.1, to_radians(95.0), 0.0, 0.0}).motion.status ==
          JointMotionStatus::angle_out_of_range);
    CHECK(find_two_joint_motion({-0.1, 0.1, 0.0, 0.0}).equivalent_angle == 0.0);
    CHECK_FALSE(find_two_joint_speed_ratio({-0.1, 0.1, 0.0, 0.0}, 0.0).has_value());
    CHECK_FALSE(find_two_joint_speed_ratio({0.1, 0.1, 0.0, 0.0}, nan).has_value());
}
