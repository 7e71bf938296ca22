// A coupler as two bodies one after the other, against the one body that the program makes of coupler and implement.
//
// second method: (1) ball from the lower link's circle, the coupler's own pin where the circle of the upper link meets the
//   circle of the coupler, intersected here; the implement then turned about the lower hooks, by bisection, until its mast pin lies
//   on the lip of the top hook; (2) the coupler assembled by Simbody, a general multibody solver
// tolerance: 1e-9 m and rad for (1): bisection to the last bit on a lever of 0.3 m and more; 1e-11 rad for the coupler's pitch
//   by (2), as in linkage_simbody_test.cpp
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/analysis.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/simbody_linkage.h"

using namespace hitchwright;
using hitchwright::test::known;
using hitchwright::test::make_setup_a;

namespace {

/// A vector of the side view turned from +x to +z.
Point turned(const Point& v, double a) {
    return Point(v.x() * std::cos(a) - v.y() * std::sin(a), v.x() * std::sin(a) + v.y() * std::cos(a));
}

/// The higher of the points where two circles meet.
Point meet_above(const Point& a, double ra, const Point& b, double rb) {
    const Point d = b - a;
    const double length = std::hypot(d.x(), d.y());
    const double along = (ra * ra - rb * rb + length * length) / (2.0 * length);
    const double across = std::sqrt(ra * ra - along * along);
    const Point foot = a + d * (along / length), side = Point(-d.y(), d.x()) * (across / length);
    const Point p = foot + side, q = foot - side;
    return p.y() > q.y() ? p : q;
}

struct TwoBodies {
    double coupler_pitch = 0.0, implement_pitch = 0.0, shaft = 0.0;
    Point ball, hook;
};

/// Ball, coupler, implement and shaft one after the other.
TwoBodies assemble(const Setup& s, double lower, double upper, double height) {
    const Coupler& c = s.parts.coupler;
    const LowerLinkReadings& l = s.tractor.lower_link;
    TwoBodies t;
    const double rise = height - l.pivot_z.value;
    t.ball = Point(l.pivot_x.value + std::sqrt(lower * lower - rise * rise), height);
    const Point own(c.pin_offset.value, c.pin_height.value);
    const NamedPoint& u = s.tractor.upper_link_pins[0];
    const Point pin = meet_above(Point(u.x.value, u.z.value), upper, t.ball, std::hypot(own.x(), own.y()));
    t.coupler_pitch = std::atan2(pin.y() - t.ball.y(), pin.x() - t.ball.x()) - std::atan2(own.y(), own.x());
    t.hook = t.ball + turned(Point(c.set_back.value, c.hook_rise.value), t.coupler_pitch);
    const Point mast(s.implement.mast_pins[0].offset.value, s.implement.mast_pins[0].height.value);
    // Behind the lip while the rear hangs, ahead of it once the rear is high.
    double low = t.coupler_pitch - 1.0, high = t.coupler_pitch + 1.0;
    for (int i = 0; i < 200; ++i) {
        const double middle = 0.5 * (low + high);
        const Point from_hook = turned(turned(mast, middle), -t.coupler_pitch);
        (from_hook.x() > c.hook_offset.value ? low : high) = middle;
    }
    t.implement_pitch = low;
    const PicReadings& pic = s.implement.pic;
    const Point end = t.hook + turned(Point(pic.x.value - s.driveline.implement_joint.offset.value, pic.z.value), t.implement_pitch);
    const PtoReadings& pto = s.tractor.pto;
    t.shaft = std::hypot(end.x() - pto.stub_x.value - s.driveline.tractor_joint.offset.value, end.y() - pto.stub_z.value);
    return t;
}

Setup make_random_coupled(std::mt19937& random) {
    const auto draw = [&random](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    Setup s = make_setup_a();
    Coupler& c = s.parts.coupler;
    c.fitted = true;
    c.set_back = known(draw(0.02, 0.25));
    c.hook_rise = known(draw(-0.08, 0.08));
    c.hook_height = known(draw(0.40, 0.60));
    c.hook_offset = known(draw(-0.10, 0.10));
    c.pin_height = known(draw(0.50, 0.70));
    c.pin_offset = known(draw(-0.12, 0.05));
    s.implement.mast_pins = {{"1", known(draw(0.62, 0.70)), known(draw(-0.15, 0.15))}};
    s.implement.points = {{"tail", known(draw(0.8, 2.0)), known(draw(-0.3, 0.6)), Reading{}, false}};
    s.choices.upper_link_length = Reading{};
    s.choices.working_pitch = known(draw(-0.05, 0.05));
    return s;
}

}  // namespace

TEST_CASE("coupler: 60 random ones against coupler and implement put together one after the other", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    int poses = 0;
    double worst_tilt = 0.0;
    for (int i = 0; i < 60; ++i) {
        const Setup s = make_random_coupled(random);
        const MountedModelResult r = make_mounted_model(s);
        REQUIRE(r.linkage_ok);
        const MountedModel& m = r.model;
        REQUIRE(m.has_shaft);
        const Point tail(s.implement.points[0].x.value, s.implement.points[0].z.value);
        for (int k = 0; k <= 4; ++k) {
            const double h = m.travel.low + (m.travel.high - m.travel.low) * k / 4.0;
            const PoseReport p = make_pose_report(s, m, h);
            REQUIRE(p.pose.closes);
            const TwoBodies t = assemble(s, m.linkage.lower_length, m.linkage.upper_length, h);
            CAPTURE(i, h, t.coupler_pitch, t.implement_pitch);
            CHECK(std::fabs(p.pose.pitch - t.implement_pitch) < 1e-9);
            CHECK(std::fabs(p.shaft_length - t.shaft) < 1e-9);
            const Point at = place_point(p.pose, find_body_point(m, s.implement.points[0].x, s.implement.points[0].z));
            CHECK((at - (t.hook + turned(tail, t.implement_pitch))).norm() < 1e-9);
            CHECK((p.pose.ball - t.ball).norm() < 1e-9);
            worst_tilt = std::max(worst_tilt, std::fabs(m.coupler_fit.tilt));
            ++poses;
        }
        // The link that gives the working pitch gives it to the implement, not to the coupler.
        const TwoBodies work = assemble(s, m.linkage.lower_length, m.linkage.upper_length, m.working_height);
        CHECK(std::fabs(work.implement_pitch - s.choices.working_pitch.value) < 1e-9);
    }
    CHECK((poses == 300 && worst_tilt > 0.1));
}

TEST_CASE("coupler: its pitch by a multibody solver, and the implement's by the tilt in the hooks", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    for (int i = 0; i < 12; ++i) {
        const Setup s = make_random_coupled(random);
        const MountedModelResult r = make_mounted_model(s);
        REQUIRE(r.linkage_ok);
        const PlanarLinkage& k = r.model.linkage;
        const double h = r.model.working_height;
        const PoseReport p = make_pose_report(s, r.model, h);
        const Coupler& c = s.parts.coupler;
        const validation::SimbodyLinkage coupler{k.lower_pivot.x(), k.lower_pivot.y(), k.lower_length, k.upper_pin.x(), k.upper_pin.y(),
                                                 k.upper_length, c.pin_offset.value, c.pin_height.value, h};
        const auto solved = validation::assemble_with_simbody(coupler, p.pose.lower_link_angle + 0.1,
                                                              p.pose.pitch - r.model.coupler_fit.tilt + 0.1);
        REQUIRE(solved.assembled);
        CAPTURE(i, solved.pitch);
        CHECK(std::fabs(solved.pitch + r.model.coupler_fit.tilt - p.pose.pitch) < 1e-11);
    }
}
