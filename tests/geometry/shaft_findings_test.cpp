// Gap, overlap, cut, guards and ripple: both sides of each limit, with and without errors of the readings.
#include <catch2/catch.hpp>

#include <cmath>

#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double step = 1e-6;  // m

/// Travel stopped at 500 mm, link set for level work, shaft of equal tubes that suits.
Setup make_fitting() {
    Setup s = make_setup_a();
    s.choices.lift_stop = known(0.500);
    s.choices.upper_link_length = Reading{};
    s.driveline.closed_length = known(0.850);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.450);  // 150 mm and a third of it are the same
    return s;
}

/// Closed length at which the overlap at the longest point is just what is needed, the roots being long enough.
double closed_for_overlap(const Setup& s) {
    const Analysis a = answer(s);
    REQUIRE(a.shaft);
    return a.shaft->travel.longest.bound + s.rules.overlap_least.value - s.driveline.implement_tube.value;
}

/// A shaft with just the overlap it needs, and gap to spare.
Setup make_just_long_enough(double spare, double tolerance = 0.0) {
    Setup s = make_fitting();
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.300);
    s.driveline.closed_length = known(closed_for_overlap(s) + spare, tolerance);
    return s;
}

}  // namespace

TEST_CASE("overlap: kept on one side of its limit, must not run on the other", "[analytic]") {
    CHECK(answer(make_just_long_enough(step)).verdict == Verdict::fits);
    const Analysis a = answer(make_just_long_enough(-step));
    CHECK(a.verdict == Verdict::must_not_run);
    const Finding* f = find_finding(a, FindingKind::overlap_at_longest);
    REQUIRE(f);
    CHECK(f->severity == Severity::forbids);
    CHECK(f->value == Approx(0.150 - step).epsilon(0).margin(1e-9));
    const Finding* none = find_finding(a, FindingKind::no_cut_works);
    REQUIRE(none);
    // Nothing need be cut for the gap: what lacks is known as well as the longest length.
    const TravelExtreme& longest = a.shaft->travel.longest;
    CHECK(std::fabs(none->bound_error - (longest.bound - longest.value)) < 1e-15);
    CHECK(none->bound_error == a.shaft->plan_error);
    CHECK(none->bound_error > 0.0);
}

TEST_CASE("overlap: a reading whose error makes the shaft impossible leaves no margin certain", "[analytic]") {
    Setup s = make_fitting();
    REQUIRE(answer(s).verdict == Verdict::fits);
    s.driveline.closed_length.tolerance = 0.450;  // down to 0.400, less than a tube
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::linkage_cannot_close, "driveline.shaft.closed_length", "within_error");
    REQUIRE(f);
    CHECK((f->severity == Severity::unknown && f->value == 0.450));
    CHECK(a.verdict != Verdict::fits);
}

TEST_CASE("overlap: a cut that is undecided for it stands at the height where the shaft is longest", "[analytic]") {
    const Analysis a = answer(make_just_long_enough(-step, 0.002));
    const Finding* f = find_finding(a, FindingKind::no_cut_works);
    REQUIRE(f);
    CHECK(f->severity == Severity::unknown);
    REQUIRE(f->has_height);
    CHECK(f->height == a.shaft->travel.longest.height);
    CHECK(f->height != a.shaft->travel.shortest.height);
}

TEST_CASE("overlap: less than nothing is a separation", "[analytic]") {
    CHECK(find_finding(answer(make_just_long_enough(-0.150 + step)), FindingKind::overlap_at_longest));
    const Analysis a = answer(make_just_long_enough(-0.150 - step));
    REQUIRE(find_finding(a, FindingKind::separation));
    CHECK(a.findings.front().kind == FindingKind::separation);
    CHECK(a.verdict == Verdict::must_not_run);
}

