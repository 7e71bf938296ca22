// Joint angles against their limits: both sides of each, both ends of the travel, and remedies that do what they say.
#include <catch2/catch.hpp>

#include <algorithm>

#include "geometry/angle.h"
#include "geometry/joint_findings.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double step = 1e-4;  // rad, above the closeness of the extremes
const char* const tractor = "tractor joint";

/// Level at work, tractor joint 3 deg there and 46.6 deg with the hitch fully up, implement joint 24 deg.
Setup make_lifting() {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    return s;
}

/// A high stub and work near the top: the tractor joint bends more the lower the hitch goes.
Setup make_lowering() {
    Setup s = make_lifting();
    s.tractor.pto.stub_z = known(1.000);
    s.choices.working_ball_height = known(0.800);
    s.rules.angle_stop = s.rules.angle_pto_off = s.rules.angle_watch = Limit{};
    return s;
}

double tractor_angle(const Setup& s, double height) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.model.has_shaft);
    return make_pose_report(s, r.model, height).tractor_angle;
}

bool has_caution(const Finding& f, Caution c) {
    return std::find(f.cautions.begin(), f.cautions.end(), c) != f.cautions.end();
}

}  // namespace

TEST_CASE("joint limits: the free limit is not above the PTO-off limit, nor that above the stop", "[analytic]") {
    Setup s = make_lifting();
    s.rules.angle_pto_off = limit(to_radians(20.0));
    s.rules.angle_stop = limit(to_radians(45.0));
    JointLimits l = find_joint_limits(s, JointEnd::tractor);
    CHECK(l.free.value == to_radians(20.0));
    CHECK(l.stop.value == to_radians(45.0));
    s.driveline.tractor_joint.angle_most = known(to_radians(18.0));
    l = find_joint_limits(s, JointEnd::tractor);
    CHECK(l.free.value == to_radians(18.0));
    CHECK(l.pto_off.value == to_radians(18.0));
    CHECK(l.stop.value == to_radians(18.0));
    CHECK(find_joint_limits(s, JointEnd::implement).free.value == to_radians(20.0));
    s.driveline.tractor_joint.angle_most = known(to_radians(60.0));  // no leave to pass the rule set
    CHECK(find_joint_limits(s, JointEnd::tractor).stop.value == to_radians(45.0));
}

TEST_CASE("joint limits: a wide-angle joint has its own stop and is named from 10 deg below it", "[handbook]") {
    // Operator manuals of wide-angle shafts, grade B: red above 80 deg (one maker 70), amber above that less 10; the
    // plain partner amber above 10 deg.
    Setup s = make_lifting();
    s.driveline.tractor_joint.kind = JointKind::wide_angle;
    const JointLimits l = find_joint_limits(s, JointEnd::tractor);
    CHECK(l.free.value == Approx(to_radians(80.0)).epsilon(0).margin(1e-12));
    CHECK(l.stop.value == Approx(to_radians(80.0)).epsilon(0).margin(1e-12));
    CHECK(l.watch.value == Approx(to_radians(70.0)).epsilon(0).margin(1e-12));
    s.driveline.tractor_joint.angle_most = known(to_radians(70.0));
    CHECK(find_joint_limits(s, JointEnd::tractor).stop.value == Approx(to_radians(70.0)).epsilon(0).margin(1e-12));
    CHECK(find_joint_limits(s, JointEnd::tractor).watch.value == Approx(to_radians(60.0)).epsilon(0).margin(1e-12));
    s.driveline.tractor_joint.angle_most = known(to_radians(6.0));
    CHECK(find_joint_limits(s, JointEnd::tractor).watch.value == 0.0);
    const JointLimits partner = find_joint_limits(s, JointEnd::implement);
    CHECK(partner.free.value == to_radians(25.0));
    CHECK(partner.watch.value == Approx(to_radians(10.0)).epsilon(0).margin(1e-12));
}

TEST_CASE("joint over the travel: a stop inside the readings' error is too close to call, with a stop that is certain",
          "[residual]") {
    Setup s = make_lifting();
    s.choices.working_band_high = known(0.600);
    s.driveline.tractor_joint.offset = known(0.0);
    s.tractor.pto.stub_slope = known(0.0, 0.010);
    const double most = answer(s).shaft->travel.tractor_angle.bound;
    s.rules.angle_stop = limit(most + 0.009);
    const Analysis a = answer(s);
    const Finding* f = nullptr;
    for (const Finding& one : a.findings) {
        if (one.other == "stop_too_close" && one.subject == tractor) f = &one;
    }
    REQUIRE(f);
    CHECK(f->band == Approx(0.010).epsilon(0).margin(1e-6));
    for (const Remedy& r : f->remedies) {
        if (r.kind == RemedyKind::lift_stop) s.choices.lift_stop = known(r.value);
    }
    REQUIRE(s.choices.lift_stop.known);
    CHECK(answer(s).shaft->travel.tractor_angle.bound + 0.010 <= s.rules.angle_stop.value + 1e-6);
    s.choices.lift_stop = Reading{};
    s.rules.angle_stop = limit(most + 0.011);
    for (const Finding& one : answer(s).findings) CHECK(one.other != "stop_too_close");
}

