// Link extender, overrunning clutch and spline extender: each against the same set-up with the length written into it.
#include "geometry/add_on_lengths.h"

#include <catch2/catch.hpp>

#include <cmath>

#include "find_finding.h"
#include "geometry/analysis.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

PtoAddOn make_add_on(double length) { return {true, "", "", known(length)}; }

const MountedModel& model_of(const Analysis& a) {
    REQUIRE(a.linkage);
    return a.linkage->model;
}

}  // namespace

TEST_CASE("clutch and spline extender: they are so much more joint offset, one behind the other", "[geometry][add_on][metamorphic]") {
    Setup fitted = make_setup_a(), longer = fitted;
    fitted.parts.overrunning_clutch = make_add_on(0.070);
    fitted.parts.spline_extender = make_add_on(0.050);
    longer.driveline.tractor_joint.offset = known(0.150);
    const Analysis a = analyze(fitted, millimetre_mark), b = analyze(longer, millimetre_mark);
    REQUIRE((a.shaft && b.shaft));
    CHECK(a.shaft->travel.shortest.value == Approx(b.shaft->travel.shortest.value).epsilon(0).margin(1e-12));
    CHECK(a.shaft->travel.longest.value == Approx(b.shaft->travel.longest.value).epsilon(0).margin(1e-12));
    CHECK(a.shaft->travel.tractor_angle.value == Approx(b.shaft->travel.tractor_angle.value).epsilon(0).margin(1e-12));
    const Analysis none = analyze(make_setup_a(), millimetre_mark);
    CHECK(none.shaft->travel.shortest.value - a.shaft->travel.shortest.value > 0.100);
}

TEST_CASE("add-on parts: switched off, or of no length, they change nothing", "[geometry][add_on][metamorphic]") {
    Setup s = make_setup_a();
    const Analysis none = analyze(s, millimetre_mark);
    s.parts.overrunning_clutch = {false, "", "", known(0.07)};
    s.parts.spline_extender = {false, "", "", known(0.07)};
    s.parts.link_extender = {false, "", "", known(0.1)};
    CHECK(analyze(s, millimetre_mark).findings == none.findings);
    CHECK(model_of(analyze(s, millimetre_mark)).linkage.lower_length == model_of(none).linkage.lower_length);
    s.parts.overrunning_clutch = s.parts.spline_extender = make_add_on(0.0);
    s.parts.link_extender = {true, "", "", known(0.0)};
    CHECK(analyze(s, millimetre_mark).findings == none.findings);
    CHECK(analyze(s, millimetre_mark).part_effects.size() == 3);
}

TEST_CASE("link extender: with arm and rod measured it is a longer lower link", "[geometry][add_on][metamorphic]") {
    Setup fitted = make_setup_a();
    fitted.tractor.travel = {};
    add_lift_a(fitted.tractor, -30.0, 35.0);
    Setup longer = fitted;
    fitted.parts.link_extender = {true, "", "", known(0.120)};
    longer.tractor.lower_link.length.value += 0.120;
    const MountedModel a = model_of(analyze(fitted, millimetre_mark)), b = model_of(analyze(longer, millimetre_mark));
    CHECK(a.linkage.lower_length == Approx(b.linkage.lower_length).epsilon(0).margin(1e-15));
    CHECK(a.travel.low == Approx(b.travel.low).epsilon(0).margin(1e-12));
    CHECK(a.travel.high == Approx(b.travel.high).epsilon(0).margin(1e-12));
    CHECK_FALSE(a.travel_moved_by_extender);
}

TEST_CASE("link extender: heights taped without it are carried over to within 3 mm of what arm and rod give", "[geometry][add_on][oracle]") {
    // Second route: the lift linkage solved with the longer link. The carry-over leaves out that the longer link lies at
    // another spread, which moves the rod's pin; 2.5 mm at the top of this linkage, whose links spread widely.
    Setup arm = make_setup_a();
    arm.tractor.travel = {};
    add_lift_a(arm.tractor, -30.0, 35.0);
    const HeightRange without = model_of(analyze(arm, millimetre_mark)).travel;
    Setup taped = make_setup_a();
    taped.tractor.travel = {known(without.low), known(without.high)};
    arm.parts.link_extender = taped.parts.link_extender = {true, "", "", known(0.120)};
    const MountedModel a = model_of(analyze(arm, millimetre_mark)), b = model_of(analyze(taped, millimetre_mark));
    CHECK(b.travel_moved_by_extender);
    CHECK(b.travel.low == Approx(a.travel.low).epsilon(0).margin(0.003));
    CHECK(b.travel.high == Approx(a.travel.high).epsilon(0).margin(0.003));
    CHECK(a.travel.high - without.high > 0.015);
    CHECK(a.travel.low < without.low - 0.015);
}