TEST_CASE("overlap: inside the readings' error on either side it is too close to call", "[analytic]") {
    CHECK(answer(make_just_long_enough(0.004, 0.005)).verdict == Verdict::too_close_to_call);
    CHECK(answer(make_just_long_enough(-0.004, 0.005)).verdict == Verdict::too_close_to_call);
    CHECK(answer(make_just_long_enough(0.006, 0.005)).verdict == Verdict::fits);
    CHECK(answer(make_just_long_enough(-0.006, 0.005)).verdict == Verdict::must_not_run);
}

TEST_CASE("gap: inside the readings' error on the short side it is too close to call as well", "[analytic]") {
    Setup s = make_fitting();
    const double most = answer(s).shaft->travel.shortest.bound - s.rules.gap_required.value;
    s.driveline.closed_length = known(most + 0.004, 0.005);
    CHECK(answer(s).verdict == Verdict::too_close_to_call);
    s.driveline.closed_length = known(most + 0.006, 0.005);
    CHECK(answer(s).verdict == Verdict::fits_after_change);
}

TEST_CASE("cut: what it leaves is judged with the readings' error, before it is made and after", "[residual]") {
    Setup s = make_fitting();
    // 20 mm too long; cutting both halves costs overlap that is not there to spare by much.
    const Analysis plain = answer(s);
    const double shortest = plain.shaft->travel.shortest.bound, longest = plain.shaft->travel.longest.bound;
    const double closed = shortest + 0.020, cut = 0.060;
    const double tube = longest - closed + 0.150 + 2.0 * cut + 0.003;  // leaves 3 mm more than is needed
    const auto with_error = [&](double tolerance) {
        s.driveline.tractor_tube = s.driveline.implement_tube = known(tube);
        s.driveline.closed_length = known(closed, tolerance);
        return answer(s);
    };
    const Analysis sure = with_error(0.002);
    CHECK(sure.verdict == Verdict::fits_after_change);
    const double spare = sure.shaft->plan.after.overlap - sure.shaft->plan.after.overlap_needed;
    REQUIRE(spare > 0.002);
    REQUIRE(spare < 0.004);
    const Analysis unsure = with_error(0.004);
    CHECK(unsure.verdict == Verdict::too_close_to_call);
    const Finding* f = find_finding(unsure, FindingKind::cut);
    REQUIRE(f);
    CHECK(f->severity == Severity::unknown);
    CHECK(f->band == Approx(0.004).epsilon(0).margin(1e-9));
    CHECK(f->margin == Approx(spare).epsilon(0).margin(1e-12));
    REQUIRE(find_remedy(*f, RemedyKind::measure));
    CHECK(find_remedy(*f, RemedyKind::measure)->subject == "driveline.shaft.closed_length");
    CHECK(find_remedy(*f, RemedyKind::cut_both_halves));
    const CutPair& made = unsure.shaft->plan.recommended;
    s.choices.cut_tractor_half = known(made.a);
    s.choices.cut_implement_half = known(made.b);
    CHECK(answer(s).verdict == Verdict::too_close_to_call);
    s.driveline.closed_length.tolerance = 0.002;
    CHECK(answer(s).verdict == Verdict::fits);
}

TEST_CASE("cut: a cut that fails by less than the readings' error is too close to call, by more it is not", "[analytic]") {
    Setup s = make_fitting();
    const Analysis plain = answer(s);
    const double shortest = plain.shaft->travel.shortest.bound, longest = plain.shaft->travel.longest.bound;
    const double closed = shortest + 0.020;
    const double cut = closed - (shortest - s.rules.gap_required.value);
    const double tube = longest - closed + 0.150 + 2.0 * cut - 0.006;  // 6 mm lacking after the least cut
    s.driveline.tractor_tube = s.driveline.implement_tube = known(tube);
    // Error e of the closed length: e of overlap, and e more for each half that is cut.
    s.driveline.closed_length = known(closed, 0.0019);
    CHECK(answer(s).verdict == Verdict::must_not_run);
    s.driveline.closed_length = known(closed, 0.0021);
    const Analysis close = answer(s);
    CHECK(close.verdict == Verdict::too_close_to_call);
    CHECK(find_finding(close, FindingKind::no_cut_works)->severity == Severity::unknown);
}

