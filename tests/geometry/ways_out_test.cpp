// Ways out of "no cut works" and of angles too great in work: each remedy is applied and must do what it says.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include "geometry/ways_out.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// A shaft that has the overlap it needs up to 850 mm of ball height and not above.
Setup make_too_short_at_top() {
    Setup s = make_setup_a();
    s.rules.angle_stop = Limit{};
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.300);
    Setup stopped = s;
    stopped.choices.lift_stop = known(0.850);
    s.driveline.closed_length = known(answer(stopped).shaft->travel.longest.bound + 0.150 - 0.300);
    return s;
}

const Finding& find_no_cut(const Analysis& a) {
    const Finding* f = find_finding(a, FindingKind::no_cut_works);
    REQUIRE(f);
    return *f;
}

}  // namespace

TEST_CASE("ways out: the lift stop is the highest one, to a millimetre, with which the shaft fits", "[residual]") {
    Setup s = make_too_short_at_top();
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::must_not_run);
    const Remedy* stop = find_remedy(find_no_cut(a), RemedyKind::lift_stop);
    REQUIRE(stop);
    CHECK(stop->value == Approx(0.850).epsilon(0).margin(0.0015));
    s.choices.lift_stop = known(stop->value);
    CHECK_FALSE(find_finding(answer(s), FindingKind::no_cut_works));
    CHECK_FALSE(find_finding(answer(s), FindingKind::overlap_at_longest)->severity == Severity::forbids);
    s.choices.lift_stop = known(stop->value + 0.0015);
    CHECK(find_finding(answer(s), FindingKind::no_cut_works));
}

TEST_CASE("ways out: a shaft too short in work is not offered a stop", "[analytic]") {
    Setup s = make_too_short_at_top();
    s.choices.working_ball_height = known(0.900);
    const Analysis a = answer(s);
    CHECK_FALSE(find_remedy(find_no_cut(a), RemedyKind::lift_stop));
    CHECK(find_remedy(find_no_cut(a), RemedyKind::order_shaft));
}

TEST_CASE("ways out: a hole offered makes a cut possible, one not offered does not", "[residual]") {
    Setup s = make_too_short_at_top();
    s.tractor.upper_link_pins = {{"1", known(0.240), known(0.960)}, {"low", known(0.350), known(0.840)},
                                 {"high", known(0.240), known(1.080)}};
    s.choices.upper_link_pin = "1";
    const Analysis a = answer(s);
    int offered = 0;
    for (const char* name : {"low", "high"}) {
        CAPTURE(name);
        bool listed = false;
        for (const Remedy& r : find_no_cut(a).remedies) listed = listed || (r.kind == RemedyKind::other_upper_link_pin && r.subject == name);
        Setup other = s;
        other.choices.upper_link_pin = name;
        other.choices.upper_link_length = Reading{};
        const Analysis b = answer(other);
        REQUIRE(b.shaft);
        CHECK(listed == (find_finding(b, FindingKind::no_cut_works) == nullptr));
        offered += listed ? 1 : 0;
    }
    CHECK(offered == 1);
}

TEST_CASE("ways out: the other of two mast holes is offered where it makes a cut possible", "[residual]") {
    Setup s = make_too_short_at_top();
    s.choices.upper_link_length = Reading{};
    s.implement.mast_pins = {{"1", known(0.610), known(0.0)}, {"2", known(0.760), known(0.0)}};
    const auto longest_with = [&](const char* pin) {
        s.choices.mast_pin = std::string(pin);
        return answer(s).shaft->travel.longest.bound;
    };
    const double first = longest_with("1"), second = longest_with("2");
    REQUIRE(std::fabs(first - second) > 0.003);
    const std::string suits = first < second ? "1" : "2";
    s.choices.mast_pin = first < second ? "2" : "1";
    s.driveline.closed_length = known(std::min(first, second) + 0.150 - 0.300 + 0.001);
    const Analysis a = answer(s);
    const Remedy* r = find_remedy(find_no_cut(a), RemedyKind::other_mast_pin);
    REQUIRE(r);
    CHECK(r->subject == suits);
    s.choices.mast_pin = suits;
    CHECK_FALSE(find_finding(answer(s), FindingKind::no_cut_works));
}

