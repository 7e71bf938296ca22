// One universal joint: hand values, limits, inverse relations, derivative against differences, refused input.
#include "geometry/universal_joint.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"

using namespace hitchwright;

namespace {

constexpr double rounding = 1e-12;

}  // namespace

TEST_CASE("universal joint: a straight joint turns evenly", "[analytic]") {
    const JointMotion motion = find_joint_motion(0.0);
    REQUIRE(motion.status == JointMotionStatus::ok);
    CHECK(motion.speed_ratio_least == 1.0);
    CHECK(motion.speed_ratio_most == 1.0);
    CHECK(motion.non_uniformity == 0.0);
    CHECK(motion.lead_lag_most == 0.0);
    CHECK(motion.peak_acceleration == 0.0);
    CHECK(std::abs(motion.equal_speed_input_angle - to_radians(45.0)) < rounding);
    CHECK(std::abs(motion.peak_acceleration_input_angle - to_radians(45.0)) < rounding);
}

TEST_CASE("universal joint: at 60 deg the values a pencil gives", "[analytic]") {
    const JointMotion motion = find_joint_motion(to_radians(60.0));
    REQUIRE(motion.status == JointMotionStatus::ok);
    CHECK(std::abs(motion.speed_ratio_least - 0.5) < rounding);
    CHECK(std::abs(motion.speed_ratio_most - 2.0) < rounding);
    CHECK(std::abs(motion.non_uniformity - 1.5) < rounding);
    CHECK(std::abs(std::tan(motion.lead_lag_most) - 0.25 / std::sqrt(0.5)) < rounding);
}

TEST_CASE("universal joint: the ratio runs from 1/cos to cos in a quarter turn and is 1 at the equal-speed angle",
          "[analytic]") {
    const double angle = to_radians(GENERATE(5.0, 20.0, 45.0, 70.0));
    CAPTURE(angle);
    const JointMotion motion = find_joint_motion(angle);
    CHECK(std::abs(find_speed_ratio(angle, 0.0).value() - motion.speed_ratio_most) < rounding);
    CHECK(std::abs(find_speed_ratio(angle, to_radians(90.0)).value() - motion.speed_ratio_least) < rounding);
    CHECK(std::abs(find_speed_ratio(angle, motion.equal_speed_input_angle).value() - 1.0) < rounding);
    CHECK(std::abs(motion.speed_ratio_least * motion.speed_ratio_most - 1.0) < rounding);
    CHECK(std::abs(motion.speed_ratio_most - motion.speed_ratio_least - motion.non_uniformity) < rounding);
}

TEST_CASE("universal joint: the ratio is the derivative of the output angle", "[residual]") {
    constexpr unsigned seed = 411u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> joint(0.0, to_radians(80.0));
    std::uniform_real_distribution<double> turn(-10.0, 10.0);
    const double h = 1e-5;
    for (int i = 0; i < 200; ++i) {
        const double angle = joint(random);
        const double t = turn(random);
        CAPTURE(i, angle, t);
        const double difference =
            (find_output_lead(angle, t + h).value() - find_output_lead(angle, t - h).value()) / (2.0 * h);
        // Central difference: third derivative times h^2/6, at most 1e-10 times the ripple's curvature of 200.
        CHECK(std::abs(1.0 + difference - find_speed_ratio(angle, t).value()) < 1e-7);
    }
}

TEST_CASE("universal joint: output and input arms stay square to each other", "[residual]") {
    // Input arm p on shaft u = x, output arm q on shaft v in the x-z plane: p.q = 0 whatever the input angle.
    const double angle = to_radians(GENERATE(10.0, 35.0, 60.0));
    for (int i = 0; i < 36; ++i) {
        const double t = to_radians(10.0 * i + 3.0);
        const double out = t + find_output_lead(angle, t).value();
        // Arms at t = 0: p in the plane of the shafts (z), q square to it (y). About x, z turns to -y.
        const double p[3] = {0.0, -std::sin(t), std::cos(t)};
        const double e[3] = {-std::sin(angle), 0.0, std::cos(angle)};  // v x y, square to v in the plane
        const double q[3] = {std::sin(out) * e[0], std::cos(out), std::sin(out) * e[2]};
        CAPTURE(angle, t);
        CHECK(std::abs(p[0] * q[0] + p[1] * q[1] + p[2] * q[2]) < rounding);
    }
}

TEST_CASE("universal joint: peak acceleration and lead are the greatest of a fine sweep", "[analytic]") {
    const double angle = to_radians(GENERATE(0.01, 3.0, 25.0, 45.0, 75.0, 89.0));
    const JointMotion motion = find_joint_motion(angle);
    const double c = std::cos(angle);
    const double s = std::sin(angle);
    const auto acceleration = [&](double t) {
        const double below = c * c * std::cos(t) * std::cos(t) + std::sin(t) * std::sin(t);
        return c * s * s * std::sin(2.0 * t) / (below * below);
    };
    double sampled = 0.0;
    double lead = 0.0;
    for (int i = 0; i <= 90000; ++i) {
        const double t = to_radians(90.0) * i / 90000.0;
        sampled = std::max(sampled, acceleration(t));
        lead = std::max(lead, find_output_lead(angle, t).value());
    }
    CAPTURE(angle);
    CHECK(std::abs(acceleration(motion.peak_acceleration_input_angle) / motion.peak_acceleration - 1.0) < 1e-11);
    CHECK(sampled <= motion.peak_acceleration * (1.0 + rounding));
    // The steepest case, 89 deg, has its peak 0.6 deg wide: sampled within 0.1 % of its width.
    CHECK(sampled >= motion.peak_acceleration * (1.0 - 1e-5));
    CHECK(lead <= motion.lead_lag_most * (1.0 + rounding));
    CHECK(lead >= motion.lead_lag_most * (1.0 - 1e-5));
}

TEST_CASE("universal joint: tiny angles keep their relative precision", "[analytic]") {
    const double angle = 1e-9;
    const JointMotion motion = find_joint_motion(angle);
    REQUIRE(motion.status == JointMotionStatus::ok);
    CHECK(std::abs(motion.non_uniformity / (angle * angle) - 1.0) < 1e-12);
    CHECK(std::abs(motion.lead_lag_most / (0.25 * angle * angle) - 1.0) < 1e-12);
    CHECK(std::abs(motion.peak_acceleration / (angle * angle) - 1.0) < 1e-12);
}

TEST_CASE("universal joint: angles no joint can have are named, never a number", "[analytic]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    CHECK(find_joint_motion(nan).status == JointMotionStatus::not_finite);
    CHECK(find_joint_motion(inf).status == JointMotionStatus::not_finite);
    CHECK(find_joint_motion(-0.1).status == JointMotionStatus::angle_out_of_range);
    CHECK(find_joint_motion(to_radians(90.0)).status == JointMotionStatus::angle_out_of_range);
    CHECK(find_joint_motion(1e300).status == JointMotionStatus::angle_out_of_range);
    CHECK(find_joint_motion(nan).speed_ratio_most == 0.0);
    CHECK_FALSE(find_speed_ratio(nan, 0.0).has_value());
    CHECK_FALSE(find_speed_ratio(0.1, inf).has_value());
    CHECK_FALSE(find_output_lead(2.0, 0.0).has_value());
    const JointMotion steep = find_joint_motion(std::nextafter(to_radians(90.0), 0.0));
    CHECK(steep.status == JointMotionStatus::ok);
    CHECK(std::isfinite(steep.speed_ratio_most));
    CHECK(std::isfinite(steep.peak_acceleration));
}
