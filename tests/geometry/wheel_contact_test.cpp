// Contact of a wheel with the ground: the gap of ground_profile, and its slopes against differences of that gap.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include <Eigen/Geometry>

#include "geometry/angle.h"
#include "geometry/attitude.h"
#include "geometry/wheel_contact.h"

using namespace hitchwright;
using Eigen::Vector3d;

namespace {

WheelCircle turn_about(const WheelCircle& w, const Vector3d& centre, const Vector3d& axis, double angle) {
    const Eigen::AngleAxisd turn(angle, axis);
    return {centre + turn * (w.centre - centre), turn * w.along, turn * w.up, w.radius};
}

}  // namespace

TEST_CASE("wheel contact: a wheel whose end stands over a corner, to the last digit and beside it, has the profile's gap", "[oracle]") {
    const GroundProfile grounds[] = {*make_ditch_profile(0.4, 0.5, to_radians(40.0)), *make_ditch_profile(-0.5, 0.5, to_radians(30.0))};
    const Vector3d across = Vector3d::UnitX();
    for (const GroundProfile& ground : grounds) {
        const WheelGround contacts(ground, across);
        for (const Point& corner : ground.corners) {
            for (const double radius : {0.0, 0.25, 0.5}) {
                for (const double side : {-1.0, 1.0}) {
                    for (const double off : {-1e-6, -2e-9, -1e-9, -1e-10, 0.0, 1e-10, 1e-9, 2e-9, 1e-6}) {
                        const WheelCircle w{{corner.x() + side * radius + off, 0.0, 0.8}, Vector3d::UnitX(), Vector3d::UnitZ(), radius};
                        CAPTURE(corner.x(), radius, side, off);
                        CHECK(std::fabs(contacts.find(w).gap - find_wheel_gap(ground, w, across).gap) < 1e-13);
                    }
                }
            }
        }
    }
}

TEST_CASE("wheel contact: the gap is that of the profile, and its slopes are the differences of it",
          "[oracle][random]") {
    std::mt19937 random(20261128);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const GroundProfile grounds[] = {{},
                                     *make_ditch_profile(0.4, 0.5, to_radians(40.0)),
                                     *make_ditch_profile(-0.5, 0.0, to_radians(30.0)),
                                     {{Point(-1.0, 0.2), Point(-0.3, -0.3), Point(0.1, 0.0), Point(0.8, -0.6)}}};
    int smooth = 0, kinks = 0;
    for (int i = 0; i < 3000; ++i) {
        const GroundProfile& ground = grounds[i % 4];
        const double angle = between(0.3, 2.8);
        const Vector3d across(std::sin(angle), -std::cos(angle), 0.0);
        const Eigen::Matrix3d body = make_rotation({between(-0.4, 0.4), between(-0.3, 0.3), between(-0.3, 0.3)});
        const WheelCircle w{
            {between(-2.0, 2.0), between(-1.0, 1.0), between(0.2, 0.9)}, body.col(0), body.col(2), between(0.3, 0.8)};
        const WheelContact c = WheelGround(ground, across).find(w);
        const auto gap = [&](const WheelCircle& moved) { return find_wheel_gap(ground, moved, across).gap; };
        CAPTURE(i, c.gap);
        CHECK(std::fabs(c.gap - gap(w)) < 1e-13);
        const Vector3d hinge(between(-1.0, 1.0), between(-1.0, 1.0), between(0.0, 1.0));
        const Vector3d axis = Vector3d(between(-1.0, 1.0), between(-1.0, 1.0), between(-1.0, 1.0)).normalized();
        const Vector3d arm = w.centre + c.arm - hinge;
        constexpr double step = 1.0e-6;
        const double slope = c.normal.dot(axis.cross(arm));
        const double ahead = (gap(turn_about(w, hinge, axis, step)) - gap(w)) / step,
                     back = (gap(w) - gap(turn_about(w, hinge, axis, -step))) / step;
        if (std::fabs(ahead - back) >
            1e-3) {  // between two contacts: the gap has a kink, and the slope is that of one of them
            ++kinks;
            continue;
        }
        ++smooth;
        CHECK(std::fabs(slope - 0.5 * (ahead + back)) < 2e-4);
    }
    CHECK((smooth > 2900 && kinks < 100));
}

TEST_CASE("wheel contact: on any ground of straight pieces, straight bends among them, the gap is that of the profile", "[oracle][random]") {
    std::mt19937 random(20261129);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int over_corners = 0, smooth = 0;
    for (int i = 0; i < 20000; ++i) {
        GroundProfile ground;
        double s = between(-2.0, -1.0), z = 0.0;
        const bool straight = i % 5 == 0;  // all bends but the ends are none
        const double slope = between(-2.0, 2.0);
        for (int k = 0; k < 2 + i % 7; ++k) {
            ground.corners.emplace_back(s, z);
            const double run = between(0.001, 0.8);
            s += run;
            z += run * (straight ? slope : between(-3.0, 3.0));
        }
        const double angle = between(0.1, 3.0);
        const Vector3d across(std::sin(angle), -std::cos(angle), 0.0);
        const Eigen::Matrix3d body = make_rotation({between(-0.4, 0.4), between(-0.3, 0.3), between(-0.3, 0.3)});
        const WheelCircle w{{between(-2.5, 2.5), between(-1.0, 1.0), between(-0.5, 1.5)}, body.col(0), body.col(2), i % 11 == 0 ? 0.0 : between(0.01, 1.0)};
        const WheelContact c = WheelGround(ground, across).find(w);
        CAPTURE(i, c.gap);
        CHECK(std::fabs(c.gap - find_wheel_gap(ground, w, across).gap) < 1e-12);
        const Vector3d by = 1.0e-6 * Vector3d(between(-1.0, 1.0), between(-1.0, 1.0), between(-1.0, 1.0));
        const auto gap = [&](const Vector3d& moved) { return find_wheel_gap(ground, {w.centre + moved, w.along, w.up, w.radius}, across).gap; };
        const double ahead = gap(by) - c.gap, back = c.gap - gap(-by);
        if (std::fabs(ahead - back) < 1.0e-9) {  // else at a kink
            ++smooth;
            CHECK(std::fabs(c.normal.dot(by) - 0.5 * (ahead + back)) < 1.0e-9);
        }
        const double at = across.dot(w.centre + c.arm);
        over_corners += std::any_of(ground.corners.begin(), ground.corners.end(), [&](const Point& p) { return std::fabs(p.x() - at) < 1e-12; });
    }
    CHECK(over_corners > 1000);
    CHECK(smooth > 19000);
}
