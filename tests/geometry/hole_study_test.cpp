// The hole study: what stands in which place, by which wish, and what cannot work.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/hole_ranking.h"
#include "geometry/hole_study.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Linkage A with three holes on the tractor, two on the mast, and a shaft that fits uncut.
Setup make_holes() {
    Setup s = make_setup_a();
    s.tractor.upper_link_pins = {{"low", known(0.240), known(0.930)}, {"middle", known(0.240), known(0.960)},
                                 {"high", known(0.240), known(0.990)}};
    s.implement.mast_pins = {{"1", known(0.610), known(0.0)}, {"2", known(0.560), known(0.0)}};
    s.tractor.travel = {known(0.200), known(0.800)};
    s.tractor.upper_link.length_least = known(0.45);
    s.tractor.upper_link.length_most = known(0.75);
    s.choices.upper_link_length = Reading{};
    s.choices.upper_link_pin = "low";
    s.choices.mast_pin = "2";
    s.implement.mass.cg_x = known(0.7);
    s.implement.mass.cg_z = known(0.1);
    s.implement.ground_contacts = {{"wheel", known(1.6), known(0.0), known(0.15)}};
    s.driveline.closed_length = known(0.700);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.560);
    return s;
}

HoleStudy study(const Setup& s, HoleWish wish = HoleWish::general) { return study_holes(s, millimetre_mark, wish); }

const HoleResult& find_result(const HoleStudy& s, const char* tractor, const char* mast) {
    for (const HoleResult& r : s.results) {
        if (r.numbers.tractor_pin == tractor && r.numbers.mast_pin == mast) return r;
    }
    throw std::runtime_error("no such combination");
}

double measure(const HoleResult& r, HoleMeasure m) { return find_hole_measure(r, m).value(); }

/// Whether the first choice has the best of all standing as well as it by this measure.
bool is_best(const HoleStudy& s, HoleMeasure m) {
    return std::all_of(s.results.begin(), s.results.end(), [&](const HoleResult& r) {
        return r.standing > HoleStanding::cut || compare_hole_measure(s.results.front(), r, m) <= 0;
    });
}

}  // namespace

TEST_CASE("hole study: every combination once, the set-up's own marked, and judged as a fit of it", "[analytic]") {
    const Setup s = make_holes();
    const HoleStudy all = study(s);
    REQUIRE(all.results.size() == 6);
    CHECK(all.combinations == 6);
    CHECK(std::count_if(all.results.begin(), all.results.end(), [](const HoleResult& r) { return r.numbers.is_present; }) == 1);
    CHECK(find_result(all, "low", "2").numbers.is_present);
    for (const HoleResult& r : all.results) {
        Setup one = s;
        one.choices.upper_link_pin = r.numbers.tractor_pin;
        one.choices.mast_pin = r.numbers.mast_pin;
        const Analysis a = analyze(one, millimetre_mark);
        CAPTURE(r.numbers.tractor_pin, r.numbers.mast_pin);
        CHECK(a.verdict == r.analysis.verdict);
        CHECK(a.findings == r.analysis.findings);
        REQUIRE((a.shaft && r.numbers.shaft));
        // One search for all, or one for each: the same bounds to what both promise.
        CHECK(std::fabs(a.shaft->travel.shortest.bound - r.numbers.shaft->shortest.bound) < 2e-6);
        CHECK(std::fabs(a.shaft->travel.longest.bound - r.numbers.shaft->longest.bound) < 2e-6);
        const double greatest = std::max(a.shaft->travel.tractor_angle.bound, a.shaft->travel.implement_angle.bound);
        CHECK(std::fabs(greatest - r.numbers.shaft->travel_angle.bound) < 4e-6);
        CHECK(a.linkage->transport.pitch == r.numbers.transport_pitch.value_or(0.0));
    }
}