TEST_CASE("joint in work: good, watch and forbidden at the two sides of their limits", "[analytic]") {
    Setup s = make_lifting();
    s.choices.working_band_high = known(0.600);
    const double most = answer(s).shaft->work.tractor_angle.bound;
    s.rules.angle_watch = limit(most + step);
    const Analysis good = answer(s);
    REQUIRE(find_finding(good, FindingKind::joint_angle_in_work, tractor));
    CHECK(find_finding(good, FindingKind::joint_angle_in_work, tractor)->severity == Severity::good);
    s.rules.angle_watch = limit(most - step);
    const Analysis watch = answer(s);
    REQUIRE(find_finding(watch, FindingKind::joint_angle_watch, tractor));
    CHECK(find_finding(watch, FindingKind::joint_angle_watch, tractor)->severity == Severity::watch);
    s.rules.angle_free = limit(most - step);
    const Analysis bad = answer(s);
    CHECK(bad.verdict == Verdict::must_not_run);
    const Finding* f = find_finding(bad, FindingKind::joint_angle_in_work, tractor);
    REQUIRE(f);
    CHECK(f->severity == Severity::forbids);
    CHECK(f->margin == Approx(-step).epsilon(0).margin(1e-9));
    CHECK(has_caution(*f, Caution::keep_from_turning_shaft));
    s.rules.angle_free = limit(most + step);
    CHECK(answer(s).verdict != Verdict::must_not_run);
}

TEST_CASE("joint in work: a PTO-off limit below the free limit forbids work above it", "[analytic]") {
    Setup s = make_lifting();
    s.choices.working_band_high = known(0.600);
    const double most = answer(s).shaft->work.tractor_angle.bound;
    s.rules.angle_pto_off = limit(most - step);
    CHECK(s.rules.angle_free.value > most);
    CHECK(answer(s).verdict == Verdict::must_not_run);
}

TEST_CASE("joint in work: heights offered to work at are within the limit", "[residual]") {
    Setup s = make_lifting();
    s.choices.working_ball_height = known(0.800);
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::joint_angle_in_work, tractor);
    REQUIRE(f);
    REQUIRE(f->severity == Severity::forbids);
    const Remedy* r = find_remedy(*f, RemedyKind::working_height);
    REQUIRE(r);
    // The link is set anew for each working height; with the link as it is now the heights hold.
    s.choices.upper_link_length = known(a.linkage->model.linkage.upper_length);
    for (const double h : {r->value + 1e-6, 0.5 * (r->value + r->second), r->second - 1e-6}) {
        s.choices.working_ball_height = known(h);
        const Analysis b = answer(s);
        const Finding* in_work = find_finding(b, FindingKind::joint_angle_in_work, tractor);
        if (!in_work) in_work = find_finding(b, FindingKind::joint_angle_watch, tractor);
        REQUIRE(in_work);
        CHECK(in_work->severity >= Severity::watch);
    }
    s.choices.working_ball_height = known(r->second + 1e-4);
    const Analysis beyond = answer(s);
    CHECK(find_finding(beyond, FindingKind::joint_angle_in_work, tractor)->severity == Severity::forbids);
}

TEST_CASE("joint in work: inside the readings' error on either side it is too close to call", "[analytic]") {
    Setup s = make_lifting();
    s.choices.working_band_high = known(0.600);
    s.rules.angle_watch = s.rules.angle_pto_off = s.rules.angle_stop = Limit{};
    s.driveline.tractor_joint.offset = known(0.0);  // so that the slope does not move the joint
    s.tractor.pto.stub_slope = known(0.0, 0.010);
    const Analysis a = answer(s);
    const double most = a.shaft->work.tractor_angle.bound;
    // The stub's slope is the only reading in error and turns the angle one to one.
    CHECK(find_finding(a, FindingKind::joint_angle_in_work, tractor)->band == Approx(0.010).epsilon(0).margin(1e-6));
    for (const double off : {-0.009, 0.009}) {
        s.rules.angle_free = limit(most + off);
        CHECK(answer(s).verdict == Verdict::too_close_to_call);
    }
    s.rules.angle_free = limit(most + 0.011);
    CHECK(answer(s).verdict != Verdict::too_close_to_call);
    s.rules.angle_free = limit(most - 0.011);
    CHECK(answer(s).verdict == Verdict::must_not_run);
}

