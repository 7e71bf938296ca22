// The rig across a ditch: level ground, contacts on the surface, the plane by another route, mirrored twins.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "geometry/angle.h"
#include "geometry/terrain.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;
using Eigen::Vector3d;

namespace {

TerrainRig make_rig(const Setup& s = make_drawn_setup()) {
    const TerrainRigResult r = make_terrain_rig(s, make_drawn_model(s).model);
    REQUIRE(r.missing.empty());
    return r.rig;
}

GroundProfile ditch(double depth, double bottom, double slope_deg) { return make_ditch_profile(depth, bottom, to_radians(slope_deg)).value(); }

/// Second route for a square crossing, in side view: the offset curve by sampling the ground, bars by bisection.
class SideRoute {
public:
    SideRoute(const TerrainRig& rig, const GroundProfile& ground) : rig_(rig), ground_(ground) {}

    /// Height of a wheel's centre at x: the highest that any point of the ground under it asks for.
    double offset_curve(double x, double radius) const {
        double most = -1e9;
        const int points = 40000;
        for (int i = -points; i <= points; ++i) {
            const double away = radius * i / points;
            most = std::max(most, find_ground_height(ground_, x + away) + std::sqrt(radius * radius - away * away));
        }
        for (const Point& corner : ground_.corners) {
            const double away = corner.x() - x;
            if (std::fabs(away) <= radius) most = std::max(most, corner.y() + std::sqrt(radius * radius - away * away));
        }
        return most;
    }
    /// Pitch of a bar from a held point to a wheel at (along, up) in its own axes.
    double tip(double x, double z, double along, double up, double radius) const {
        const auto above = [&](double p) {
            const double wx = x + along * std::cos(p) - up * std::sin(p), wz = z + along * std::sin(p) + up * std::cos(p);
            return (wz - offset_curve(wx, radius)) * (along > 0.0 ? 1.0 : -1.0);
        };
        double low = -0.8, high = 0.8;
        for (int i = 0; i < 40; ++i) (above(0.5 * (low + high)) > 0.0 ? high : low) = 0.5 * (low + high);
        return 0.5 * (low + high);
    }
    double relative_pitch(double place) const {
        const double height = offset_curve(place, rig_.rear_radius);
        const double t = tip(place, height, -rig_.wheelbase, rig_.front_radius - rig_.rear_radius, rig_.front_radius);
        const double up = rig_.pin.z() - rig_.rear_radius;
        const double x = place + rig_.pin.x() * std::cos(t) - up * std::sin(t), z = height + rig_.pin.x() * std::sin(t) + up * std::cos(t);
        return tip(x, z, rig_.axles[0].x, rig_.axles[0].z, rig_.axles[0].radius) - t;
    }

private:
    const TerrainRig& rig_;
    const GroundProfile& ground_;
};

}  // namespace

TEST_CASE("terrain: on level ground, and in a ditch without depth, nothing changes", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.drawbar.top_height = known(0.530);  // the frame dips: the level attitude is not zero
    const DrawnModel m = make_drawn_model(s).model;
    const TerrainRig rig = make_terrain_rig(s, m).rig;
    REQUIRE(std::fabs(m.level_pitch) > 0.02);
    const GroundProfile flat{{Point(-1.0, 0.0), Point(0.0, 0.0), Point(2.0, 0.0)}};
    for (const GroundProfile& ground : {GroundProfile{}, flat, make_ditch_profile(0.0, 0.7, 0.8).value(), scale_heights(ditch(0.5, 1.0, 40.0), 0.0)}) {
        for (const double angle : {90.0, 50.0, 140.0}) {
            for (const double place : {3.0, 0.4, -0.8, -4.0}) {
                const TerrainPose p = solve_terrain_pose(rig, {ground, to_radians(angle)}, place);
                REQUIRE(p.stands);
                CHECK(std::fabs(p.height - 0.740) < 1e-12);
                CHECK((std::fabs(p.tractor.pitch) < 1e-12 && std::fabs(p.tractor.roll) < 1e-12 && std::fabs(p.front_rock) < 1e-12));
                CHECK(std::fabs(p.relative.pitch - m.level_pitch) < 1e-11);
                CHECK((std::fabs(p.relative.yaw) < 1e-12 && std::fabs(p.relative.roll) < 1e-12));
                const double length = find_driveline_state(m, p.relative).length, level = find_driveline_state(m, {m.level_pitch, 0.0, 0.0}).length;
                CHECK(std::fabs(length - level) < 1e-11);
            }
        }
    }
}

