// What is said about the linkage: every obstacle, reach, pitch, dead centre, travel; remedies are applied.
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/angle.h"
#include "geometry/mounted_findings.h"
#include "geometry/pose_report.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_level() {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    return s;
}

}  // namespace

TEST_CASE("obstacles: a hole that does not exist, or is not chosen among several, is not known", "[analytic]") {
    Setup s = make_level();
    s.choices.mast_pin = std::string("9");  // not a literal: g++ 12 warns falsely here
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "choices.mast_pin", "no_such_pin"));
    s = make_level();
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(1.060)});
    CHECK(answer(s).verdict == Verdict::not_known);
    const Analysis several = answer(s);
    const Finding* f = find_finding(several, FindingKind::missing_reading, "choices.upper_link_pin", "pin_not_chosen");
    REQUIRE(f);
    REQUIRE(f->terms.size() == 2);  // the holes there are, by name
    CHECK(f->terms[1].symbol == "2");
    s.choices.upper_link_pin = std::string("2");
    CHECK_FALSE(find_finding(answer(s), FindingKind::missing_reading));
}

TEST_CASE("obstacles: a typed link that closes nowhere must not run, with part and shortfall", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = known(0.150);
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::must_not_run);
    const Finding* f = find_finding(a, FindingKind::linkage_cannot_close, "upper link", "too_short");
    REQUIRE(f);
    CHECK(f->value > 0.0);
    CHECK(f->rule.grade == Grade::D);
}

TEST_CASE("obstacles: a pitch beyond the dead centre must not run", "[analytic]") {
    Setup s = make_level();
    s.choices.working_pitch = known(to_radians(-100.0));  // the mast lies ahead of the line from ball to pin
    const Analysis a = answer(s);
    CHECK(a.verdict == Verdict::must_not_run);
    CHECK(find_finding(a, FindingKind::linkage_cannot_close));
}

TEST_CASE("obstacles: stops that leave no travel are named", "[analytic]") {
    Setup s = make_level();
    s.choices.lift_stop = known(0.150);
    CHECK(answer(s).verdict == Verdict::must_not_run);
    CHECK(find_finding(answer(s), FindingKind::travel_bound, "choices.lift_stop", "empty_travel"));
    s = make_level();
    s.choices.lower_stop = known(1.000);
    CHECK(answer(s).verdict == Verdict::must_not_run);
    CHECK(find_finding(answer(s), FindingKind::travel_bound, "choices.lower_stop", "empty_travel"));
}

TEST_CASE("obstacles: shaft lengths that contradict each other are not known", "[analytic]") {
    Setup s = make_level();
    s.driveline.tractor_tube = known(0.900);  // longer than the closed shaft
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "driveline.shaft", "contradiction"));
    s = make_level();
    s.choices.cut_tractor_half = known(0.500);  // the whole tube
    CHECK(answer(s).verdict == Verdict::not_known);
    s = make_level();
    s.driveline.tractor_tube = s.driveline.implement_tube = Reading{};
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "driveline.shaft.tractor_tube", "missing"));
}

TEST_CASE("obstacles: wide-angle joints at both ends are said not to be modelled", "[analytic]") {
    Setup s = make_level();
    s.driveline.tractor_joint.kind = s.driveline.implement_joint.kind = JointKind::wide_angle;
    s.driveline.tractor_joint.spacing = s.driveline.implement_joint.spacing = known(0.080);
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find_finding(answer(s), FindingKind::joint_model));
    s.driveline.implement_joint.kind = JointKind::plain;
    s.driveline.tractor_joint.spacing = Reading{};
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "driveline.tractor_joint.spacing"));
}

TEST_CASE("obstacles: a floating link wants its slack, a length typed in another reference its distances", "[analytic]") {
    for (const auto& [kind, key] : {std::pair{UpperLinkKind::slot, "implement.upper_link_float.slack"},
                                    std::pair{UpperLinkKind::chain, "implement.upper_link_float.slack"},
                                    std::pair{UpperLinkKind::swing_strap, "implement.upper_link_float.strap_length"}}) {
        Setup s = make_level();
        s.implement.upper_link_float.kind = kind;
        CHECK(answer(s).verdict == Verdict::not_known);
        CHECK(find_finding(answer(s), FindingKind::missing_reading, key));
    }
    Setup s = make_level();
    s.driveline.reference = LengthReference::locking_grooves;
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "driveline.tractor_joint.centre_to_groove"));
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "driveline.implement_joint.centre_to_groove"));
}

