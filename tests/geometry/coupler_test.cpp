// Quick coupler: where the mast pin comes to rest, the tilt that follows, and the set-up with the coupler switched.
#include "geometry/coupler.h"

#include <catch2/catch.hpp>

#include <cmath>

#include "find_finding.h"
#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Hooks 120 mm behind and 20 mm above the own pins, top hook 610 mm above them, own pin 650 mm up and 60 mm ahead.
Coupler make_coupler() {
    Coupler c;
    c.fitted = true;
    c.name = "coupler";
    c.set_back = known(0.120);
    c.hook_rise = known(0.020);
    c.hook_height = known(0.610);
    c.hook_offset = known(0.0);
    c.pin_height = known(0.650);
    c.pin_offset = known(-0.060);
    return c;
}

Setup make_coupled_setup() {
    Setup s = make_setup_a();
    s.parts.coupler = make_coupler();
    s.choices.upper_link_length = Reading{};
    s.implement.points = {{"lip", known(0.30), known(0.35), known(0.5), true}, {"tail", known(1.6), known(0.1), known(0.5), false}};
    s.implement.ground_contacts = {{"wheel", known(1.5), known(-0.1), known(0.2)}};
    s.driveline.guard_radius = known(0.05);
    s.tractor.tyre.rear_radius = known(0.6);
    return s;
}

/// All numbers of two answers that a coupler could change agree to `margin`.
void check_same_numbers(const Analysis& a, const Analysis& b, double margin) {
    REQUIRE((a.linkage && b.linkage && a.shaft && b.shaft));
    const auto same = [margin](double x, double y) { CHECK(x == Approx(y).epsilon(0).margin(margin)); };
    same(a.linkage->model.linkage.upper_length, b.linkage->model.linkage.upper_length);
    same(a.linkage->pitch.least.value, b.linkage->pitch.least.value);
    same(a.linkage->pitch.greatest.value, b.linkage->pitch.greatest.value);
    same(a.shaft->travel.shortest.value, b.shaft->travel.shortest.value);
    same(a.shaft->travel.longest.value, b.shaft->travel.longest.value);
    same(a.shaft->travel.tractor_angle.value, b.shaft->travel.tractor_angle.value);
    same(a.shaft->travel.implement_angle.value, b.shaft->travel.implement_angle.value);
    REQUIRE(a.clearances.size() == b.clearances.size());
    for (std::size_t i = 0; i < a.clearances.size(); ++i) same(a.clearances[i].least.value, b.clearances[i].least.value);
    REQUIRE(a.ground.size() == b.ground.size());
    for (std::size_t i = 0; i < a.ground.size(); ++i) {
        same(a.ground[i].at_top, b.ground[i].at_top);
        same(a.ground[i].at_working, b.ground[i].at_working);
    }
}

}  // namespace

TEST_CASE("coupler: a mast pin straight over the lower pins sits without tilt, and above the seat by its own height less the hook's",
          "[geometry][coupler][analytic]") {
    const CouplerGeometry c = make_coupler_geometry(make_coupler());
    const CouplerFit exact = fit_coupler(c, Point(0.0, 0.610), 0.0);
    CHECK((exact.seat == MastSeat::held && exact.above_seat == 0.0 && exact.tilt == 0.0));
    const CouplerFit taller = fit_coupler(c, Point(0.0, 0.640), 0.0);
    CHECK(taller.above_seat == Approx(0.030).epsilon(0).margin(1e-15));
    CHECK(taller.tilt == 0.0);
}