TEST_CASE("terrain: every wheel touches the surface, none is in it", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const TerrainRig rig = make_rig();
    int stood = 0, all = 0;
    for (int i = 0; i < 60; ++i) {
        Crossing c{ditch(between(-0.5, 0.8), between(0.0, 2.0), between(10.0, 60.0)), to_radians(between(30.0, 150.0))};
        if (i % 3 == 0) c.profile = {{Point(-1.2, 0.0), Point(-0.3, between(-0.6, 0.3)), Point(0.4, between(-0.6, 0.3)), Point(1.6, between(-0.3, 0.3))}};
        const WayRange way = find_way(rig, c);
        const Vector3d across(std::sin(c.angle), -std::cos(c.angle), 0.0);
        for (int k = 0; k < 12; ++k) {
            const TerrainPose p = solve_terrain_pose(rig, c, between(way.last, way.first));
            ++all;
            if (!p.stands) continue;
            ++stood;
            CAPTURE(i, k, p.place, p.steps);
            for (const StandingWheel& w : list_wheels(rig, c, p)) {
                CAPTURE(w.name, w.gap);
                CHECK(std::fabs(w.gap) < 1e-10);
                CHECK(std::fabs(w.touches.z() - find_ground_height(c.profile, across.dot(w.touches))) < 1e-6);
                for (int t = 0; t < 400; ++t) {
                    const Vector3d at = w.circle.centre + w.circle.radius * (std::cos(t * pi / 200.0) * w.circle.along + std::sin(t * pi / 200.0) * w.circle.up);
                    if (at.z() < find_ground_height(c.profile, across.dot(at)) - 1e-9) FAIL("a wheel is in the ground");
                }
            }
            // Rigid rig: wheels at their distances, the pin on the drawbar.
            const std::vector<StandingWheel> w = list_wheels(rig, c, p);
            CHECK(std::fabs((w[1].circle.centre - w[0].circle.centre).norm() - 1.6) < 1e-12);
            CHECK(std::fabs((w[3].circle.centre - w[2].circle.centre).norm() - 1.5) < 1e-12);
            CHECK(std::fabs((w[5].circle.centre - p.pin).norm() - std::sqrt(3.5 * 3.5 + 1.2 * 1.2 + 0.1 * 0.1)) < 1e-12);
        }
    }
    CHECK(all == 720);
    CHECK(stood == all);
}

TEST_CASE("terrain: a square crossing in side view by another route", "[oracle]") {
    const TerrainRig rig = make_rig();
    for (const double depth : {0.5, -0.3}) {
        const GroundProfile ground = ditch(depth, 0.6, 35.0);
        const SideRoute route(rig, ground);
        for (const double place : {2.3, 1.1, 0.2, -0.4, -1.7, -3.9}) {
            const TerrainPose p = solve_terrain_pose(rig, {ground, 0.5 * pi}, place);
            CAPTURE(depth, place);
            REQUIRE(p.stands);
            CHECK(std::fabs(p.relative.pitch - route.relative_pitch(place)) < 1e-8);
            CHECK(std::fabs(p.relative.pitch - (p.implement.pitch - p.tractor.pitch)) < 1e-12);
            CHECK((std::fabs(p.relative.roll) < 1e-9 && std::fabs(p.relative.yaw) < 1e-9 && std::fabs(p.tractor.roll) < 1e-9));
        }
    }
}

TEST_CASE("terrain: a step under the right side rolls the tractor by its height over the track", "[analytic]") {
    // The way runs along a bank nearly parallel to it: right wheels on the ground 0.1 m higher, all level fore and aft.
    const GroundProfile bank{{Point(-0.2, 0.1), Point(0.2, 0.0)}};
    const TerrainRig rig = make_rig();
    const TerrainPose p = solve_terrain_pose(rig, {bank, 1e-6}, 0.0);  // s = -Y: to the right is -s, the high side
    REQUIRE(p.stands);
    // Thin wheels 1.6 m apart; rolled wheels shorten r by cos on both sides alike.
    CHECK(std::fabs(std::sin(p.tractor.roll) - 0.1 / 1.6) < 1e-6);
    CHECK(std::fabs(std::sin(p.tractor.roll + p.front_rock) - 0.1 / 1.5) < 1e-6);
    CHECK(std::fabs(std::sin(p.implement.roll) - 0.1 / 2.4) < 2e-5);  // over cos(pitch)
    CHECK(std::fabs(p.tractor.pitch) < 2e-3);
}

TEST_CASE("terrain: the mirrored crossing has roll and yaw turned round", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const TerrainRig rig = make_rig();
    const GroundProfile ground{{Point(-1.2, 0.0), Point(-0.3, -0.5), Point(0.4, -0.4), Point(1.6, 0.1)}};
    for (int i = 0; i < 30; ++i) {
        const double angle = std::uniform_real_distribution<double>(0.6, 1.5)(random), place = std::uniform_real_distribution<double>(-5.0, 3.0)(random);
        const TerrainPose a = solve_terrain_pose(rig, {ground, angle}, place), b = solve_terrain_pose(rig, {ground, pi - angle}, place);
        REQUIRE((a.stands && b.stands));
        CHECK(std::fabs(a.relative.pitch - b.relative.pitch) < 1e-8);
        CHECK(std::fabs(a.relative.roll + b.relative.roll) < 1e-8);
        CHECK(std::fabs(a.relative.yaw + b.relative.yaw) < 1e-8);
    }
}

