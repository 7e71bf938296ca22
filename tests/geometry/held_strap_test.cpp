// Swing strap with stops: link length for the working pitch, poses, raised points and pitch range.
// Second route: strap angle scanned in small steps, each as a rigid mast, its pitch found by halving the closure
// |U - (H + R(p) B)| = e; no code of the library but the angle conversions.
#include "geometry/held_strap.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "find_finding.h"
#include "geometry/angle.h"
#include "geometry/hole_numbers.h"
#include "geometry/pose_report.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double strap_length = 0.120;

Setup make_strap_setup(double low_degrees, double high_degrees) {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::swing_strap, Reading{}, known(strap_length)};
    s.implement.upper_link_float.strap_stop_low = known(to_radians(low_degrees));
    s.implement.upper_link_float.strap_stop_high = known(to_radians(high_degrees));
    s.choices.upper_link_length = Reading{};
    s.choices.working_pitch = known(to_radians(1.0));
    return s;
}

MountedModel model_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    return r.model;
}

struct Ball {
    double x = 0.0, z = 0.0;
};

Ball find_ball(const MountedModel& m, double height) {
    const double up = height - m.linkage.lower_pivot.y();
    return {m.linkage.lower_pivot.x() + std::sqrt(m.linkage.lower_length * m.linkage.lower_length - up * up), height};
}

/// Distance from the upper-link pin to the strap's outer pin at a pitch.
double find_reach(const MountedModel& m, double height, double strap_angle, double pitch) {
    const Ball ball = find_ball(m, height);
    const double bx = m.linkage.mast_pin.x() + strap_length * std::cos(strap_angle);
    const double bz = m.linkage.mast_pin.y() + strap_length * std::sin(strap_angle);
    const double x = ball.x + bx * std::cos(pitch) - bz * std::sin(pitch) - m.linkage.upper_pin.x();
    const double z = ball.z + bx * std::sin(pitch) + bz * std::cos(pitch) - m.linkage.upper_pin.y();
    return std::hypot(x, z);
}

/// Pitch at which the link reaches the strap, on the working branch (the reach falls as the rear rises), by halving.
double find_pitch(const MountedModel& m, double height, double strap_angle) {
    double low = -0.9, high = 0.9;
    REQUIRE(find_reach(m, height, strap_angle, low) > m.linkage.upper_length);
    REQUIRE(find_reach(m, height, strap_angle, high) < m.linkage.upper_length);
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (find_reach(m, height, strap_angle, middle) > m.linkage.upper_length ? low : high) = middle;
    }
    return low;
}

struct Range {
    double low = 1e9, high = -1e9;
};

Range scan_strap(const MountedModel& m, double height, int steps) {
    Range r;
    for (int i = 0; i <= steps; ++i) {
        const double angle = m.strap_stop_low + (m.strap_stop_high - m.strap_stop_low) * i / steps;
        const double pitch = find_pitch(m, height, angle);
        r = {std::min(r.low, pitch), std::max(r.high, pitch)};
    }
    return r;
}

}  // namespace

TEST_CASE("held strap: the link set for a working pitch gives it with the strap half way between its stops",
          "[geometry][float][oracle]") {
    for (const auto& stops : {std::pair{60.0, 120.0}, {40.0, 80.0}, {130.0, 170.0}}) {
        CAPTURE(stops.first, stops.second);
        const MountedModel m = model_of(make_strap_setup(stops.first, stops.second));
        const double middle = to_radians(0.5 * (stops.first + stops.second));
        CHECK(std::fabs(find_pitch(m, m.working_height, middle) - to_radians(1.0)) < 1e-9);
        CHECK(std::fabs(make_pose_report(make_strap_setup(stops.first, stops.second), m, m.working_height).pose.pitch -
                        to_radians(1.0)) < 1e-9);
        const Range r = scan_strap(m, m.working_height, 200);
        CHECK(r.low < to_radians(1.0));
        CHECK(r.high > to_radians(1.0));
    }
}

TEST_CASE("held strap: stops one turn apart leave the length as without stops", "[geometry][float][metamorphic]") {
    Setup open = make_strap_setup(-180.0, 180.0);
    const double turned = model_of(open).linkage.upper_length;
    open.implement.upper_link_float.strap_stop_low = open.implement.upper_link_float.strap_stop_high = Reading{};
    CHECK(std::fabs(turned - model_of(open).linkage.upper_length) < 1e-12);
}

TEST_CASE("held strap: a length set by hand is corrected to the one that gives the pitch", "[geometry][float][residual]") {
    Setup s = make_strap_setup(40.0, 80.0);
    const double right = model_of(s).linkage.upper_length;
    s.choices.upper_link_length = known(right + 0.030);
    const Analysis a = answer(s);
    double advised = 0.0;
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::working_pitch) continue;
        for (const Remedy& r : f.remedies) {
            if (r.kind == RemedyKind::set_upper_link) advised = r.value;
        }
    }
    CHECK(std::fabs(advised - right) < 1e-9);
}

TEST_CASE("held strap: raised it hangs at the least pitch a scan of the strap finds", "[geometry][float][oracle]") {
    for (const auto& stops : {std::pair{60.0, 120.0}, {40.0, 80.0}, {130.0, 170.0}}) {
        CAPTURE(stops.first, stops.second);
        Setup s = make_strap_setup(stops.first, stops.second);
        s.implement.points = {};
        ImplementPoint tail;
        tail.name = "tail";
        tail.x = known(1.500);
        tail.z = known(-0.100);
        s.implement.points.push_back(tail);
        const MountedModelResult result = make_mounted_model(s);
        REQUIRE(result.linkage_ok);
        const MountedModel& m = result.model;
        const double top = m.travel.high;
        // A step of 0.2 deg misses the in-line extreme by w (step/2)^2/2 = 2e-7 m, some 1e-6 rad.
        const double lowest = scan_strap(m, top, 300).low;
        CHECK(std::fabs(make_pose_report(s, m, top).pose.pitch - lowest) < 5e-6);
        const HoleNumbers row = find_hole_numbers(s, result, {m.tractor_pin, m.mast_pin}, millimetre_mark);
        REQUIRE(row.tail);
        CHECK(std::fabs(row.tail->height - (top + 1.500 * std::sin(lowest) - 0.100 * std::cos(lowest))) < 1e-5);
    }
}

TEST_CASE("held strap: the pitch range over the travel is that of a grid of heights and strap angles",
          "[geometry][float][oracle]") {
    for (const auto& stops : {std::pair{60.0, 120.0}, {40.0, 80.0}, {100.0, 190.0}}) {
        CAPTURE(stops.first, stops.second);
        const Setup s = make_strap_setup(stops.first, stops.second);
        const MountedModel m = model_of(s);
        Range grid;
        for (int i = 0; i <= 150; ++i) {
            const double height = m.travel.low + (m.travel.high - m.travel.low) * i / 150;
            const Range r = scan_strap(m, height, 90);
            grid = {std::min(grid.low, r.low), std::max(grid.high, r.high)};
        }
        const PitchExtremes found = answer(s).linkage->pitch;
        // Nothing of the grid lies beyond the bounds, and the grid comes as near as its steps allow.
        CHECK(found.least.bound <= grid.low + 1e-9);
        CHECK(found.greatest.bound >= grid.high - 1e-9);
        CHECK(found.least.value > grid.low - 5e-4);
        CHECK(found.greatest.value < grid.high + 5e-4);
    }
}
