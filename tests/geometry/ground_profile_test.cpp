// Profiles of ditches and ridges, and the gap under a rigid wheel: hand cases and dense sampling of the rim.
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/attitude.h"
#include "geometry/ground_profile.h"

using namespace hitchwright;
using Eigen::Vector3d;

namespace {

const Vector3d square_across = Vector3d::UnitX();

WheelCircle upright(double x, double z, double radius) {
    return {Vector3d(x, 0.0, z), Vector3d::UnitX(), Vector3d::UnitZ(), radius};
}

/// Height of the centre at which an upright wheel touches.
double resting_height(const GroundProfile& p, double x, double radius) {
    return radius - find_wheel_gap(p, upright(x, radius, radius), square_across).gap;
}

}  // namespace

TEST_CASE("ground profile: corners of a ditch, of a ridge, of a V", "[analytic]") {
    const GroundProfile ditch = make_ditch_profile(0.5, 1.0, to_radians(45.0)).value();
    REQUIRE(ditch.corners.size() == 4);
    CHECK((ditch.corners[0] - Point(-1.0, 0.0)).norm() < 1e-15);
    CHECK((ditch.corners[1] - Point(-0.5, -0.5)).norm() < 1e-15);
    CHECK(std::fabs(find_ground_height(ditch, -0.75) + 0.25) < 1e-15);
    CHECK(std::fabs(find_ground_height(ditch, 0.2) + 0.5) < 1e-15);
    CHECK((find_ground_height(ditch, -7.0) == 0.0 && find_ground_height(ditch, 7.0) == 0.0));
    CHECK(std::fabs(find_ground_height(make_ditch_profile(-0.3, 0.0, to_radians(30.0)).value(), 0.0) - 0.3) < 1e-15);
    CHECK(make_ditch_profile(0.5, 0.0, 0.5)->corners.size() == 3);
    CHECK(make_ditch_profile(0.0, 1.0, 0.5)->corners.empty());
    CHECK(mirror(mirror(ditch)) == ditch);
    CHECK(std::fabs(find_ground_height(scale_heights(ditch, 0.5), 0.0) + 0.25) < 1e-15);
}

TEST_CASE("ground profile: measures and points that make no ground are refused", "[analytic]") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
    CHECK_FALSE(make_ditch_profile(0.5, 1.0, 0.0));
    CHECK_FALSE(make_ditch_profile(0.5, -1.0, 0.5));
    CHECK_FALSE(make_ditch_profile(nan, 1.0, 0.5));
    CHECK_FALSE(make_ditch_profile(0.5, infinity, 0.5));
    CHECK_FALSE(make_ditch_profile(0.5, 1.0, nan));
    CHECK_FALSE(make_ditch_profile(0.5, 1.0, 0.5 * pi));
    const auto at = [](double x, double z) { return GroundPoint{"", make_reading(x), make_reading(z)}; };
    DitchReadings d;
    CHECK_FALSE(make_profile(d));
    d.depth = make_reading(0.5);
    CHECK_FALSE(make_profile(d));
    d.side_slope = make_reading(0.5);
    CHECK(make_profile(d)->corners.size() == 3);
    d.points = {at(0.0, 0.0), at(1.0, -0.4), at(3.0, 0.2)};
    CHECK(make_profile(d)->corners.size() == 3);
    CHECK(std::fabs(find_ground_height(*make_profile(d), 2.0) + 0.1) < 1e-15);
    d.points[2].x = make_reading(1.0);
    CHECK_FALSE(make_profile(d));
    d.points[2].x = Reading{};
    CHECK_FALSE(make_profile(d));
}

TEST_CASE("wheel in a 45 deg V: radius 21 in stays 8.7 in above the vertex", "[handbook]") {
    // Lowest point R (1/cos 45 - 1) above the vertex; rigid wheel.
    const double radius = 21.0 * 0.0254;
    const GroundProfile v = make_ditch_profile(2.0, 0.0, to_radians(45.0)).value();
    const double lowest = resting_height(v, 0.0, radius) - radius + 2.0;
    CHECK(std::fabs(lowest / 0.0254 - 8.7) < 0.05);
    CHECK(std::fabs(lowest - radius * (std::sqrt(2.0) - 1.0)) < 1e-14);
}

TEST_CASE("wheel gap: level ground, a slope, a corner, by hand", "[analytic]") {
    CHECK(std::fabs(find_wheel_gap({}, upright(3.0, 0.9, 0.5), square_across).gap - 0.4) < 1e-15);
    // On a slope of 30 deg the centre stands r/cos 30 above the ground below it.
    const GroundProfile slope{{Point(-10.0, 0.0), Point(10.0, 20.0 * std::tan(to_radians(30.0)))}};
    CHECK(std::fabs(resting_height(slope, 0.0, 0.5) - (10.0 * std::tan(to_radians(30.0)) + 0.5 / std::cos(to_radians(30.0)))) < 1e-14);
    // Over the edge of a bank: circle about the corner.
    const GroundProfile bank{{Point(0.0, 0.0), Point(0.1, -1.0)}};
    CHECK(std::fabs(resting_height(bank, 0.3, 0.5) - 0.4) < 1e-14);
    const WheelGap g = find_wheel_gap(bank, upright(0.3, 0.4, 0.5), square_across);
    CHECK((g.at - Vector3d(0.0, 0.0, 0.0)).norm() < 1e-12);
}

TEST_CASE("wheel gap: wheels of any attitude against 20000 points of the rim", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    for (int i = 0; i < 150; ++i) {
        GroundProfile p;
        double s = -1.5;
        for (int k = 0; k < 6; ++k) p.corners.emplace_back(s += between(0.05, 0.9), between(-0.5, 0.5));
        const Eigen::Matrix3d body = make_rotation({between(-0.5, 0.5), between(-0.5, 0.5), 0.0});
        const double angle = between(0.2, pi - 0.2), radius = between(0.2, 0.9);
        const Vector3d across(std::sin(angle), -std::cos(angle), 0.0);
        const WheelCircle w{Vector3d(between(-1.5, 1.5), between(-1.0, 1.0), between(0.2, 1.5)), body.col(0), body.col(2), radius};
        double least = 1e9;
        for (int k = 0; k < 20000; ++k) {
            const double t = 2.0 * pi * k / 20000.0;
            const Vector3d at = w.centre + radius * (std::cos(t) * w.along + std::sin(t) * w.up);
            least = std::min(least, at.z() - find_ground_height(p, across.dot(at)));
        }
        const WheelGap g = find_wheel_gap(p, w, across);
        CAPTURE(i, g.gap, least);
        CHECK(g.gap <= least + 1e-12);
        CHECK(g.gap > least - 2e-3);  // steepest side about 20: 0.00016 rad of rim move the gap by less
        CHECK(std::fabs(g.at.z() - find_ground_height(p, across.dot(g.at)) - g.gap) < 1e-9);
        CHECK(std::fabs((g.at - w.centre).norm() - radius) < 1e-12);
    }
}