TEST_CASE("cut: unequal halves lose length from the longer one only, as far as they differ", "[analytic]") {
    Setup s = make_fitting();
    const double shortest = answer(s).shaft->travel.shortest.bound;
    s.driveline.closed_length = known(shortest - 0.020);  // 20 mm of gap: 5.4 mm lacking
    s.driveline.tractor_tube = known(0.450);
    s.driveline.implement_tube = known(0.350);
    Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::cut);
    REQUIRE(f);
    const Remedy* cut = find_remedy(*f, RemedyKind::cut_tractor_half);
    REQUIRE(cut);
    const double off = cut->value;
    CHECK(off == Approx(0.020).epsilon(0).margin(0.001));
    CHECK(off >= 0.020 - 1e-9);
    s.choices.cut_tractor_half = known(off);
    CHECK(answer(s).verdict == Verdict::fits);
    s.choices.cut_tractor_half = Reading{};
    std::swap(s.driveline.tractor_tube, s.driveline.implement_tube);
    a = answer(s);
    f = find_finding(a, FindingKind::cut);
    REQUIRE(f);
    REQUIRE(find_remedy(*f, RemedyKind::cut_implement_half));
    CHECK(find_remedy(*f, RemedyKind::cut_implement_half)->value == Approx(off).epsilon(0).margin(1e-12));
}

TEST_CASE("overlap in work: judged at the longest point of the working band only", "[analytic]") {
    Setup s = make_fitting();
    s.choices.lift_stop = Reading{};
    s.rules.angle_stop = Limit{};
    const Analysis a = answer(s);
    REQUIRE(a.shaft);
    const double in_work = a.shaft->work.longest.bound;
    REQUIRE(in_work < a.shaft->travel.longest.bound - 0.020);
    s.rules.overlap_fraction_work = limit(0.5);
    const double tube = 0.450;
    const double just = in_work + 0.5 * tube - tube;
    for (const double tolerance : {0.0, 0.004}) {
        CAPTURE(tolerance);
        const double off = tolerance == 0.0 ? step : 0.005;
        s.driveline.closed_length = known(just + off, tolerance);
        CHECK(find_finding(answer(s), FindingKind::overlap_in_work)->severity == Severity::good);
        s.driveline.closed_length = known(just - off, tolerance);
        CHECK(find_finding(answer(s), FindingKind::overlap_in_work)->severity == Severity::forbids);
        CHECK(answer(s).verdict == Verdict::must_not_run);
    }
    for (const double off : {-0.003, 0.003}) {
        s.driveline.closed_length = known(just + off, 0.004);
        CHECK(find_finding(answer(s), FindingKind::overlap_in_work)->severity == Severity::unknown);
    }
}

TEST_CASE("shaft findings: numbers are on the safe side of every pose of the travel", "[metamorphic]") {
    const Setup s = make_setup_a();
    const Analysis a = answer(s);
    const double gap = find_finding(a, FindingKind::gap_at_shortest)->value;
    const double overlap = find_finding(a, FindingKind::overlap_at_longest)->value;
    const double bend = find_finding(a, FindingKind::joint_angle_over_travel, "tractor joint")->value;
    const std::vector<PoseReport> rows = sweep_travel(s, 301);
    REQUIRE(rows.size() == 301);
    for (const PoseReport& r : rows) {
        CHECK(r.gap >= gap);
        CHECK(r.overlap >= overlap);
        CHECK(r.tractor_angle <= bend);
    }
}

