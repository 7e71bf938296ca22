// Holes of the lift rod: travel and lift of each against the arm's own range, finite differences and single-hole set-ups.
#include "geometry/tractor_lift.h"

#include <catch2/catch.hpp>

#include <limits>
#include <random>

#include "find_finding.h"
#include "geometry/angle.h"
#include "geometry/hole_study.h"
#include "geometry/lift_travel.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double arm_low = -30.0, arm_high = 35.0;

/// Linkage A with its lift: the hole of linkage A and one 60 mm farther back; no taped heights.
Setup make_two_holes() {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, arm_low, arm_high);
    const double own = s.tractor.lift_rod.pin_along_link.value;
    s.tractor.lift_rod.pin_along_link = Reading{};
    s.tractor.lift_rod_holes = {{"front", known(own)}, {"rear", known(own + 0.060)}};
    s.tractor.travel = {};
    return s;
}

/// The same with the rod's pin typed the plain way.
Setup make_plain(std::size_t hole) {
    Setup s = make_two_holes();
    s.tractor = put_rod_in_hole(s.tractor, hole);
    s.tractor.lift_rod_holes.clear();
    return s;
}

Setup choose(Setup s, const char* hole) {
    s.choices.lift_rod_hole = hole;
    return s;
}

HeightRange travel_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    for (const ModelObstacle& o : r.linkage_obstacles) UNSCOPED_INFO(o.key);
    REQUIRE(r.linkage_obstacles.empty());
    return r.model.travel;
}

std::vector<std::string> obstacle_keys(const Setup& s) {
    std::vector<std::string> keys;
    for (const ModelObstacle& o : make_mounted_model(s).linkage_obstacles) keys.push_back(o.key);
    return keys;
}

}  // namespace

TEST_CASE("lift-rod holes: a chosen hole is the same as its pin typed the plain way", "[geometry][metamorphic]") {
    for (const std::size_t hole : {0U, 1U}) {
        CAPTURE(hole);
        const Analysis listed = answer(choose(make_two_holes(), hole == 0 ? "front" : "rear")), plain = answer(make_plain(hole));
        CHECK(listed.findings == plain.findings);
        CHECK(listed.verdict == plain.verdict);
        REQUIRE((listed.linkage && plain.linkage));
        CHECK(listed.linkage->model.travel == plain.linkage->model.travel);
        CHECK_FALSE(listed.linkage->model.travel_moved_to_hole);
    }
    // Farther from the pivot the same stroke of the rod turns the link less.
    const HeightRange front = travel_of(choose(make_two_holes(), "front")), rear = travel_of(choose(make_two_holes(), "rear"));
    CHECK(rear.high - rear.low < front.high - front.low - 0.02);
}

TEST_CASE("lift-rod holes: heights taped in one hole go over to the other as its own arm range gives them", "[geometry][oracle]") {
    // Second route: the range of the arm, with the rod in that hole from the start.
    for (const auto& [from, to] : {std::pair{"front", "rear"}, std::pair{"rear", "front"}}) {
        const HeightRange first = travel_of(choose(make_two_holes(), from)), wanted = travel_of(choose(make_two_holes(), to));
        Setup taped = make_two_holes();
        taped.tractor.travel = {known(first.low), known(first.high), from};
        CHECK(travel_of(taped) == first);
        Setup no_range = choose(taped, to);
        no_range.tractor.lift_arm.angle_low = no_range.tractor.lift_arm.angle_high = Reading{};
        for (const Setup& s : {choose(taped, to), no_range}) {
            const MountedModel m = make_mounted_model(s).model;
            CHECK(m.travel_moved_to_hole);
            CHECK(m.travel.low == Approx(wanted.low).epsilon(0).margin(1e-9));
            CHECK(m.travel.high == Approx(wanted.high).epsilon(0).margin(1e-9));
        }
    }
}

