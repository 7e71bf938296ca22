// The whole answer: verdicts follow from findings, findings from both sides of their limits, remedies do what they say.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Analysis answer(const Setup& s) { return analyze(s, millimetre_mark); }

const Finding* find(const Analysis& a, FindingKind kind, const std::string& subject = "", const std::string& other = "") {
    for (const Finding& f : a.findings) {
        if (f.kind == kind && (subject.empty() || f.subject == subject) && (other.empty() || f.other == other)) return &f;
    }
    return nullptr;
}

const Remedy* find_remedy(const Finding& f, RemedyKind kind) {
    for (const Remedy& r : f.remedies) {
        if (r.kind == kind) return &r;
    }
    return nullptr;
}

/// Linkage A with the travel stopped at 500 mm, where both joints stay small, and a shaft that suits.
Setup make_fitting() {
    Setup s = make_setup_a();
    s.choices.lift_stop = known(0.500);
    s.choices.upper_link_length = Reading{};
    s.driveline.closed_length = known(0.850);
    return s;
}

double angle_at(const Setup& s, const std::string& joint, double height) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.model.has_shaft);
    const PoseReport p = make_pose_report(s, r.model, height);
    return joint == "tractor joint" ? p.tractor_angle : p.implement_angle;
}

}  // namespace

TEST_CASE("analysis: a set-up whose every limit is kept fits", "[analytic]") {
    const Analysis a = answer(make_fitting());
    CHECK(a.verdict == Verdict::fits);
    REQUIRE(a.linkage);
    REQUIRE(a.shaft);
    CHECK(a.shaft->plan.answer == CutAnswer::no_cut_needed);
}

TEST_CASE("analysis: a shaft too long is cut, and with the cut proposed the set-up fits", "[residual]") {
    Setup s = make_fitting();
    const double shortest = answer(s).shaft->travel.shortest.bound;
    s.driveline.closed_length = known(shortest + 0.020);
    const Analysis before = answer(s);
    CHECK(before.verdict == Verdict::fits_after_change);
    const Finding* gap = find(before, FindingKind::gap_at_shortest);
    REQUIRE(gap);
    CHECK(gap->severity == Severity::change);
    CHECK(gap->value == Approx(-0.020).margin(1e-6));
    REQUIRE(find(before, FindingKind::cut));
    const CutPair& cut = before.shaft->plan.recommended;
    s.choices.cut_tractor_half = known(cut.a);
    s.choices.cut_implement_half = known(cut.b);
    const Analysis after = answer(s);
    CHECK(after.verdict == Verdict::fits);
    CHECK(find(after, FindingKind::gap_at_shortest)->value >= s.rules.gap_aimed.value - cut_tolerance);
}

TEST_CASE("analysis: the gap is judged at its limit, not near it", "[analytic]") {
    Setup s = make_fitting();
    const double longest_closed = answer(s).shaft->travel.shortest.bound - s.rules.gap_required.value;
    s.driveline.closed_length = known(longest_closed);
    CHECK(answer(s).verdict == Verdict::fits);
    s.driveline.closed_length = known(longest_closed + 1e-6);
    CHECK(answer(s).verdict == Verdict::fits_after_change);
}

TEST_CASE("analysis: a shaft too short must not run, and one ordered by the numbers given fits", "[residual]") {
    Setup s = make_fitting();
    s.driveline.tractor_tube = known(0.150);
    s.driveline.implement_tube = known(0.150);
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::must_not_run);
    const Finding* none = find(a, FindingKind::no_cut_works);
    REQUIRE(none);
    const Remedy* order = find_remedy(*none, RemedyKind::order_shaft);
    REQUIRE(order);
    Setup ordered = s;
    ordered.driveline.closed_length = known(order->value);
    const double travel = order->second - order->value;
    const double tube = std::max(0.150 + travel, 1.5 * travel);  // one third of it, or 150 mm, left at the longest
    ordered.driveline.tractor_tube = ordered.driveline.implement_tube = known(tube);
    CHECK(answer(ordered).verdict == Verdict::fits);
}

TEST_CASE("analysis: a stop proposed where no cut works makes one work", "[residual]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.rules.angle_free = s.rules.angle_pto_off = s.rules.angle_stop = Limit{};
    // Just too little tube for the whole travel: roots as given, tubes equal.
    const double root = 0.300;
    double tube = 0.0;
    for (double t = 0.2; t < 1.5; t += 0.001) {
        s.driveline.closed_length = known(root + t);
        s.driveline.tractor_tube = s.driveline.implement_tube = known(t);
        if (answer(s).verdict == Verdict::must_not_run) tube = t;
        else if (tube > 0.0) break;
    }
    REQUIRE(tube > 0.0);
    s.driveline.closed_length = known(root + tube);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(tube);
    const Analysis bad = answer(s);
    const Finding* none = find(bad, FindingKind::no_cut_works);
    REQUIRE(none);
    for (const RemedyKind kind : {RemedyKind::lift_stop, RemedyKind::lower_stop}) {
        const Remedy* stop = find_remedy(*none, kind);
        if (!stop) continue;
        Setup stopped = s;
        (kind == RemedyKind::lift_stop ? stopped.choices.lift_stop : stopped.choices.lower_stop) = known(stop->value);
        CHECK(answer(stopped).verdict != Verdict::must_not_run);
    }
    CHECK((find_remedy(*none, RemedyKind::lift_stop) || find_remedy(*none, RemedyKind::lower_stop)));
}