TEST_CASE("guards: bare shaft is forbidden, too little overlap a change, and the length named cures it", "[residual]") {
    Setup s = make_fitting();
    s.rules.guard_overlap = limit(0.050);
    s.driveline.guard_closed_length = known(0.840);
    const double longest = answer(s).shaft->travel.longest.bound;
    const auto severity = [&](double at_longest) {
        s.driveline.guard_overlap_closed = known(at_longest + longest - 0.850);
        return find_finding(answer(s), FindingKind::guard_overlap)->severity;
    };
    CHECK(severity(0.050 + step) == Severity::good);
    CHECK(severity(0.050 - step) == Severity::change);
    CHECK(severity(step) == Severity::change);
    CHECK(severity(-step) == Severity::forbids);
    CHECK(severity(0.020) == Severity::change);
    const Analysis a = answer(s);
    const Remedy* longer = find_remedy(*find_finding(a, FindingKind::guard_overlap), RemedyKind::match_part);
    REQUIRE(longer);
    CHECK(longer->value == Approx(0.030).epsilon(0).margin(1e-6));
    s.driveline.guard_overlap_closed.value += longer->value + step;
    CHECK(find_finding(answer(s), FindingKind::guard_overlap)->severity == Severity::good);
}

TEST_CASE("guards: a cut that bares the shaft is said, also when the guards were short before", "[residual]") {
    Setup s = make_fitting();
    s.rules.guard_overlap = limit(0.050);
    const Analysis plain = answer(s);
    const double closed = plain.shaft->travel.shortest.bound + 0.020, longest = plain.shaft->travel.longest.bound;
    s.driveline.closed_length = known(closed);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.700);
    s.driveline.guard_closed_length = known(closed - 0.010);
    s.driveline.guard_overlap_closed = known(0.030 + longest - closed);  // 30 mm left at the longest point
    const Analysis a = answer(s);
    const Finding* now = find_finding(a, FindingKind::guard_overlap);
    REQUIRE(now);
    const Finding* after = find_finding(a, FindingKind::guard_overlap, "", "after_cut");
    REQUIRE(after);
    CHECK(after->severity == Severity::forbids);
    const CutPair& cut = a.shaft->plan.recommended;
    CHECK(after->value == Approx(0.030 - cut.a - cut.b).epsilon(0).margin(1e-6));
}

TEST_CASE("guards: tubes that meet before the shaft is at its shortest are cured by the cut or must be shortened", "[residual]") {
    Setup s = make_fitting();
    const double shortest = answer(s).shaft->travel.shortest.bound;
    s.driveline.guard_closed_length = known(shortest - step);
    s.driveline.guard_overlap_closed = known(0.300);
    CHECK(find_finding(answer(s), FindingKind::guard_gap)->severity == Severity::good);
    s.driveline.guard_closed_length = known(shortest + step);
    Analysis a = answer(s);
    CHECK(find_finding(a, FindingKind::guard_gap)->severity == Severity::change);
    CHECK(find_finding(a, FindingKind::guard_gap)->other.empty());  // no cut is planned
    s.driveline.closed_length = known(shortest + 0.010);
    a = answer(s);
    REQUIRE(find_finding(a, FindingKind::cut));
    CHECK(find_finding(a, FindingKind::guard_gap)->other == "cured_by_cut");
}

TEST_CASE("ripple: a watch above its limit, good below", "[analytic]") {
    Setup s = make_setup_a();
    const double ripple = answer(s).shaft->work.non_uniformity.bound;
    s.rules.non_uniformity = limit(ripple + 1e-6);
    CHECK(find_finding(answer(s), FindingKind::non_uniformity)->severity == Severity::good);
    s.rules.non_uniformity = limit(ripple - 1e-6);
    CHECK(find_finding(answer(s), FindingKind::non_uniformity)->severity == Severity::watch);
}

TEST_CASE("ripple: no joint angles of a working pose are named when there is none in the travel", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.working_ball_height = known(1.100);
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::non_uniformity);
    REQUIRE(f);
    for (const Term& t : f->terms) CHECK(t.symbol == "g");
}