TEST_CASE("coupler: an upper pin behind or ahead of the lower pins tilts the implement by the angle it stands off",
          "[geometry][coupler][analytic]") {
    const CouplerGeometry c = make_coupler_geometry(make_coupler());
    // A 3-4-5 mast: the pin 300 mm behind and 400 mm up turns forward to straight up.
    const CouplerFit behind = fit_coupler(c, Point(0.300, 0.400), 1.0);
    CHECK(behind.tilt == Approx(std::atan2(3.0, 4.0)).epsilon(0).margin(1e-15));
    CHECK(behind.above_seat == Approx(0.500 - 0.610).epsilon(0).margin(1e-15));
    CHECK(fit_coupler(c, Point(-0.300, 0.400), 1.0).tilt == Approx(-std::atan2(3.0, 4.0)).epsilon(0).margin(1e-15));
    // With the hook off its lower hooks the height of the mast tilts too.
    CouplerGeometry off = c;
    off.top_hook = Point(0.060, 0.500);
    const double low = fit_coupler(off, Point(0.060, 0.500), 0.0).tilt, high = fit_coupler(off, Point(0.060, 0.700), 0.0).tilt;
    CHECK(low == Approx(0.0).margin(1e-15));
    // A mast of twice the hook's length along the same slope reaches the lip at half the sine.
    const Point twice(0.120, 1.000);
    const double doubled = fit_coupler(off, twice, 0.0).tilt;
    CHECK(doubled == Approx(std::atan2(0.120, 1.000) - std::asin(0.060 / std::hypot(0.120, 1.000))).epsilon(0).margin(1e-15));
    CHECK((std::fabs(high) < 1e-15 && doubled > 0.05));
}

TEST_CASE("coupler: seat of the mast pin is judged on both sides of each limit", "[geometry][coupler][analytic]") {
    CouplerGeometry c = make_coupler_geometry(make_coupler());
    c.hook_depth = 0.040;
    const auto seat = [&c](double height, double error) { return fit_coupler(c, Point(0.0, height), error).seat; };
    CHECK(seat(0.6099, 0.0) == MastSeat::below_seat);
    CHECK(seat(0.6100, 0.0) == MastSeat::held);
    CHECK(seat(0.6499, 0.0) == MastSeat::held);
    CHECK(seat(0.6501, 0.0) == MastSeat::above_lip);
    CHECK(seat(0.6071, 0.003) == MastSeat::held);  // short by less than the readings may be off
    CHECK(seat(0.6069, 0.003) == MastSeat::below_seat);
    CHECK(seat(0.6529, 0.003) == MastSeat::held);
    CHECK(seat(0.6531, 0.003) == MastSeat::above_lip);
    c.hook_depth.reset();
    CHECK(seat(2.0, 0.0) == MastSeat::held);  // nobody says where the lip ends
    c.top_hook.x() = 0.3;
    CHECK(seat(0.2999, 0.0) == MastSeat::beside);
    CHECK(seat(0.0, 0.0) == MastSeat::beside);
}

TEST_CASE("coupler: a fitted one that stands nowhere off changes no number", "[geometry][coupler][metamorphic]") {
    Setup plain = make_coupled_setup();
    plain.parts = {};
    Setup zero = plain;
    zero.parts.coupler = make_coupler();
    zero.parts.coupler.set_back = zero.parts.coupler.hook_rise = zero.parts.coupler.pin_offset = known(0.0);
    zero.parts.coupler.pin_height = zero.parts.coupler.hook_height = known(0.610);
    check_same_numbers(analyze(plain, millimetre_mark), analyze(zero, millimetre_mark), 1e-12);
}

TEST_CASE("coupler: switched off it is the same answer as none at all", "[geometry][coupler][metamorphic]") {
    Setup off = make_coupled_setup(), absent = off;
    off.parts.coupler.fitted = false;
    absent.parts = {};
    const Analysis a = analyze(off, millimetre_mark), b = analyze(absent, millimetre_mark);
    CHECK(a.findings == b.findings);
    CHECK(a.part_effects.empty());
    check_same_numbers(a, b, 0.0);
    CHECK(analyze(make_coupled_setup(), millimetre_mark).findings != b.findings);  // and on it is not
}