TEST_CASE("terrain: of two axles the implement rests on those that come first", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.ground_contacts.push_back({"second", known(4.400), known(-0.100), known(0.350), known(1.200)});
    const TerrainRig rig = make_rig(s);
    const Crossing c{ditch(0.4, 1.0, 30.0), to_radians(70.0)};
    int front = 0, rear = 0;
    for (double place = -6.0; place < 3.0; place += 0.25) {
        const TerrainPose p = solve_terrain_pose(rig, c, place);
        REQUIRE(p.stands);
        const std::vector<StandingWheel> w = list_wheels(rig, c, p);
        for (const std::size_t side : {4u, 5u}) {
            CHECK(std::min(w[side].gap, w[side + 2].gap) > -1e-10);
            CHECK(std::fabs(std::min(w[side].gap, w[side + 2].gap)) < 1e-10);
            front += w[side].gap < w[side + 2].gap - 1e-4;
            rear += w[side + 2].gap < w[side].gap - 1e-4;
        }
    }
    CHECK((front > 0 && rear > 0));
}

TEST_CASE("terrain: the relative attitude is the one that carries implement axes into the tractor's", "[random][analytic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto angle = [&] { return std::uniform_real_distribution<double>(-0.7, 0.7)(random); };
    for (int i = 0; i < 100; ++i) {
        const Attitude t{angle(), angle(), angle()}, m{angle(), angle(), angle()};
        const Attitude r = find_relative_attitude(t, m);
        CHECK((make_rotation(t) * make_rotation(r) - make_rotation(m)).norm() < 1e-13);
    }
    const Attitude square = find_relative_attitude({0.2, 0.0, 0.0}, {-0.1, 0.0, 0.0});
    CHECK((std::fabs(square.pitch + 0.3) < 1e-15 && std::fabs(square.roll) < 1e-15));
}

TEST_CASE("terrain: nothing stands on its side or back, however wild the rig and the ground", "[random]") {
    std::mt19937 random(7);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const Setup s = make_drawn_setup();
    const TerrainRig usual = make_terrain_rig(s, make_drawn_model(s).model).rig;
    int standing = 0;
    for (int i = 0; i < 4000; ++i) {
        TerrainRig rig = usual;
        rig.rear_half_track = between(0.5, 1.1);
        rig.front_half_track = between(0.4, 1.0);
        rig.axles.clear();
        for (int k = static_cast<int>(between(1.0, 4.0)); k > 0; --k)
            rig.axles.push_back({between(1.0, 5.0), between(-0.4, 0.1), between(0.05, 1.8), between(0.1, 0.6)});
        GroundProfile ground;
        double x = -1.0;
        for (int k = static_cast<int>(between(2.0, 8.0)); k > 0; --k, x += between(0.02, 0.8)) ground.corners.emplace_back(x, between(-0.75, 0.75));
        const Crossing crossing{ground, i % 2 == 0 ? to_radians(between(20.0, 160.0)) : 0.5 * std::numbers::pi};
        const WayRange way = find_way(rig, crossing);
        const TerrainPose pose = solve_terrain_pose(rig, crossing, between(way.last, way.first), nullptr);
        if (!pose.stands) continue;
        ++standing;
        CAPTURE(i);
        for (const Attitude& a : {pose.tractor, pose.implement})
            CHECK(std::max(std::fabs(a.pitch), std::fabs(a.roll)) < 0.5 * std::numbers::pi);
    }
    CHECK(standing > 3900);
}

TEST_CASE("terrain: what is missing for the rig is named", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.tyre.rear_track = Reading{};
    s.tractor.front_axle = {};
    s.implement.ground_contacts[0].half_track = Reading{};
    const TerrainRigResult r = make_terrain_rig(s, make_drawn_model(s).model);
    for (const char* key : {"tractor.tyre.rear_track", "tractor.tyre.front_track", "tractor.tyre.front_pivot_height",
                            "implement.ground_contact[wheels].half_track"}) {
        CHECK(std::find(r.missing.begin(), r.missing.end(), key) != r.missing.end());
    }
    s.implement.ground_contacts.clear();
    const std::vector<std::string> none = make_terrain_rig(s, make_drawn_model(s).model).missing;
    CHECK(std::find(none.begin(), none.end(), "implement.ground_contact") != none.end());
}