TEST_CASE("joint over the travel: condition above the PTO-off limit, change above the stop", "[analytic]") {
    Setup s = make_lifting();
    const double most = answer(s).shaft->travel.tractor_angle.bound;
    const auto severity = [&](const char* other) {
        const Analysis a = answer(s);
        const Finding* f = find_finding(a, FindingKind::joint_angle_over_travel, tractor, other);
        return f ? f->severity : Severity::good;
    };
    s.rules.angle_free = s.rules.angle_pto_off = s.rules.angle_stop = limit(most + step);
    CHECK(severity("") == Severity::good);
    s.rules.angle_free = limit(most - step);
    CHECK(severity("no_work") == Severity::condition);
    CHECK(severity("pto_off") == Severity::good);
    s.rules.angle_pto_off = limit(most - step);
    CHECK(severity("pto_off") == Severity::condition);
    s.rules.angle_stop = limit(most - step);
    CHECK(severity("lift_stop") == Severity::change);
    CHECK(answer(s).verdict == Verdict::fits_after_change);
}

TEST_CASE("joint over the travel: inside the readings' error of the stop it is too close to call", "[residual]") {
    Setup s = make_lifting();
    s.driveline.tractor_joint.offset = known(0.0);
    s.tractor.pto.stub_slope = known(0.0, 0.010);  // moves the angle one to one
    s.rules.angle_pto_off = s.rules.angle_stop = Limit{};
    const double most = answer(s).shaft->travel.tractor_angle.bound;
    for (const double off : {-0.009, 0.009}) {
        s.rules.angle_stop = limit(most + off);
        const Analysis a = answer(s);
        CHECK(a.verdict == Verdict::too_close_to_call);
        const Finding* f = find_finding(a, FindingKind::joint_angle_over_travel, tractor, "stop_too_close");
        REQUIRE(f);
        CHECK(f->band == Approx(0.010).epsilon(0).margin(1e-6));
        REQUIRE(find_remedy(*f, RemedyKind::measure));
        CHECK(find_remedy(*f, RemedyKind::measure)->subject == "tractor.pto.stub_slope");
        const Remedy* stop = find_remedy(*f, RemedyKind::lift_stop);
        REQUIRE(stop);
        CHECK(tractor_angle(s, stop->value) <= s.rules.angle_stop.value - 0.010 + 1e-6);
        Setup stopped = s;
        stopped.choices.lift_stop = known(stop->value - 1e-5);
        CHECK(answer(stopped).verdict == Verdict::fits);
    }
    s.rules.angle_stop = limit(most + 0.011);
    CHECK(answer(s).verdict == Verdict::fits);
    s.rules.angle_stop = limit(most - 0.011);
    CHECK(answer(s).verdict == Verdict::fits_after_change);
}

TEST_CASE("joint over the travel: a limit passed only below gives the height below which the PTO is off", "[residual]") {
    Setup s = make_lowering();
    s.rules.angle_free = limit(tractor_angle(s, 0.450));
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::joint_angle_over_travel, tractor);
    REQUIRE(f);
    CHECK(f->severity == Severity::condition);
    CHECK(f->height == Approx(0.200).epsilon(0).margin(1e-9));
    CHECK(has_caution(*f, Caution::pto_off_above_height));
    REQUIRE(f->remedies.size() == 1);
    CHECK(f->remedies[0].kind == RemedyKind::pto_off_above);
    CHECK(f->remedies[0].subject == "below");
    CHECK(tractor_angle(s, f->remedies[0].value) <= f->limit + 1e-12);
    CHECK(tractor_angle(s, f->remedies[0].value - 1e-5) > f->limit);
}

TEST_CASE("joint over the travel: a stop passed only below wants a lower stop, and with it the finding is gone", "[residual]") {
    Setup s = make_lowering();
    s.rules.angle_free = s.rules.angle_stop = limit(tractor_angle(s, 0.450));
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::joint_angle_over_travel, tractor, "lift_stop");
    REQUIRE(f);
    CHECK(f->severity == Severity::change);
    CHECK_FALSE(find_remedy(*f, RemedyKind::lift_stop));
    const Remedy* stop = find_remedy(*f, RemedyKind::lower_stop);
    REQUIRE(stop);
    s.choices.lower_stop = known(stop->value);
    CHECK_FALSE(find_finding(answer(s), FindingKind::joint_angle_over_travel, tractor, "lift_stop"));
}