TEST_CASE("link extender: the lift at the balls falls as the links grow, by virtual work", "[geometry][add_on][analytic]") {
    Setup s = make_setup_a();
    s.parts.link_extender = {true, "", "", known(0.120)};
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find_finding(a, FindingKind::link_extender);
    REQUIRE(f);
    CHECK(f->severity == Severity::watch);
    // Ball rise for a small turn of the link at the same angle, without and with: height differences of two points.
    const double c = 0.885, turn = 1e-6, angle = 0.3;
    const double with = model_of(a).linkage.lower_length * (std::sin(angle + turn) - std::sin(angle));
    const double share = c * (std::sin(angle + turn) - std::sin(angle)) / with;
    CHECK(f->terms.front().value == Approx(share).epsilon(0).margin(1e-9));
    CHECK(f->terms.front().value < 0.89);
}

TEST_CASE("add-on parts: a fitted part without its length is asked for", "[geometry][add_on][analytic]") {
    for (int i = 0; i < 3; ++i) {
        Setup s = make_setup_a();
        if (i == 0) s.parts.link_extender.fitted = true;
        if (i == 1) s.parts.overrunning_clutch.fitted = true;
        if (i == 2) s.parts.spline_extender.fitted = true;
        const Analysis a = analyze(s, millimetre_mark);
        CAPTURE(i);
        CHECK(a.verdict == Verdict::not_known);
        CHECK_FALSE(a.shaft);
    }
}

TEST_CASE("part effect: with and without are the two analyses themselves", "[geometry][add_on][metamorphic]") {
    Setup s = make_setup_a();
    s.parts.overrunning_clutch = make_add_on(0.070);
    s.parts.spline_extender = make_add_on(0.050);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.part_effects.size() == 2);
    for (const PartEffect& e : a.part_effects) {
        Setup other = s;
        (e.part == PartKind::overrunning_clutch ? other.parts.overrunning_clutch : other.parts.spline_extender).fitted = false;
        const Analysis without = analyze(other, millimetre_mark);
        CHECK(e.with == summarize(a));
        CHECK(e.without == summarize(without));
        REQUIRE((e.with.shaft && e.without.shaft));
        CHECK(e.with.shaft->shortest < e.without.shaft->shortest);
        CHECK(e.with.shaft->overlap.value() - e.without.shaft->overlap.value() ==
              Approx(e.without.shaft->longest - e.with.shaft->longest).epsilon(0).margin(1e-12));
        CHECK(e.with.upper_link_length == e.without.upper_link_length);
    }
}

TEST_CASE("part effect: a longer lower link wants a longer upper link for the same working pitch", "[geometry][add_on][analytic]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.parts.link_extender = {true, "", "", known(0.120)};
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.part_effects.size() == 1);
    const PartEffect& e = a.part_effects.front();
    REQUIRE((e.with.upper_link_length && e.without.upper_link_length));
    // |U - (H + M)| with the mast upright, from the two ball places alone.
    const auto needed = [](double c) {
        const double x = std::sqrt(c * c - 0.2 * 0.2);  // pivot at 500 mm, ball at 300 mm
        return std::hypot(x - 0.240, 0.300 + 0.610 - 0.960);
    };
    const double with = std::sqrt(std::pow(std::hypot(0.885, 0.2025) + 0.120, 2) - 0.2025 * 0.2025);
    CHECK(*e.without.upper_link_length == Approx(needed(0.885)).epsilon(0).margin(1e-9));
    CHECK(*e.with.upper_link_length == Approx(needed(with)).epsilon(0).margin(1e-9));
    CHECK(e.with.lift_share < 1.0);
    CHECK(e.without.lift_share == 1.0);
}