TEST_CASE("hole study: one combination at a time gives the same study", "[analytic]") {
    Setup s = make_holes();
    s.choices.upper_link_length = known(0.6);
    HoleSearch search(s, millimetre_mark, HoleWish::tail_high);
    REQUIRE(search.total() == 6);
    for (std::size_t done = 0; done < 6; ++done) {
        CHECK(search.done() == done);
        CHECK_FALSE(search.finished());
        CHECK(search.step());
    }
    CHECK(search.finished());
    CHECK_FALSE(search.step());
    const HoleStudy steps = search.take(), whole = study(s, HoleWish::tail_high);
    CHECK(steps.wish == whole.wish);
    CHECK(steps.judged_by == whole.judged_by);
    CHECK(steps.combinations == whole.combinations);
    CHECK(steps.typed_link_ignored == whole.typed_link_ignored);
    REQUIRE(steps.results.size() == whole.results.size());
    for (std::size_t i = 0; i < whole.results.size(); ++i) {
        CHECK(steps.results[i].numbers.holes == whole.results[i].numbers.holes);
        CHECK(steps.results[i].place == whole.results[i].place);
        CHECK(steps.results[i].decided_by == whole.results[i].decided_by);
        CHECK(steps.results[i].analysis.findings.size() == whole.results[i].analysis.findings.size());
    }
    HoleSearch none(Setup{}, millimetre_mark, HoleWish::general);
    CHECK(none.finished());
    CHECK_FALSE(none.step());
    CHECK_FALSE(none.take().findings.empty());
}

TEST_CASE("hole study: each wish puts first what it asks for", "[analytic]") {
    const Setup s = make_holes();
    CHECK(is_best(study(s, HoleWish::level_carry), HoleMeasure::pitch_change));
    CHECK(is_best(study(s, HoleWish::tail_high), HoleMeasure::tail_height));
    CHECK(is_best(study(s, HoleWish::most_lift), HoleMeasure::lift_ratio));
    CHECK(is_best(study(s, HoleWish::shallow_joints), HoleMeasure::joint_angle));
    // Tail high and level carry pull opposite ways here, so that the order is really turned by the wish.
    const HoleStudy high = study(s, HoleWish::tail_high), level = study(s, HoleWish::level_carry);
    CHECK(high.results.front().numbers.holes != level.results.front().numbers.holes);
    CHECK(measure(high.results.front(), HoleMeasure::tail_height) > measure(level.results.front(), HoleMeasure::tail_height));
    CHECK(measure(high.results.front(), HoleMeasure::pitch_change) > measure(level.results.front(), HoleMeasure::pitch_change));
}

TEST_CASE("hole study: the order is one, whatever the order in the files", "[metamorphic]") {
    for (const HoleWish wish : all_hole_wishes()) {
        Setup s = make_holes();
        const HoleStudy before = study(s, wish);
        std::reverse(s.tractor.upper_link_pins.begin(), s.tractor.upper_link_pins.end());
        std::reverse(s.implement.mast_pins.begin(), s.implement.mast_pins.end());
        const HoleStudy after = study(s, wish);
        REQUIRE(before.results.size() == after.results.size());
        for (std::size_t i = 0; i < before.results.size(); ++i) {
            CAPTURE(hole_wish_word(wish), i);
            CHECK(before.results[i].place == after.results[i].place);
            CHECK(before.results[i].numbers.tractor_pin == after.results[i].numbers.tractor_pin);
            CHECK(before.results[i].numbers.mast_pin == after.results[i].numbers.mast_pin);
        }
    }
}

TEST_CASE("hole study: equal holes share a place, the set-up's own first", "[analytic]") {
    Setup s = make_holes();
    s.implement.mast_pins = {{"1", known(0.610), known(0.0)}};
    s.tractor.upper_link_pins = {{"left", known(0.240), known(0.960)}, {"right", known(0.240), known(0.960)}};
    s.choices.mast_pin.clear();
    s.choices.upper_link_pin = "right";
    const HoleStudy tie = study(s);
    REQUIRE(tie.results.size() == 2);
    CHECK((tie.results[0].place == 1 && tie.results[1].place == 1));
    CHECK(tie.results[0].numbers.tractor_pin == "right");
    s.choices.upper_link_pin.clear();
    CHECK(study(s).results[0].numbers.tractor_pin == "left");
    s.tractor.upper_link_pins[0].z.value += 0.060;
    CHECK(study(s).results[1].place == 2);
}