TEST_CASE("joint over the travel: a limit as high as the stop adds no second height to it", "[analytic]") {
    Setup s = make_lifting();
    s.driveline.tractor_joint.angle_most = known(to_radians(30.0));
    const Analysis a = answer(s);
    const Finding* stop = find_finding(a, FindingKind::joint_angle_over_travel, tractor, "lift_stop");
    REQUIRE(stop);
    CHECK(stop->limit == to_radians(30.0));
    CHECK_FALSE(find_finding(a, FindingKind::joint_angle_over_travel, tractor, "pto_off"));
    const Finding* no_work = find_finding(a, FindingKind::joint_angle_over_travel, tractor, "no_work");
    REQUIRE(no_work);  // between 25 and 30 deg
    REQUIRE(find_remedy(*no_work, RemedyKind::pto_off_above));
    CHECK(find_remedy(*no_work, RemedyKind::pto_off_above)->value < find_remedy(*stop, RemedyKind::lift_stop)->value);
}

TEST_CASE("joint over the travel: with no angle limit at all nothing is said against any angle", "[analytic]") {
    Setup s = make_lifting();
    s.rules.angle_free = s.rules.angle_pto_off = s.rules.angle_stop = s.rules.angle_watch = Limit{};
    const Analysis a = answer(s);
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::joint_angle_in_work && f.kind != FindingKind::joint_angle_over_travel) continue;
        CHECK(f.severity == Severity::good);
        CHECK_FALSE(f.has_limit);
    }
}

TEST_CASE("joint over the travel: the height of a condition allows for the readings' errors", "[residual]") {
    Setup s = make_lifting();
    s.choices.working_band_high = known(0.600);
    s.driveline.tractor_joint.offset = known(0.0);
    s.rules.angle_stop = s.rules.angle_pto_off = Limit{};
    const auto height = [&](const Setup& setup) {
        const Analysis a = answer(setup);
        const Finding* f = find_finding(a, FindingKind::joint_angle_over_travel, tractor, "no_work");
        REQUIRE(f);
        REQUIRE(find_remedy(*f, RemedyKind::pto_off_above));
        return find_remedy(*f, RemedyKind::pto_off_above)->value;
    };
    const double exact = height(s);
    CHECK(tractor_angle(s, exact) == Approx(to_radians(25.0)).epsilon(0).margin(1e-5));
    s.tractor.pto.stub_slope = known(0.0, 0.010);  // moves the angle by as much
    const double allowed = height(s);
    CHECK(allowed < exact);
    CHECK(tractor_angle(s, allowed) == Approx(to_radians(25.0) - 1.05 * 0.010).epsilon(0).margin(1e-5));
}

TEST_CASE("joint over the travel: a lift stop at the height named settles it for certain", "[residual]") {
    Setup s = make_lifting();
    s.choices.working_band_high = known(0.600);
    s.driveline.tractor_joint.offset = known(0.0);
    s.tractor.pto.stub_slope = known(0.0, 0.010);
    s.rules.angle_stop = limit(to_radians(40.0));
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::joint_angle_over_travel, tractor, "lift_stop");
    REQUIRE(f);
    REQUIRE(find_remedy(*f, RemedyKind::lift_stop));
    s.choices.lift_stop = known(find_remedy(*f, RemedyKind::lift_stop)->value);
    const Analysis stopped = answer(s);
    for (const char* other : {"lift_stop", "stop_too_close"}) {
        CHECK_FALSE(find_finding(stopped, FindingKind::joint_angle_over_travel, tractor, other));
    }
}

TEST_CASE("joint in work: of several ranges of heights the nearest to the working height is offered", "[analytic]") {
    Setup s = make_lifting();
    s.choices.working_ball_height = known(0.850);
    Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.linkage && a.shaft));
    REQUIRE(find_finding(a, FindingKind::joint_angle_in_work, tractor)->severity == Severity::forbids);
    a.shaft->tractor_free = {{0.30, 0.40}, {0.50, 0.60}, {1.30, 1.40}};
    for (const Finding& f : check_joint_angles(s, *a.linkage, *a.shaft, ErrorModel(s), ErrorBands())) {
        if (f.kind != FindingKind::joint_angle_in_work || f.subject != tractor) continue;
        REQUIRE(f.remedies.size() == 1);
        CHECK((f.remedies[0].kind == RemedyKind::working_height && f.remedies[0].value == 0.50));
    }
}
