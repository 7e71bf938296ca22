// Room through the travel: severity at both sides of touching and of the limit; stops that are named keep parts apart.
#include <catch2/catch.hpp>

#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// The deck's edge comes nearer to the shaft's guard as the hitch goes up.
Setup make_rising_deck(double radius) {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.driveline.guard_radius = known(radius);
    s.implement.points = {{"deck lip", known(0.000), known(-0.150), Reading{}, true}};
    return s;
}

}  // namespace

TEST_CASE("clearances: their searches count among the evaluations", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.points.clear();
    s.tractor.tyre.rear_radius = known(0.600);
    const int without = analyze(s, millimetre_mark).evaluations;
    s.implement.points = {{"point", known(0.30), known(0.12), Reading{}, false}};
    CHECK(analyze(s, millimetre_mark).evaluations > without);
}

TEST_CASE("clearance finding: touching forbids, less room than wanted is a watch, more is good", "[analytic]") {
    const double distance = find_finding(answer(make_rising_deck(0.010)), FindingKind::clearance, "deck lip", "guard of the shaft")->value + 0.010;
    const auto severity = [&](double room) {
        return find_finding(answer(make_rising_deck(distance - room)), FindingKind::clearance, "deck lip", "guard of the shaft")->severity;
    };
    REQUIRE(distance > 0.030);
    CHECK(severity(0.0255) == Severity::good);
    CHECK(severity(0.0245) == Severity::watch);
    CHECK(severity(1e-5) == Severity::watch);
    CHECK(severity(-1e-5) == Severity::forbids);
}

TEST_CASE("clearance finding: a stop named is on the safe side of where they touch, and cures it", "[residual]") {
    Setup s = make_rising_deck(0.010);
    const double distance = find_finding(answer(s), FindingKind::clearance, "deck lip", "guard of the shaft")->value + 0.010;
    s = make_rising_deck(distance + 0.005);
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::clearance, "deck lip", "guard of the shaft");
    REQUIRE(f);
    REQUIRE(f->severity == Severity::forbids);
    const Remedy* lift = find_remedy(*f, RemedyKind::lift_stop);
    const Remedy* lower = find_remedy(*f, RemedyKind::lower_stop);
    REQUIRE((lift || lower));
    (lift ? s.choices.lift_stop : s.choices.lower_stop) = known(lift ? lift->value : lower->value);
    const Analysis cured = answer(s);
    CHECK(find_finding(cured, FindingKind::clearance, "deck lip", "guard of the shaft")->severity == Severity::good);
    CHECK(find_finding(cured, FindingKind::clearance, "deck lip", "guard of the shaft")->margin >= 0.0);
}

TEST_CASE("clearance finding: parts that touch in work are offered no stop", "[analytic]") {
    Setup s = make_rising_deck(0.010);
    s.choices.working_band_high = known(0.950);
    s.driveline.guard_radius.value += find_finding(answer(s), FindingKind::clearance, "deck lip", "guard of the shaft")->value + 1e-4;
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::clearance, "deck lip", "guard of the shaft");
    REQUIRE(f);
    REQUIRE(f->severity == Severity::forbids);
    CHECK_FALSE(find_remedy(*f, RemedyKind::lift_stop));
    CHECK_FALSE(find_remedy(*f, RemedyKind::lower_stop));
}

TEST_CASE("ground finding: what does not clear the ground fully raised is a change", "[analytic]") {
    Setup s = make_rising_deck(0.010);
    s.implement.points = {{"tail", known(1.500), known(0.0), Reading{}, false}};
    const double top = find_finding(answer(s), FindingKind::ground_clearance, "tail", "top")->value;
    s.implement.points[0].z = known(-top * 0.5);
    CHECK(find_finding(answer(s), FindingKind::ground_clearance, "tail", "top")->severity == Severity::good);
    s.implement.points[0].z = known(-top * 1.5);
    const Analysis a = answer(s);
    CHECK(find_finding(a, FindingKind::ground_clearance, "tail", "top")->severity == Severity::change);
    CHECK(find_finding(a, FindingKind::ground_clearance, "tail", "working"));
}

TEST_CASE("clearance finding: nearer to touching than the readings can move it is too close to call, on both sides", "[analytic]") {
    Setup s = make_rising_deck(0.010);
    const double distance = find_finding(answer(s), FindingKind::clearance, "deck lip", "guard of the shaft")->value + 0.010;
    const auto judge = [&](double room) {
        s = make_rising_deck(distance - room);
        s.driveline.guard_radius.tolerance = 0.004;  // moves the room by just as much
        return answer(s);
    };
    for (double room : {-0.0039, 0.0039}) {
        CAPTURE(room);
        const Analysis a = judge(room);
        const Finding* f = find_finding(a, FindingKind::clearance, "deck lip", "guard of the shaft");
        CHECK(f->severity == Severity::unknown);
        CHECK(f->band == Approx(0.004).epsilon(0).margin(1e-9));
        REQUIRE(find_remedy(*f, RemedyKind::measure));
        CHECK(find_remedy(*f, RemedyKind::measure)->subject == "driveline.guard.radius");
        CHECK(a.verdict != Verdict::fits);
    }
    CHECK(find_finding(judge(-0.0041), FindingKind::clearance, "deck lip", "guard of the shaft")->severity == Severity::forbids);
    CHECK(find_finding(judge(0.0041), FindingKind::clearance, "deck lip", "guard of the shaft")->severity == Severity::watch);
}