TEST_CASE("ways out: holes for the angle are held to the limit of each joint", "[residual]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.choices.working_ball_height = known(0.700);
    s.tractor.upper_link_pins = {{"1", known(0.240), known(0.960)}, {"2", known(0.240), known(1.060)}};
    s.choices.upper_link_pin = "1";
    // With the hole changed the link is set for the same pitch at the same height: the angles in work are the same.
    const Analysis a = answer(s);
    const double tractor = a.shaft->work.tractor_angle.bound;
    s.rules.angle_free = limit(tractor - 1e-4);
    CHECK(find_holes_within_angle(s).empty());
    s.rules.angle_free = limit(tractor + 1e-4);
    const std::vector<Remedy> holes = find_holes_within_angle(s);
    REQUIRE(holes.size() == 1);
    CHECK(holes[0].subject == "2");
    CHECK(holes[0].value == Approx(tractor).epsilon(0).margin(1e-4));
    s.driveline.tractor_joint.angle_most = known(tractor - 1e-4);  // its own stop is nearer than the rule set's limit
    CHECK(find_holes_within_angle(s).empty());
    s.implement.pic.slope = known(0.8 * tractor);  // input shaft turned towards the driveline
    s.driveline.tractor_joint = {JointKind::wide_angle, known(0.030), Reading{}, Reading{}, known(0.080), Reading{}, 0};
    s.rules.angle_free = limit(0.5 * tractor);
    const Analysis wide = answer(s);
    const double partner = wide.shaft->work.implement_angle.bound;
    s.rules.angle_free = limit(partner + 1e-3);  // the wide-angle joint may bend as far as its own limit
    CHECK(wide.shaft->work.tractor_angle.bound > partner + 1e-3);
    REQUIRE(find_holes_within_angle(s).size() == 1);
    CHECK(find_holes_within_angle(s)[0].value == Approx(wide.shaft->work.tractor_angle.bound).epsilon(0).margin(1e-4));  // the greater
}

TEST_CASE("cut limits: what a rule set leaves open is zero, and an aim is not below what is required", "[analytic]") {
    const CutLimits none = make_cut_limits(RuleSet{});
    CHECK(none == CutLimits{});
    RuleSet r;
    r.gap_required = limit(0.050);
    r.gap_aimed = limit(0.040);
    CHECK(make_cut_limits(r).gap_aimed == 0.050);
}

TEST_CASE("ways out: a hole of the lift rods that ends the travel where the shaft still reaches is offered, and does it", "[residual]") {
    Setup s = make_setup_a();
    s.rules.angle_stop = Limit{};
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.300);
    s.tractor.travel = {};
    add_lift_a(s.tractor, -30.0, 75.0);
    const double own = s.tractor.lift_rod.pin_along_link.value;
    s.tractor.lift_rod.pin_along_link = Reading{};
    s.tractor.lift_rod_holes = {{"front", known(own)}, {"rear", known(own + 0.060)}, {"fore", known(own - 0.020)}};
    // The hole with the shortest of the longest states sets the shaft; the one with the longest is the one in use.
    std::vector<std::pair<double, std::string>> longest;
    for (const LiftRodHole& hole : s.tractor.lift_rod_holes) {
        s.choices.lift_rod_hole = hole.name;
        const Analysis a = answer(s);
        REQUIRE(a.shaft);
        longest.emplace_back(a.shaft->travel.longest.bound, hole.name);
    }
    std::sort(longest.begin(), longest.end());
    const double between = 0.5 * (longest[0].first + longest[1].first);
    REQUIRE(longest[1].first > longest[0].first + 0.001);
    s.driveline.closed_length = known(between + 0.150 - 0.300);
    s.choices.lift_rod_hole = longest[2].second;
    const Analysis short_of_it = answer(s);
    int offered = 0;
    for (const Remedy& r : find_no_cut(short_of_it).remedies) {
        if (r.kind != RemedyKind::other_rod_hole) continue;
        ++offered;
        CHECK(r.subject == longest[0].second);
        Setup moved = s;
        moved.choices.lift_rod_hole = r.subject;
        CHECK_FALSE(find_finding(answer(moved), FindingKind::no_cut_works));
    }
    CHECK(offered == 1);
    s.choices.lift_rod_hole = longest[1].second;
    CHECK(find_finding(answer(s), FindingKind::no_cut_works));
}