TEST_CASE("hole study: a hole the link does not reach goes behind those it does, and back with a longer link", "[metamorphic]") {
    Setup s = make_holes();
    s.implement.mast_pins.resize(1);
    s.choices.mast_pin = "1";
    const HoleStudy before = study(s);
    for (const HoleResult& r : before.results) CHECK(r.standing <= HoleStanding::change);
    const std::string first = before.results.front().numbers.tractor_pin;
    const double length = before.results.front().numbers.upper_length;
    double nearest = 1.0;
    for (const HoleResult& r : before.results) {
        const double apart = std::fabs(r.numbers.upper_length - length);
        if (apart > 0.0) nearest = std::min(nearest, apart);
    }
    REQUIRE(nearest > 1e-4);
    const bool shortest = std::all_of(before.results.begin(), before.results.end(),
                                      [&](const HoleResult& r) { return r.numbers.upper_length >= length; });
    const bool longest = std::all_of(before.results.begin(), before.results.end(),
                                     [&](const HoleResult& r) { return r.numbers.upper_length <= length; });
    REQUIRE((shortest || longest));  // the three lengths fall as the hole rises
    if (shortest) s.tractor.upper_link.length_least = known(length + 0.5 * nearest);
    else s.tractor.upper_link.length_most = known(length - 0.5 * nearest);
    const HoleStudy after = study(s);
    CHECK(after.results.back().numbers.tractor_pin == first);
    CHECK(after.results.back().standing == HoleStanding::link_out_of_reach);
    CHECK(after.results.back().decided_by == HoleMeasure::standing);
    CHECK(after.results.front().standing <= HoleStanding::change);
}

TEST_CASE("hole study: holes that cannot work stay listed with why", "[analytic]") {
    Setup s = make_holes();
    s.tractor.upper_link_pins.push_back({"absurd", known(0.840), known(0.700)});
    const HoleStudy all = study(s);
    REQUIRE(all.results.size() == 8);
    const HoleResult& bad = find_result(all, "absurd", "1");
    CHECK(bad.standing >= HoleStanding::link_out_of_reach);
    CHECK(std::any_of(bad.analysis.findings.begin(), bad.analysis.findings.end(), [](const Finding& f) {
        return f.severity == Severity::forbids || f.severity == Severity::change;
    }));
    CHECK(all.results.front().standing <= HoleStanding::change);
}

TEST_CASE("hole study: another shaft, a cut, a change and a missing reading tell themselves apart", "[metamorphic]") {
    Setup s = make_holes();
    const HoleResult first = study(s).results.front();
    CHECK(first.standing == HoleStanding::fits);
    Setup longer = s;
    longer.driveline.closed_length.value += 0.220;
    longer.driveline.tractor_tube.value += 0.220;
    longer.driveline.implement_tube.value += 0.220;
    CHECK(study(longer).results.front().standing == HoleStanding::cut);
    Setup apart = s;
    apart.driveline.tractor_tube = apart.driveline.implement_tube = known(0.100);
    const HoleStudy none = study(apart);
    for (const HoleResult& r : none.results) CHECK(r.standing == HoleStanding::other_shaft);
    Setup unread = s;
    unread.driveline.closed_length = Reading{};
    const HoleStudy open = study(unread);
    REQUIRE(open.results.size() == 6);
    for (const HoleResult& r : open.results) {
        CHECK(r.standing == HoleStanding::not_decided);
        CHECK(r.numbers.has_numbers);  // the linkage is known all the same
        CHECK(!r.numbers.shaft);
    }
    CHECK(open.results.front().analysis.verdict == Verdict::not_known);
}

TEST_CASE("hole study: without a linkage reading there are combinations but no numbers", "[analytic]") {
    Setup s = make_holes();
    s.tractor.lower_link.length = Reading{};
    const HoleStudy open = study(s);
    REQUIRE(open.results.size() == 6);
    for (const HoleResult& r : open.results) {
        CHECK((!r.numbers.has_numbers && r.standing == HoleStanding::not_decided && r.place == 1));
        CHECK(!find_hole_measure(r, HoleMeasure::pitch_change));
    }
}

TEST_CASE("hole study: no holes, a drawn implement, and far too many combinations give no rows", "[analytic]") {
    Setup s = make_holes();
    s.implement.mast_pins.clear();
    CHECK((study(s).results.empty() && !study(s).findings.empty()));
    CHECK(find_all_hole_numbers(s, millimetre_mark).empty());
    s = make_holes();
    s.implement.attachment = Attachment::drawn;
    CHECK((study(s).results.empty() && !study(s).findings.empty()));
    CHECK(find_all_hole_numbers(s, millimetre_mark).empty());
    s = make_holes();
    for (int i = 0; i < 200; ++i) s.tractor.upper_link_pins.push_back({std::to_string(i), known(0.24), known(0.96)});
    CHECK((study(s).results.empty() && study(s).combinations == 406));
}

