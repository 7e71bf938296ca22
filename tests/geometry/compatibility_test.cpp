// Parts that do not belong together are named, on the right side of each limit.
#include <catch2/catch.hpp>

#include "geometry/category.h"
#include "geometry/compatibility.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Severity severity_of(const std::vector<Finding>& findings, FindingKind kind, const std::string& subject = "") {
    for (const Finding& f : findings) {
        if (f.kind == kind && (subject.empty() || f.subject == subject)) return f.severity;
    }
    FAIL("no such finding: " << finding_word(kind));
    return Severity::good;
}

bool has(const std::vector<Finding>& findings, FindingKind kind) {
    for (const Finding& f : findings) {
        if (f.kind == kind) return true;
    }
    return false;
}

Setup make_matching() {
    Setup s = make_setup_a();
    s.tractor.hitch = {Category::cat2, YesNo::no, known(0.0287), known(0.0257)};
    s.implement.hitch = {Category::cat2, YesNo::no, known(0.028), known(0.0255), known(0.825)};
    s.tractor.lower_link.half_spread_at_ball = known(0.435);
    s.tractor.pto.type = s.implement.pic.type = PtoType::type1;
    s.tractor.pto.speeds_rpm = {540, 1000};
    s.implement.pic.speed_rpm = 540;
    s.tractor.pto.splines = s.implement.pic.splines = 6;
    s.driveline.tractor_joint.splines = s.driveline.implement_joint.splines = 6;
    s.tractor.pto.rotation = s.implement.pic.rotation = Rotation::clockwise;
    s.tractor.pto.power = known(40e3);
    s.implement.pic.power = known(30e3);
    s.driveline.power_540 = known(45e3);
    s.driveline.power_1000 = known(70e3);
    return s;
}

}  // namespace

TEST_CASE("hitch match: category 2 parts on both sides are good", "[standard]") {
    const std::vector<Finding> f = check_hitch_match(ErrorModel(make_matching()));
    CHECK(f.size() == 5);
    for (const Finding& one : f) CHECK(one.severity == Severity::good);
}

TEST_CASE("hitch match: unlike categories, narrow hitches and pins are changes", "[standard]") {
    Setup s = make_matching();
    s.implement.hitch.category = Category::cat1;
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::category_match) == Severity::change);
    s = make_matching();
    s.implement.hitch.narrow = YesNo::yes;
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::category_match) == Severity::change);
    s = make_matching();
    s.implement.hitch.lower_pin_diameter = known(0.022);  // a category 1 pin in a category 2 ball: bushing wanted
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::pin_match, "lower pin") == Severity::change);
    s.choices.lower_bushings = YesNo::yes;
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::pin_match, "lower pin") == Severity::good);
    s = make_matching();
    s.implement.hitch.upper_pin_diameter = known(0.0258);  // does not go in
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::pin_match, "upper pin") == Severity::forbids);
}

TEST_CASE("hitch match: a pin too big by less than its reading's error is too close to call", "[analytic]") {
    Setup s = make_matching();
    const double bore = s.tractor.hitch.upper_pin_diameter.value;
    s.implement.hitch.upper_pin_diameter = known(bore + 0.0004, 0.0005);
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::pin_match, "upper pin") == Severity::unknown);
    s.implement.hitch.upper_pin_diameter = known(bore + 0.0006, 0.0005);
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::pin_match, "upper pin") == Severity::forbids);
}

TEST_CASE("hitch match: the ball spread is the shoulder span plus a ball", "[standard]") {
    Setup s = make_matching();
    s.tractor.lower_link.half_spread_at_ball = known(0.5 * (0.870 + 0.0249));
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::span_match) == Severity::good);
    s.tractor.lower_link.half_spread_at_ball = known(0.5 * (0.870 + 0.0251));
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::span_match) == Severity::change);
}

TEST_CASE("category figures: span plus ball width is the ball centre spread", "[standard]") {
    // PLOUGH, GT, JIS6705: 718, 870, 1010, 1223.5 mm.
    const double spread[] = {0.718, 0.870, 1.010, 1.2235};
    const Category categories[] = {Category::cat1, Category::cat2, Category::cat3, Category::cat4};
    for (std::size_t i = 0; i < 4; ++i) {
        const CategoryFigures c = find_category_figures(categories[i]);
        CHECK(c.shoulder_span.value + c.ball_width.value == Approx(spread[i]).epsilon(0).margin(1e-12));
    }
    CHECK(find_category_figures(Category::cat0).shoulder_span.value == 0.0);
}

TEST_CASE("PTO match: like parts are good, and a blade has none to match", "[standard]") {
    const std::vector<Finding> f = check_pto_match(ErrorModel(make_matching()));
    CHECK(f.size() == 6);
    for (const Finding& one : f) CHECK((one.severity == Severity::good || one.kind == FindingKind::driveline_power));
    Setup blade = make_matching();
    blade.implement.pic = PicReadings{};
    CHECK(check_pto_match(ErrorModel(blade)).empty());
}

