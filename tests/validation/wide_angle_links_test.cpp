// Wide-angle joint by a second method: two crosses and a rigid bar between them, the bar's angle found by bisection.
//
// First cross at the origin, machine shaft along x. For a bar at angle a the shaft leaves the second cross at 2 a,
// since both crosses take the same bend. The bar is right when the plain joint lies on the shaft's line, ahead of the
// cross.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/wide_angle_joint.h"

using namespace hitchwright;

namespace {

struct LinkPose {
    long double bar_angle = 0;
    long double straight = 0;  // second cross to plain joint
};

LinkPose close_links(double x, double y, double spacing) {
    const auto beside = [&](long double a) {
        const long double cx = spacing * std::cos(a);
        const long double cy = spacing * std::sin(a);
        return (x - cx) * std::sin(2 * a) - (y - cy) * std::cos(2 * a);  // joint right of the shaft's line
    };
    // Between "bar along half the sight line" (joint still left of the line) and "bar along the sight line".
    const long double sight = std::atan2(static_cast<long double>(y), static_cast<long double>(x));
    long double low = sight / 2;
    long double high = std::min(sight, std::acos(-1.0L) / 2);
    for (int i = 0; i < 200; ++i) {
        const long double middle = (low + high) / 2;
        (beside(middle) > 0 ? high : low) = middle;
    }
    const long double a = (low + high) / 2;
    return {a, std::hypot(x - spacing * std::cos(a), y - spacing * std::sin(a))};
}

}  // namespace

TEST_CASE("wide-angle joint: 200 random poses agree with two crosses and a rigid bar", "[oracle][random]") {
    constexpr unsigned seed = 4242u;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> gap(0.05, 0.15);
    std::uniform_real_distribution<double> reach(0.3, 1.6);
    std::uniform_real_distribution<double> sight(0.0, to_radians(120.0));
    double greatest_bend = 0.0;
    for (int i = 0; i < 200; ++i) {
        const double spacing = gap(random);
        const double distance = reach(random);
        const double angle = sight(random);
        const double x = distance * std::cos(angle);
        const double y = distance * std::sin(angle);
        const LinkPose links = close_links(x, y, spacing);
        CAPTURE(seed, i, spacing, distance, angle);

        const WideAngleSolution solution = solve_wide_angle(x, x * x + y * y, spacing);
        REQUIRE(solution.status == WideAngleStatus::ok);
        CHECK(std::abs(static_cast<double>(2 * links.bar_angle) - solution.bend_angle) < 1e-9);
        CHECK(std::abs(static_cast<double>(links.straight) + 0.5 * spacing - solution.shaft_length) < 1e-12);

        // The same in space, centre half a spacing ahead of the first cross.
        const Eigen::Vector3d centre(0.5 * spacing, 0.0, 0.0);
        const Eigen::Vector3d other(x, 0.6 * y, -0.8 * y);
        const WideAnglePose pose = find_wide_angle_pose(centre, Eigen::Vector3d::UnitX(), other, spacing);
        REQUIRE(pose.solution.status == WideAngleStatus::ok);
        CHECK(std::abs(pose.solution.shaft_length - solution.shaft_length) < 1e-12);
        CHECK(std::abs(static_cast<double>(spacing * std::cos(links.bar_angle)) - pose.second_cross.x()) < 1e-12);
        greatest_bend = std::max(greatest_bend, solution.bend_angle);
    }
    CHECK(to_degrees(greatest_bend) > 100.0);
}