TEST_CASE("lift-rod holes: a slot's free rise stays on top of the arm's own travel", "[geometry][analytic]") {
    const double slot = 0.025;
    const HeightRange front = travel_of(choose(make_two_holes(), "front")), rear = travel_of(choose(make_two_holes(), "rear"));
    Setup s = make_two_holes();
    s.tractor.lift_rod.free_rise = known(slot);
    s.tractor.travel = {known(front.low), known(front.high + slot), "front"};
    const HeightRange moved = travel_of(choose(s, "rear"));
    CHECK(moved.low == Approx(rear.low).epsilon(0).margin(1e-9));
    CHECK(moved.high == Approx(rear.high + slot).epsilon(0).margin(1e-9));
}

TEST_CASE("lift-rod holes: lift at the balls by virtual work, against differences of heights", "[geometry][oracle]") {
    const HeightRange front = travel_of(choose(make_two_holes(), "front"));
    Setup s = make_two_holes();
    s.tractor.travel = {known(front.low), known(front.high), "front"};
    const Analysis a = answer(choose(s, "rear"));
    const Finding* f = find_finding(a, FindingKind::lift_rod_hole, "rear", "front");
    REQUIRE(f);
    REQUIRE(f->terms.size() == 2);
    // The arm's range moved by 1e-4 deg at one end at a time: rise of the ball for the same turn in each hole.
    const auto rise = [](const char* hole, double low, double high) {
        Setup moved = choose(make_two_holes(), hole);
        moved.tractor.lift_arm.angle_low.value += to_radians(low);
        moved.tractor.lift_arm.angle_high.value += to_radians(high);
        return travel_of(moved);
    };
    const double d = 1e-4;
    const double low = (rise("front", d, 0).low - rise("front", -d, 0).low) / (rise("rear", d, 0).low - rise("rear", -d, 0).low);
    const double top = (rise("front", 0, d).high - rise("front", 0, -d).high) / (rise("rear", 0, d).high - rise("rear", 0, -d).high);
    CHECK(f->terms[0].value == Approx(low).epsilon(0).margin(1e-6));
    CHECK(f->terms[1].value == Approx(top).epsilon(0).margin(1e-6));
    CHECK(low > 1.05);
    CHECK_FALSE(find_finding(answer(choose(s, "front")), FindingKind::lift_rod_hole));
}

TEST_CASE("lift-rod holes: without arm and rod another hole than the taped one wants them, by name", "[geometry][analytic]") {
    Setup s = make_two_holes();
    s.tractor.travel = {known(0.25), known(0.90), "front"};
    s.tractor.lift_arm = {};
    CHECK(travel_of(s).high == 0.90);
    CHECK(obstacle_keys(choose(s, "rear")) == std::vector<std::string>{"tractor.lift_arm.pivot_x", "tractor.lift_arm.pivot_z",
                                                                      "tractor.lift_arm.length", "tractor.lift_arm.half_spread"});
    CHECK(answer(choose(s, "rear")).verdict == Verdict::not_known);
}

TEST_CASE("lift-rod holes: no choice, or one that is not there, is said with the holes there are", "[geometry][analytic]") {
    const Setup s = make_two_holes();
    const MountedModelResult open = make_mounted_model(s), wrong = make_mounted_model(choose(s, "middle"));
    REQUIRE((open.linkage_obstacles.size() == 1 && wrong.linkage_obstacles.size() == 1));
    CHECK(open.linkage_obstacles[0].kind == ModelObstacle::Kind::pin_not_chosen);
    CHECK(wrong.linkage_obstacles[0].kind == ModelObstacle::Kind::no_such_pin);
    CHECK(wrong.linkage_obstacles[0].key == "choices.lift_rod_hole");
    CHECK(wrong.linkage_obstacles[0].holes == std::vector<std::string>{"front", "rear"});
}