TEST_CASE("analysis: the height above which the PTO must be off is where the joint reaches its limit", "[residual]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.rules.angle_stop = Limit{};
    const Analysis a = answer(s);
    int checked = 0;
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::joint_angle_over_travel || f.severity != Severity::condition) continue;
        const Remedy* off = find_remedy(f, RemedyKind::pto_off_above);
        REQUIRE(off);
        if (off->subject == "below") continue;
        ++checked;
        CHECK(angle_at(s, f.subject, off->value) <= f.limit + 1e-9);
        CHECK(angle_at(s, f.subject, off->value + 1e-5) > f.limit);
    }
    CHECK(checked > 0);
}

TEST_CASE("analysis: passing a joint's stop wants a lift stop, and with it the finding is gone", "[residual]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.rules.angle_stop = limit(to_radians(30.0));
    s.rules.angle_pto_off = limit(to_radians(28.0));
    const Analysis a = answer(s);
    const Finding* f = find(a, FindingKind::joint_angle_over_travel, "tractor joint", "lift_stop");
    REQUIRE(f);
    CHECK(f->severity == Severity::change);
    const Remedy* stop = find_remedy(*f, RemedyKind::lift_stop);
    REQUIRE(stop);
    s.choices.lift_stop = known(stop->value);
    CHECK_FALSE(find(answer(s), FindingKind::joint_angle_over_travel, "tractor joint", "lift_stop"));
    CHECK(std::find(f->cautions.begin(), f->cautions.end(), Caution::lift_stop_before_use) != f->cautions.end());
}

TEST_CASE("analysis: a joint bent too far in the working band must not run, outside it is a condition", "[analytic]") {
    Setup s = make_fitting();
    const double in_work = answer(s).shaft->work.tractor_angle.bound;
    s.rules.angle_free = limit(in_work - 1e-4);
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::must_not_run);
    REQUIRE(find(a, FindingKind::joint_angle_in_work, "tractor joint"));
    CHECK(find(a, FindingKind::joint_angle_in_work, "tractor joint")->severity == Severity::forbids);
    s.rules.angle_free = limit(std::max(in_work, answer(s).shaft->work.implement_angle.bound) + 1e-4);
    CHECK(answer(s).verdict != Verdict::must_not_run);
}

TEST_CASE("analysis: a margin inside the readings' error is too close to call, outside it is not", "[analytic]") {
    Setup s = make_fitting();
    const double longest_closed = answer(s).shaft->travel.shortest.bound - s.rules.gap_required.value;
    s.driveline.closed_length = known(longest_closed - 0.004, 0.005);
    const Analysis close = answer(s);
    CHECK(close.verdict == Verdict::too_close_to_call);
    const Finding* f = find(close, FindingKind::gap_at_shortest);
    REQUIRE(f);
    CHECK(f->band == Approx(0.005).margin(1e-9));  // one reading with an error: its own
    REQUIRE(find_remedy(*f, RemedyKind::measure));
    CHECK(find_remedy(*f, RemedyKind::measure)->subject == "driveline.shaft.closed_length");
    s.driveline.closed_length = known(longest_closed - 0.006, 0.005);
    CHECK(answer(s).verdict == Verdict::fits);
    s.driveline.closed_length = known(longest_closed + 0.006, 0.005);
    CHECK(answer(s).verdict == Verdict::fits_after_change);
}

TEST_CASE("analysis: every needed reading that is missing makes the answer not known and is named", "[analytic]") {
    Setup full = make_fitting();
    std::vector<std::string> needed;
    visit_readings(full, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
        if (r.known && (spec.need == Need::linkage || spec.need == Need::driveline)) needed.push_back(key);
    });
    CHECK(needed.size() >= 13);
    for (const std::string& key : needed) {
        CAPTURE(key);
        Setup s = full;
        visit_readings(s, [&](const std::string& k, Reading& r, const FieldSpec&) {
            if (k == key) r = Reading{};
        });
        const Analysis a = answer(s);
        CHECK(a.verdict == Verdict::not_known);
        CHECK(find(a, FindingKind::missing_reading, key));
    }
}