TEST_CASE("PTO match: a speed that suits is said with all that the tractor has", "[practice]") {
    const std::vector<Finding> all = check_pto_match(ErrorModel(make_matching()));
    const auto f = std::find_if(all.begin(), all.end(), [](const Finding& one) { return one.kind == FindingKind::pto_speed_match; });
    REQUIRE(f != all.end());
    CHECK((f->subject == "540" && f->other == "540, 1000"));
}

TEST_CASE("PTO match: wrong speed, splines or rotation must not run", "[practice]") {
    Setup s = make_matching();
    s.choices.pto_speed_rpm = 1000;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_speed_match) == Severity::forbids);
    s = make_matching();
    s.tractor.pto.speeds_rpm = {1000};
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_speed_match) == Severity::forbids);
    s = make_matching();
    s.implement.pic.rotation = Rotation::counterclockwise;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_rotation_match) == Severity::forbids);
    s = make_matching();
    s.driveline.tractor_joint.splines = 21;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_spline_match, "tractor end") == Severity::forbids);
    s.driveline.adapter_declared = YesNo::yes;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_spline_match, "tractor end") == Severity::watch);
}

TEST_CASE("PTO match: the driveline carries the lesser of what the tractor gives and the implement takes", "[practice]") {
    Setup s = make_matching();
    s.driveline.power_540 = known(30e3);
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::driveline_power) == Severity::watch);  // below the tractor's
    s.driveline.power_540 = known(30e3 - 1.0);
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::driveline_power) == Severity::change);
    s.driveline.power_540 = known(40e3);
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::driveline_power) == Severity::good);
}

TEST_CASE("compatibility: what nobody typed is not compared", "[analytic]") {
    const Setup bare = make_setup_a();
    CHECK_FALSE(has(check_hitch_match(ErrorModel(bare)), FindingKind::category_match));
    CHECK_FALSE(has(check_pto_match(ErrorModel(bare)), FindingKind::driveline_power));
    CHECK(severity_of(check_pto_match(ErrorModel(bare)), FindingKind::pto_speed_match) == Severity::watch);  // said, for it can kill
}

TEST_CASE("hitch match: bushings said to be fitted leave the category a word, and pins to be judged one by one", "[practice]") {
    Setup s = make_matching();
    s.implement.hitch.category = Category::cat1;
    s.implement.hitch.lower_pin_diameter = known(0.022);
    s.choices.lower_bushings = YesNo::yes;
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::category_match) == Severity::change);
    s.choices.upper_bushing = YesNo::yes;
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::category_match) == Severity::watch);
    s.implement.hitch.lower_pin_diameter = known(0.030);  // no bushing makes a pin smaller
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::pin_match, "lower pin") == Severity::forbids);
}

TEST_CASE("hitch match: a mast whose height is not known is not compared", "[analytic]") {
    Setup s = make_matching();
    s.implement.mast_pins[0].height = Reading{};
    CHECK_FALSE(has(check_hitch_match(ErrorModel(s)), FindingKind::mast_match));
}

TEST_CASE("hitch match: a mast is worth a word when it is 40 mm off its category's", "[practice]") {
    Setup s = make_matching();  // category 2: 610 mm
    s.implement.mast_pins[0].height = known(0.6499);
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::mast_match) == Severity::good);
    s.implement.mast_pins[0].height = known(0.483);  // the older mast height of the same category, still allowed
    CHECK(severity_of(check_hitch_match(ErrorModel(s)), FindingKind::mast_match) == Severity::watch);
}

TEST_CASE("PTO match: a PTO type stands for its speed and splines where these were not typed", "[standard]") {
    Setup s = make_matching();
    s.tractor.pto.speeds_rpm.clear();
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_speed_match) == Severity::good);
    s.implement.pic.speed_rpm = 1000;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_speed_match) == Severity::forbids);
    s.tractor.pto.type = PtoType::unknown;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_speed_match) == Severity::watch);
    s = make_matching();
    s.tractor.pto.splines = 0;
    s.driveline.tractor_joint.splines = 21;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_spline_match, "tractor end") == Severity::forbids);
    s.tractor.pto.type = PtoType::type2;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_spline_match, "tractor end") == Severity::good);
}

TEST_CASE("PTO match: the two 1000 rpm types differ, whatever the speed", "[standard]") {
    Setup s = make_matching();
    s.tractor.pto = PtoReadings{};
    s.tractor.pto.type = PtoType::type3;
    s.implement.pic.type = PtoType::type2;
    s.implement.pic.speed_rpm = 1000;
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_speed_match) == Severity::good);
    CHECK(severity_of(check_pto_match(ErrorModel(s)), FindingKind::pto_type_match) == Severity::change);
}