TEST_CASE("coupler: without tilt it is an implement moved back and up with its mast pin at the coupler's", "[geometry][coupler][metamorphic]") {
    const Setup coupled = make_coupled_setup();
    Setup moved = coupled;
    moved.parts = {};
    moved.implement.mast_pins = {{"1", known(0.650), known(-0.060)}};
    const auto shift = [](Reading& x, Reading& z) { x.value += 0.120, z.value += 0.020; };
    shift(moved.implement.pic.x, moved.implement.pic.z);
    for (ImplementPoint& p : moved.implement.points) shift(p.x, p.z);
    for (GroundContact& c : moved.implement.ground_contacts) shift(c.x, c.z);
    check_same_numbers(analyze(coupled, millimetre_mark), analyze(moved, millimetre_mark), 1e-12);
}

TEST_CASE("coupler: a mast that does not reach the hook forbids and says by how much", "[geometry][coupler][analytic]") {
    Setup s = make_coupled_setup();
    s.implement.mast_pins = {{"low", known(0.560), known(0.0)}, {"high", known(0.615), known(0.0)}};
    s.choices.mast_pin = "low";
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find_finding(a, FindingKind::coupler_seat);
    REQUIRE(f);
    CHECK((f->severity == Severity::forbids && f->other == "below_seat" && a.verdict == Verdict::must_not_run));
    CHECK(f->value == Approx(-0.050).epsilon(0).margin(1e-12));
    REQUIRE_FALSE(f->remedies.empty());
    CHECK((f->remedies.front().kind == RemedyKind::other_mast_pin && f->remedies.front().subject == "high"));
    s.choices.mast_pin = "high";
    const Analysis held = analyze(s, millimetre_mark);
    REQUIRE(find_finding(held, FindingKind::coupler_seat));
    const Finding& open = *find_finding(held, FindingKind::coupler_seat);  // 5 mm up, depth of the hook not known
    CHECK(open.severity == Severity::unknown);
    CHECK(open.other == "depth_unknown");
    CHECK(find_verdict({open}) == Verdict::not_known);  // by itself: in this set-up the shaft is too short as well
    CHECK((open.remedies.size() == 1 && open.remedies[0].subject == "coupler.hook_depth"));
    s.implement.mast_pins[1].height = known(0.610);  // at its seat: nothing to ask
    CHECK(find_finding(analyze(s, millimetre_mark), FindingKind::coupler_seat)->severity == Severity::good);
    s.implement.mast_pins[1].height = known(0.615);
    s.parts.coupler.hook_depth = known(0.030);
    CHECK(find_finding(analyze(s, millimetre_mark), FindingKind::coupler_seat)->severity == Severity::good);
    s.parts.coupler.hook_depth = known(0.004);
    CHECK(find_finding(analyze(s, millimetre_mark), FindingKind::coupler_seat)->severity == Severity::forbids);
}

TEST_CASE("coupler: each reading it cannot do without is asked for, and only while it is fitted", "[geometry][coupler][analytic]") {
    Setup s = make_coupled_setup();
    for (Reading* r : {&s.parts.coupler.set_back, &s.parts.coupler.hook_height, &s.parts.coupler.pin_height}) {
        Reading kept = *r;
        *r = Reading{};
        s.parts.coupler.fitted = true;
        CHECK(analyze(s, millimetre_mark).verdict == Verdict::not_known);
        s.parts.coupler.fitted = false;
        CHECK(analyze(s, millimetre_mark).linkage.has_value());
        *r = kept;
    }
}

TEST_CASE("coupler: its body turns as one by the tilt", "[geometry][coupler][analytic]") {
    const CouplerGeometry c = make_coupler_geometry(make_coupler());
    const double tilt = 0.2;
    const auto turned = [&](const Point& p) {
        return Point(std::cos(tilt) * p.x() + std::sin(tilt) * p.y(), -std::sin(tilt) * p.x() + std::cos(tilt) * p.y());
    };
    const CoupledBody level = make_coupled_body(c, 0.0), body = make_coupled_body(c, tilt);
    CHECK((level.lower_hook == c.lower_hook && level.top_hook == Point(c.lower_hook + c.top_hook)));
    CHECK((body.upper_link_pin - turned(level.upper_link_pin)).norm() < 1e-15);
    CHECK((body.lower_hook - turned(level.lower_hook)).norm() < 1e-15);
    CHECK((body.top_hook - turned(level.top_hook)).norm() < 1e-15);
}