TEST_CASE("hole study: holes of one name are numbered and not taken for each other", "[analytic]") {
    Setup s = make_holes();
    const HoleStudy named = study(s);
    s.tractor.upper_link_pins[0].name = s.tractor.upper_link_pins[2].name = "hole";
    const HoleStudy numbered = study(s);
    CHECK(find_result(numbered, "1", "1").numbers.upper_length == find_result(named, "low", "1").numbers.upper_length);
    CHECK(find_result(numbered, "3", "1").numbers.upper_length == find_result(named, "high", "1").numbers.upper_length);
    CHECK(find_result(numbered, "1", "1").numbers.upper_length != find_result(numbered, "3", "1").numbers.upper_length);
}

TEST_CASE("hole study: a typed link length gives way to the working attitude, and is kept without one", "[metamorphic]") {
    Setup s = make_holes();
    const HoleStudy free = study(s);
    CHECK(!free.typed_link_ignored);
    s.choices.upper_link_length = known(0.700);
    const HoleStudy typed = study(s);
    CHECK(typed.typed_link_ignored);
    CHECK(find_result(typed, "low", "2").numbers.upper_length == find_result(free, "low", "2").numbers.upper_length);
    s.implement.work.ball_height = Reading{};
    const HoleStudy kept = study(s);
    CHECK(!kept.typed_link_ignored);
    const HoleNumbers& n = find_result(kept, "low", "2").numbers;
    CHECK((n.has_numbers && n.upper_length == 0.700 && !n.for_working_attitude && !n.pitch_working));
}

TEST_CASE("hole study: a wish nothing is known for falls back to the general order and says so", "[analytic]") {
    Setup s = make_holes();
    s.implement.pic = {};
    s.has_driveline = false;
    CHECK(study(s, HoleWish::shallow_joints).judged_by == HoleWish::general);
    CHECK(study(s, HoleWish::most_lift).judged_by == HoleWish::most_lift);
    s.implement.ground_contacts.clear();
    const HoleStudy tail = study(s, HoleWish::tail_high);  // no tail known: the pitch at the top stands for it
    CHECK(tail.judged_by == HoleWish::tail_high);
    CHECK(is_best(tail, HoleMeasure::pitch_top));
}

TEST_CASE("hole points: a degree of joint, a degree of pitch, two percent of lift", "[analytic]") {
    HoleNumbers n;
    CHECK(find_hole_points(n) == 0.0);
    n.has_numbers = true;
    n.pitch_top = to_radians(9.0);
    n.pitch_working = to_radians(1.0);
    CHECK(find_hole_points(n) == Approx(8.0).epsilon(0).margin(1e-9));
    n.shaft = HoleShaft{};
    n.shaft->travel_angle.bound = to_radians(30.0);
    n.lift.known = true;
    n.lift.rise_most.bound = 1.25;  // a ratio of 0.8
    n.lift.rise_least.bound = 1.0;
    CHECK(find_hole_points(n) == Approx(48.0).epsilon(0).margin(1e-9));
    n.lift.rise_least.bound = -0.1;  // somewhere the load does not rise
    CHECK(find_hole_points(n) == Approx(88.0).epsilon(0).margin(1e-9));
}

TEST_CASE("hole measures: compared as shown, missing ones behind, more of some is better", "[analytic]") {
    HoleResult a, b;
    a.numbers.has_numbers = b.numbers.has_numbers = true;
    a.numbers.pitch_top = to_radians(5.01);
    b.numbers.pitch_top = to_radians(5.04);
    CHECK(compare_hole_measure(a, b, HoleMeasure::pitch_change) == 0);
    b.numbers.pitch_top = to_radians(5.2);
    CHECK(compare_hole_measure(a, b, HoleMeasure::pitch_change) == -1);
    CHECK(compare_hole_measure(a, b, HoleMeasure::pitch_top) == 1);
    CHECK(compare_hole_measure(a, b, HoleMeasure::tail_height) == 0);
    a.numbers.tail = RaisedPoint{"wheel", 0.5};
    CHECK(compare_hole_measure(a, b, HoleMeasure::tail_height) == -1);
    b.numbers.tail = RaisedPoint{"wheel", 0.6};
    CHECK(compare_hole_measure(a, b, HoleMeasure::tail_height) == 1);
    a.standing = HoleStanding::fits;
    b.standing = HoleStanding::cut;
    CHECK(compare_hole_measure(a, b, HoleMeasure::standing) == -1);
}