TEST_CASE("obstacles: a driven shaft without a working height is not known, a blade with its link typed is", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.work.ball_height = Reading{};
    CHECK(answer(s).verdict == Verdict::not_known);
    CHECK(find_finding(answer(s), FindingKind::missing_reading, "choices.working_ball_height"));
    s.implement.pic = PicReadings{};
    CHECK(answer(s).verdict == Verdict::fits);
    CHECK(answer(s).linkage.has_value());
}

TEST_CASE("reach: judged at the end of the link's range that is known", "[analytic]") {
    Setup s = make_level();
    const double e = answer(s).linkage->model.linkage.upper_length;
    const auto severity = [&](const Reading& least, const Reading& most) {
        s.tractor.upper_link = {least, most, Reading{}};
        return find_finding(answer(s), FindingKind::upper_link_reach)->severity;
    };
    CHECK(severity(known(e - 0.1), known(e + 1e-6)) == Severity::good);
    CHECK(severity(known(e - 0.1), known(e - 1e-6)) == Severity::change);
    CHECK(severity(known(e + 1e-6), known(e + 0.1)) == Severity::change);
    CHECK(severity(Reading{}, Reading{}) == Severity::watch);
    CHECK(severity(known(e - 1e-6), Reading{}) == Severity::watch);
    CHECK(severity(known(e + 1e-6), Reading{}) == Severity::change);
    CHECK(severity(Reading{}, known(e + 1e-6)) == Severity::watch);
    CHECK(severity(Reading{}, known(e - 1e-6)) == Severity::change);
}

TEST_CASE("working pitch: the length named gives the pitch wanted, for a rigid and for a slotted link", "[residual]") {
    for (const UpperLinkKind kind : {UpperLinkKind::rigid, UpperLinkKind::slot}) {
        Setup s = make_setup_a();
        if (kind == UpperLinkKind::slot) s.implement.upper_link_float = {kind, known(0.040), Reading{}};
        s.choices.working_pitch = known(to_radians(1.0));
        Analysis a = answer(s);
        const Finding* f = find_finding(a, FindingKind::working_pitch);
        REQUIRE(f);
        REQUIRE(f->severity == Severity::change);
        const Remedy* set = find_remedy(*f, RemedyKind::set_upper_link);
        REQUIRE(set);
        s.choices.upper_link_length = known(set->value);
        a = answer(s);
        CHECK(find_finding(a, FindingKind::working_pitch)->severity == Severity::good);
        CHECK(find_finding(a, FindingKind::working_pitch)->value == Approx(to_radians(1.0)).epsilon(0).margin(1e-9));
    }
}

TEST_CASE("working pitch: no length of the link is named when the ground decides the pitch", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.200), Reading{}};
    s.choices.upper_link_length = known(0.560);
    s.choices.working_pitch = known(0.0);
    s.implement.ground_contacts = {{"wheel", known(1.500), known(-0.150), known(0.200)}};  // rests at 1.9 deg rear up
    const Analysis a = answer(s);
    REQUIRE(a.linkage->working_float);
    REQUIRE(a.linkage->working_float->state == FloatState::ground_borne);
    const PoseReport report = make_pose_report(s, a.linkage->model, a.linkage->model.working_height);
    CHECK(report.float_state == FloatState::ground_borne);
    CHECK(report.pose.pitch == Approx(a.linkage->working_float->pitch).epsilon(0).margin(1e-9));
    const Finding* f = find_finding(a, FindingKind::working_pitch);
    REQUIRE(f);
    REQUIRE(f->severity == Severity::change);
    CHECK_FALSE(find_remedy(*f, RemedyKind::set_upper_link));
}

TEST_CASE("floating link: balls too low for what stands on the ground are said", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.200), Reading{}};
    s.choices.upper_link_length = known(0.560);
    s.implement.ground_contacts = {{"wheel", known(0.150), known(-0.300), known(0.800)}};
    const Analysis a = answer(s);
    REQUIRE(a.linkage->working_float);
    REQUIRE(a.linkage->working_float->state == FloatState::no_pitch);
    CHECK(find_finding(a, FindingKind::floating_link_band)->severity == Severity::change);
}