TEST_CASE("lift-rod holes: heights no arm can hold with the taped hole are refused, not bent", "[geometry][analytic]") {
    Setup s = make_two_holes();
    s.tractor.travel = {known(0.25), known(1.30), "front"};
    const MountedModelResult r = make_mounted_model(choose(s, "rear"));
    REQUIRE(!r.linkage_obstacles.empty());
    CHECK(r.linkage_obstacles[0].kind == ModelObstacle::Kind::cannot_close);
}

TEST_CASE("lift-rod holes: there and back again is the height one began with, on random lifts", "[geometry][random]") {
    std::mt19937 random(20261125);
    const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
    int carried = 0;
    for (int i = 0; i < 300; ++i) {
        Setup s = make_two_holes();
        s.tractor.lift_arm.pivot_x.value += between(-0.08, 0.08);
        s.tractor.lift_arm.pivot_z.value += between(-0.08, 0.08);
        s.tractor.lift_rod.length.value += between(-0.05, 0.05);
        const double link = s.tractor.lower_link.length.value;
        const LiftLinkage a = make_tractor_lift(put_rod_in_hole(s.tractor, 0), link).linkage;
        const LiftLinkage b = make_tractor_lift(put_rod_in_hole(s.tractor, 1), link).linkage;
        const double height = between(0.2, 0.9);
        const CarriedHeight there = carry_height(a, b, height);
        if (!there.closure.closes()) continue;
        const CarriedHeight back = carry_height(b, a, there.height);
        if (!back.closure.closes()) continue;
        ++carried;
        CHECK(back.height == Approx(height).epsilon(0).margin(1e-9));
        CHECK(there.lift_share * back.lift_share == Approx(1.0).epsilon(1e-9));
    }
    CHECK(carried > 200);
}

TEST_CASE("hole study: every hole of the lift rod is a row, with the numbers of that hole alone", "[geometry][hole_study][metamorphic]") {
    Setup s = make_two_holes();
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(1.010)});
    s.choices.upper_link_pin = "1";
    s.choices.lift_rod_hole = "rear";
    const HoleStudy study = study_holes(s, millimetre_mark, HoleWish::general);
    REQUIRE(study.results.size() == 4);
    int present = 0;
    for (const HoleResult& r : study.results) {
        CAPTURE(r.numbers.tractor_pin, r.numbers.rod_hole);
        present += r.numbers.is_present ? 1 : 0;
        CHECK(r.numbers.is_present == (r.numbers.tractor_pin == "1" && r.numbers.rod_hole == "rear"));
        Setup plain = make_plain(r.numbers.rod_hole == "front" ? 0 : 1);
        plain.tractor.upper_link_pins = s.tractor.upper_link_pins;
        plain.choices.upper_link_pin = r.numbers.tractor_pin;
        plain.choices.upper_link_length = Reading{};
        const HoleStudy alone = study_holes(plain, millimetre_mark, HoleWish::general);
        const auto same = std::find_if(alone.results.begin(), alone.results.end(),
                                       [&](const HoleResult& o) { return o.numbers.tractor_pin == r.numbers.tractor_pin; });
        REQUIRE(same != alone.results.end());
        CHECK(r.numbers.travel == same->numbers.travel);
        CHECK(r.numbers.upper_length == same->numbers.upper_length);
        CHECK(r.numbers.pitch_top == same->numbers.pitch_top);
        REQUIRE((r.numbers.shaft && same->numbers.shaft));
        CHECK(r.numbers.shaft->shortest == same->numbers.shaft->shortest);
        CHECK(r.standing == same->standing);
    }
    CHECK(present == 1);
}

TEST_CASE("lift: a rod pin at no place leaves no link, not a rod that does not close", "[edge]") {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, arm_low, arm_high);
    s.tractor.lift_rod.pin_along_link.value = std::numeric_limits<double>::quiet_NaN();
    const TractorLift lift = make_tractor_lift(s.tractor, s.tractor.lower_link.length.value);
    CHECK(lift.closure.part == LinkagePart::lower_link);
    CHECK(lift.closure.misfit == Misfit::undefined);
}