TEST_CASE("analysis: an implement without PTO input gets hole, length and pitch, and no shaft", "[analytic]") {
    Setup s = make_fitting();
    s.implement.pic = PicReadings{};
    s.has_driveline = false;
    s.tractor.pto = PtoReadings{};
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::fits);
    CHECK_FALSE(a.shaft);
    CHECK(find(a, FindingKind::upper_link_reach));
    CHECK(find(a, FindingKind::working_pitch));
    CHECK(find(a, FindingKind::pitch_range));
    CHECK_FALSE(find(a, FindingKind::gap_at_shortest));
    CHECK_FALSE(find(a, FindingKind::missing_reading));
}

TEST_CASE("analysis: a shaft that is not given is not known, never fitting", "[analytic]") {
    Setup s = make_fitting();
    s.has_driveline = false;
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find(answer(s), FindingKind::missing_reading, "driveline.use"));
}

TEST_CASE("analysis: rules that ask for no overlap judge no shaft", "[analytic]") {
    Setup s = make_fitting();
    s.rules.overlap_least = s.rules.overlap_fraction = Limit{};
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find(answer(s), FindingKind::missing_reading, "rules.overlap_least"));
}

TEST_CASE("analysis: a drawn implement without a drawbar is not known, and the drawbar is asked for", "[analytic]") {
    Setup s = make_fitting();
    s.implement.attachment = Attachment::drawn;
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::not_known);
    CHECK_FALSE(a.drawn);
    const Finding* f = find(a, FindingKind::missing_reading);
    REQUIRE(f);
    CHECK(f->subject == "tractor.drawbar_pin");
}

TEST_CASE("analysis: a link outside its own range is a change, with the pitch it would have", "[analytic]") {
    Setup s = make_fitting();
    const double e = answer(s).linkage->model.linkage.upper_length;
    s.tractor.upper_link.length_least = known(e - 0.1);
    s.tractor.upper_link.length_most = known(e - 1e-6);
    const Analysis a = answer(s);
    const Finding* f = find(a, FindingKind::upper_link_reach);
    REQUIRE(f);
    CHECK(f->severity == Severity::change);
    CHECK(a.verdict == Verdict::fits_after_change);
    s.tractor.upper_link.length_most = known(e + 1e-6);
    CHECK(answer(s).verdict == Verdict::fits);
}

TEST_CASE("analysis: a working height outside the travel is said", "[analytic]") {
    Setup s = make_fitting();
    s.choices.working_ball_height = known(0.700);
    const Analysis a = answer(s);
    CHECK(find(a, FindingKind::travel_bound, "working height", "outside"));
    CHECK(a.verdict != Verdict::fits);
}

TEST_CASE("findings: worst first, by severity, then by what hurts first", "[analytic]") {
    const auto make = [](FindingKind kind, Severity severity, double margin) {
        Finding f;
        f.kind = kind;
        f.severity = severity;
        f.has_limit = true;
        f.limit = 1.0;
        f.margin = margin;
        return f;
    };
    std::vector<Finding> f{make(FindingKind::clearance, Severity::good, 0.2), make(FindingKind::clearance, Severity::good, 0.1),
                           make(FindingKind::guard_gap, Severity::change, -0.9), make(FindingKind::gap_at_shortest, Severity::change, -0.1),
                           make(FindingKind::clearance, Severity::forbids, -0.1), make(FindingKind::separation, Severity::forbids, -0.01)};
    sort_findings(f);
    CHECK(f[0].kind == FindingKind::separation);
    CHECK(f[1].kind == FindingKind::clearance);
    CHECK(f[2].kind == FindingKind::gap_at_shortest);
    CHECK(f[3].kind == FindingKind::guard_gap);
    CHECK(f[4].margin == 0.1);
    CHECK(f[5].margin == 0.2);
}

TEST_CASE("verdict: follows from the worst that was found", "[analytic]") {
    Finding good, watch, condition, change, unknown, close, forbids;
    watch.severity = Severity::watch;
    condition.severity = Severity::condition;
    change.severity = Severity::change;
    unknown.severity = close.severity = Severity::unknown;
    close.band = 0.001;
    forbids.severity = Severity::forbids;
    CHECK(find_verdict({good, watch, condition}) == Verdict::fits);
    CHECK(find_verdict({good, change}) == Verdict::fits_after_change);
    CHECK(find_verdict({change, close}) == Verdict::too_close_to_call);
    CHECK(find_verdict({close, unknown}) == Verdict::not_known);
    CHECK(find_verdict({unknown, forbids}) == Verdict::must_not_run);
    CHECK(find_verdict({}) == Verdict::not_known);
}

TEST_CASE("analysis: with two threads it is that of one", "[metamorphic]") {
    for (Setup s : {make_setup_a(), make_fitting()}) {
        visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
            if (r.known) r.tolerance = spec.tolerance;
        });
        const Analysis one = analyze(s, millimetre_mark, BandEffort::draws_where_close, 1), two = analyze(s, millimetre_mark, BandEffort::draws_where_close, 2);
        CHECK(one.findings == two.findings);
        CHECK(one.findings.size() > 5);
        CHECK(one.evaluations == two.evaluations);
    }
}