TEST_CASE("dead centre: the stop named takes it out of the travel", "[residual]") {
    struct Case {
        double mast, link, work;
        const char* name;
        RemedyKind stop;
    };
    // Short link: stretched with the hitch low. Short mast, long link: folded with the hitch high.
    for (const Case& c : {Case{0.610, 0.300, 0.400, "stretched", RemedyKind::lower_stop},
                          Case{0.450, 1.000, 0.300, "folded", RemedyKind::lift_stop}}) {
        CAPTURE(c.name);
        Setup s = make_setup_a();
        s.implement.pic = PicReadings{};
        s.implement.mast_pins[0].height = known(c.mast);
        s.choices.upper_link_length = known(c.link);
        s.choices.working_ball_height = known(c.work);
        const Analysis a = answer(s);
        CHECK(a.verdict == Verdict::must_not_run);
        const Finding* f = find_finding(a, FindingKind::dead_centre_in_travel, c.name);
        REQUIRE(f);
        CHECK(f->severity == Severity::forbids);
        const Remedy* stop = find_remedy(*f, c.stop);
        REQUIRE(stop);
        CHECK((c.stop == RemedyKind::lift_stop ? stop->value < f->height : stop->value > f->height));
        (c.stop == RemedyKind::lift_stop ? s.choices.lift_stop : s.choices.lower_stop) = known(stop->value);
        const Analysis stopped = answer(s);
        CHECK(stopped.verdict != Verdict::must_not_run);
        CHECK_FALSE(find_finding(stopped, FindingKind::dead_centre_in_travel, c.name));
    }
}

TEST_CASE("travel: a working height outside is a change, and the heights named are inside", "[residual]") {
    Setup s = make_setup_a();
    for (const double h : {0.100, 1.100}) {
        s.choices.working_ball_height = known(h);
        const Analysis a = answer(s);
        const Finding* f = find_finding(a, FindingKind::travel_bound, "working height", "outside");
        REQUIRE(f);
        CHECK(f->severity == Severity::change);
        const Remedy* r = find_remedy(*f, RemedyKind::working_height);
        REQUIRE(r);
        Setup inside = s;
        for (const double at : {r->value, r->second}) {
            inside.choices.working_ball_height = known(at);
            CHECK_FALSE(find_finding(answer(inside), FindingKind::travel_bound, "working height", "outside"));
        }
    }
}

TEST_CASE("travel: an end is a finding where tape and arm both have one, not where one alone was given", "[analytic]") {
    Setup s = make_setup_a();
    CHECK_FALSE(find_finding(answer(s), FindingKind::travel_bound));
    add_lift_a(s.tractor, -20.0, 40.0);
    const Analysis a = answer(s);
    const Finding *low = find_finding(a, FindingKind::travel_bound, "low"), *high = find_finding(a, FindingKind::travel_bound, "high");
    REQUIRE((low && high));
    CHECK((low->value == a.linkage->model.travel.low && high->value == a.linkage->model.travel.high));
}

TEST_CASE("travel: the shaft is judged at the working height, whatever band was typed beside it", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.working_band_low = known(0.600);
    s.choices.working_band_high = known(0.500);
    const Analysis a = answer(s);
    CHECK(a.linkage->model.working_band == HeightRange{0.300, 0.600});
    s.choices.working_band_low = Reading{};
    s.choices.working_band_high = known(0.250);
    CHECK(answer(s).linkage->model.working_band == HeightRange{0.250, 0.300});
}

TEST_CASE("working pitch: a link set by hand without a pitch asked for is reported, not judged", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = known(0.690);
    const Finding* f = nullptr;
    const Analysis plain = answer(s);
    REQUIRE((f = find_finding(plain, FindingKind::working_pitch)));
    CHECK_FALSE(f->has_limit);
    CHECK(f->severity == Severity::good);
    s.implement.work.pitch = known(f->value + to_radians(1.0));
    const Analysis asked = answer(s);
    REQUIRE((f = find_finding(asked, FindingKind::working_pitch)));
    CHECK(f->has_limit);
    CHECK(f->severity == Severity::change);
}