TEST_CASE("hole ranking: under a wish a cut is no worse than a fit, in general it is", "[analytic]") {
    HoleStudy s;
    s.results.resize(2);
    for (HoleResult& r : s.results) {
        r.numbers.has_numbers = r.numbers.lift.known = true;
        r.numbers.lift.rise_least.bound = 1.0;
    }
    s.results[0].numbers.tractor_pin = "cut";
    s.results[0].standing = HoleStanding::cut;
    s.results[0].changes = 2;
    s.results[0].numbers.lift.rise_most.bound = 1.1;
    s.results[1].numbers.tractor_pin = "fits";
    s.results[1].standing = HoleStanding::fits;
    s.results[1].numbers.lift.rise_most.bound = 1.3;
    s.wish = HoleWish::most_lift;
    rank_holes(s);
    CHECK(s.results[0].numbers.tractor_pin == "cut");
    CHECK(s.results[1].decided_by == HoleMeasure::lift_ratio);
    s.wish = HoleWish::general;
    rank_holes(s);
    CHECK(s.results[0].numbers.tractor_pin == "fits");
    CHECK(s.results[1].decided_by == HoleMeasure::standing);
    s.results[0].standing = HoleStanding::must_not_run;  // no wish makes up for that
    s.wish = HoleWish::most_lift;
    rank_holes(s);
    CHECK(s.results[0].numbers.tractor_pin == "cut");
}

TEST_CASE("hole study: a coupler carries tail and load back with it", "[metamorphic][analytic]") {
    // Hooks straight behind the own pins, top hook and own pin as high as the mast: the implement just stands 120 mm back.
    Setup s = make_holes();
    s.implement.mast_pins.resize(1);
    s.choices.mast_pin.clear();
    Setup back = s;
    back.implement.ground_contacts[0].x.value += 0.120;
    back.implement.mass.cg_x.value += 0.120;
    back.implement.pic.x.value += 0.120;
    s.parts.coupler.fitted = true;
    s.parts.coupler.set_back = known(0.120);
    s.parts.coupler.hook_rise = known(0.0);
    s.parts.coupler.hook_height = known(0.610);
    s.parts.coupler.hook_offset = known(0.0);
    s.parts.coupler.pin_height = known(0.610);
    s.parts.coupler.pin_offset = known(0.0);
    const std::vector<HoleNumbers> with = find_all_hole_numbers(s, millimetre_mark), moved = find_all_hole_numbers(back, millimetre_mark);
    REQUIRE(with.size() == 3);
    for (std::size_t i = 0; i < with.size(); ++i) {
        REQUIRE((with[i].has_numbers && with[i].tail && with[i].lift.known));
        CHECK(std::fabs(with[i].upper_length - moved[i].upper_length) < 1e-9);
        CHECK(std::fabs(with[i].tail->height - moved[i].tail->height) < 1e-9);
        CHECK(std::fabs(with[i].lowest->height - moved[i].lowest->height) < 1e-9);
        CHECK(std::fabs(with[i].lift.rise_most.bound - moved[i].lift.rise_most.bound) < 1e-9);
        CHECK(std::fabs(with[i].shaft->longest.bound - moved[i].shaft->longest.bound) < 1e-9);
    }
    CHECK(with[0].tail->height != find_all_hole_numbers(make_holes(), millimetre_mark)[0].tail->height);
}

TEST_CASE("hole study: stated heights are those of the conditions, drawn in for the readings' errors", "[analytic]") {
    Setup s = make_holes();
    s.rules.angle_free = limit(to_radians(20.0));
    s.tractor.pto.stub_z.tolerance = s.tractor.lower_link.pivot_z.tolerance = 0.003;
    int drawn_in = 0;
    for (const HoleResult& r : study(s).results) {
        CAPTURE(r.numbers.tractor_pin, r.numbers.mast_pin);
        double stated = 1e9;
        for (const Finding& f : r.analysis.findings) {
            if (f.severity != Severity::condition || f.other != "no_work") continue;
            for (const Remedy& way : f.remedies) {
                if (way.kind == RemedyKind::pto_off_above && way.subject != "below") stated = std::min(stated, way.value);
            }
        }
        if (stated > 1e8) continue;
        REQUIRE((!r.work_heights.empty() && !r.numbers.shaft->work_heights.empty()));
        CHECK(r.work_heights.back().high == stated);
        CHECK(r.numbers.shaft->work_heights.back().high > stated);
        ++drawn_in;
    }
    CHECK(drawn_in >= 2);
}
