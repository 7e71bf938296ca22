// Which of several shafts suits: what is wrong with every one of them is told from what is wrong with one.
#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <utility>

#include "geometry/shaft_choice.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Travel stopped at 500 mm, link set for level work, shaft of equal tubes that suits.
Setup make_fitting() {
    Setup s = make_setup_a();
    s.choices.lift_stop = known(0.500);
    s.choices.upper_link_length = Reading{};
    s.driveline.closed_length = known(0.850);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.450);
    return s;
}

bool is_about(const Finding& f, const std::string& subject) { return f.subject == subject && f.severity < Severity::condition; }

}  // namespace

TEST_CASE("shaft choice: shafts that differ in the joint that is too weak have no matter in common", "[analytic]") {
    const Setup s = make_fitting();
    const ShaftAnalysis as_it_is = *analyze(s, millimetre_mark).shaft;
    Setup tractor = s, implement = s;
    tractor.driveline.key = "tractor";
    tractor.driveline.tractor_joint.angle_most = known(0.5 * as_it_is.work.tractor_angle.value);
    implement.driveline.key = "implement";
    implement.driveline.implement_joint.angle_most = known(0.5 * as_it_is.work.implement_angle.value);
    const ShaftStudy one = study_shafts({{s}, {tractor}, {implement}}, millimetre_mark);
    REQUIRE(one.choices.size() == 3);
    CHECK(one.choices[0].key == s.driveline.key);
    CHECK(one.choices[0].suits == ShaftSuits::as_it_is);
    const ShaftStudy both = study_shafts({{tractor}, {implement}}, millimetre_mark);
    for (const char* subject : {"tractor joint", "implement joint"}) {
        CAPTURE(subject);
        for (const Finding& f : both.others) CHECK_FALSE(is_about(f, subject));
        int reasons = 0;
        for (const ShaftChoice& c : both.choices) {
            for (const Finding& f : c.reasons) reasons += is_about(f, subject) ? 1 : 0;
        }
        CHECK(reasons > 0);
    }
    // The same joint too weak in both: a matter of neither.
    const ShaftStudy same = study_shafts({{tractor}, {tractor}}, millimetre_mark);
    CHECK(std::any_of(same.others.begin(), same.others.end(), [](const Finding& f) { return is_about(f, "tractor joint"); }));
}

TEST_CASE("shaft choice: a shaft whose lengths are not known has no plan, with a linkage or with distances taped", "[analytic]") {
    Setup s = make_fitting();
    s.driveline.closed_length = Reading{};
    CHECK(study_shafts({{s}}, millimetre_mark).choices[0].suits == ShaftSuits::not_known);
    s.tractor.lower_link = {};
    s.tractor.upper_link_pins.clear();
    for (const auto& [height, distance] : {std::pair{0.210, 0.950}, {0.560, 0.900}, {0.940, 0.980}})
        s.direct_readings.push_back({std::to_string(s.direct_readings.size()), known(height), known(distance), LengthReference::joint_centres});
    REQUIRE(analyze(s, millimetre_mark).direct);
    const ShaftChoice taped = study_shafts({{s}}, millimetre_mark).choices[0];
    CHECK_FALSE(taped.has_plan);
    CHECK(taped.suits == ShaftSuits::not_known);
}

TEST_CASE("shaft choice: of two that suit as they are the one with nothing to remark stands first", "[analytic]") {
    Setup plain = make_fitting(), assumed = plain;
    plain.driveline.key = "plain";
    assumed.driveline.key = "assumed";
    assumed.driveline.closed_length = known(0.840);  // more to spare, but a tube nobody measured
    assumed.driveline.implement_tube = Reading{};
    const ShaftStudy study = study_shafts({{assumed}, {plain}}, millimetre_mark);
    for (const ShaftChoice& c : study.choices) CHECK(c.suits == ShaftSuits::as_it_is);
    CHECK(study.choices[0].key == "plain");
    CHECK(study.choices[0].reasons.empty());
    CHECK(study.choices[1].spare > study.choices[0].spare);
}
