#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/error_band.h"
#include "geometry/field_spec.h"
#include "geometry/hidden_pins.h"
#include "geometry/lift_linkage.h"
#include "geometry/mounted_findings.h"
#include "geometry/mounted_model.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double eighth = 0.0254 / 8;

BallReading read_ball(double height, double tolerance) {
    const double rise = height - 0.500;
    BallReading b;
    b.x = known(std::sqrt(0.885 * 0.885 - rise * rise), tolerance);
    b.z = known(height, tolerance);
    return b;
}

/// Linkage A read at these heights; nothing taped of its pivot.
Tractor make_read_tractor(const std::vector<double>& heights, double tolerance = eighth) {
    Tractor t = make_tractor_a();
    t.lower_link.pivot_x = t.lower_link.pivot_z = t.lower_link.length = Reading{};
    for (const double h : heights) t.ball_readings.push_back(read_ball(h, tolerance));
    return t;
}

/// Arm angles of linkage A at the readings' heights.
void add_arm_angles(Tractor& t, double tolerance) {
    add_lift_a(t, -30.0, 60.0);
    t.lift_rod.pin_along_link = known(0.430 / 0.885 * make_tractor_a().lower_link.length.value);
    LiftLinkage lift;
    lift.arm_pivot = Point(0.110, 1.010);
    lift.arm_length = 0.280;
    lift.rod_length = 0.600;
    lift.lower_pivot = Point(0.0, 0.500);
    lift.lower_length = 0.885;
    lift.rod_pin_along = 0.430;
    for (BallReading& b : t.ball_readings) {
        const LiftPose pose = solve_lift_from_ball(lift, b.z.value);
        REQUIRE(pose.closure.closes());
        b.arm_angle = known(pose.arm_angle, tolerance);
    }
}

const std::vector<double> five{0.200, 0.390, 0.570, 0.760, 0.950};

}  // namespace

TEST_CASE("hidden pins: exact ball positions give pivot and link length back", "[analytic]") {
    const Tractor truth = make_tractor_a();
    const HiddenPins pins = find_hidden_pins(make_read_tractor(five, 0.0));
    REQUIRE(pins.decision.use_pivot);
    CHECK(std::fabs(pins.pivot_x.value - 0.0) < 1e-9);
    CHECK(std::fabs(pins.pivot_z.value - 0.500) < 1e-9);
    CHECK(std::fabs(pins.length.value - truth.lower_link.length.value) < 1e-9);
    CHECK(pins.pivot_x.origin == Origin::computed);
    CHECK(pins.taped.empty());
}

TEST_CASE("hidden pins: a taped length that agrees narrows the pivot, one that does not is named", "[analytic]") {
    Tractor t = make_read_tractor(five);
    const HiddenPins alone = find_hidden_pins(t);
    t.lower_link.length = make_tractor_a().lower_link.length;
    t.lower_link.length.tolerance = eighth;
    const HiddenPins both = find_hidden_pins(t);
    REQUIRE(both.taped.size() == 1);
    CHECK(both.taped[0].agrees);
    CHECK(std::fabs(both.taped[0].apart) < 1e-9);
    CHECK(both.pivot_x.tolerance < 0.5 * alone.pivot_x.tolerance);
    t.lower_link.length.value += 0.15;
    const HiddenPins torn = find_hidden_pins(t);
    REQUIRE(torn.taped.size() == 1);
    CHECK_FALSE(torn.taped[0].agrees);
    // Against the readings alone, in side view: sqrt((c + 0.15)^2 - lateral^2) - c'; and not absorbed.
    const double lateral = 0.4125 - 0.210, spatial = std::hypot(0.885, lateral);
    const double off = std::sqrt(std::pow(spatial + 0.15, 2) - lateral * lateral) - 0.885;
    CHECK(std::fabs(torn.taped[0].apart - off) < 1e-6);
    CHECK(std::fabs(torn.pivot_x.value) < 1e-6);
    CHECK(std::fabs(torn.length.value - spatial) < 1e-6);
    CHECK(torn.pivot_x.tolerance == alone.pivot_x.tolerance);
}

TEST_CASE("hidden pins: a pivot taped wrong is named, not the ball readings, and the other taped values still count", "[analytic]") {
    Tractor t = make_read_tractor(five);
    t.lower_link.pivot_x = known(0.100, eighth);
    t.lower_link.pivot_z = known(0.500, eighth);
    const HiddenPins pins = find_hidden_pins(t);
    REQUIRE(pins.decision.use_pivot);
    REQUIRE(pins.taped.size() == 2);
    CHECK_FALSE(pins.taped[0].agrees);
    CHECK(std::fabs(pins.taped[0].apart - 0.100) < 1e-6);
    CHECK(pins.taped[1].agrees);
    CHECK(pins.decision.left_out == std::vector<bool>(5, false));
    CHECK(std::fabs(pins.pivot_x.value) < 1e-6);
    // The height that agrees narrows the fit.
    CHECK(pins.pivot_z.tolerance < find_hidden_pins(make_read_tractor(five)).pivot_z.tolerance);
}

TEST_CASE("hidden pins: a preset's pivot gives way to readings", "[analytic]") {
    Tractor t = make_read_tractor(five, 0.0);
    t.lower_link.pivot_x = make_reading(0.2, Origin::preset);
    t.lower_link.pivot_z = make_reading(0.9, Origin::assumed, 0.01);
    const HiddenPins pins = find_hidden_pins(t);
    CHECK(pins.taped.empty());
    CHECK(std::fabs(pins.pivot_x.value) < 1e-9);
    CHECK(std::fabs(apply_hidden_pins(t, pins).lower_link.pivot_z.value - 0.5) < 1e-9);
}

TEST_CASE("hidden pins: a wrong reading is left out and named, not absorbed", "[analytic]") {
    Tractor t = make_read_tractor({0.200, 0.350, 0.500, 0.650, 0.800, 0.950}, eighth);
    t.ball_readings[3].x.value += 0.0254;
    const HiddenPins pins = find_hidden_pins(t);
    REQUIRE(pins.decision.use_pivot);
    CHECK(pins.decision.left_out == std::vector<bool>{false, false, false, true, false, false});
    CHECK_FALSE(pins.one_is_wrong);
    CHECK(std::fabs(pins.readings[3].off - 0.0254) < 1e-3);
    CHECK(std::fabs(pins.pivot_x.value) < 1e-6);
    // With four readings alone nothing tells which.
    t = make_read_tractor({0.200, 0.450, 0.700, 0.950}, eighth);
    t.ball_readings[1].x.value += 0.0254;
    CHECK(find_hidden_pins(t).one_is_wrong);
}

TEST_CASE("hidden pins: what cannot be fitted leaves the tractor as it was", "[analytic]") {
    for (const std::vector<double>& heights : {std::vector<double>{}, std::vector<double>{0.2, 0.9}, std::vector<double>{0.5, 0.5, 0.5},
                                               std::vector<double>{0.45, 0.50, 0.55}}) {
        const Tractor t = make_read_tractor(heights);
        const HiddenPins pins = find_hidden_pins(t);
        CHECK_FALSE(pins.decision.use_pivot);
        CHECK(apply_hidden_pins(t, pins) == t);
    }
    Tractor ahead = make_read_tractor(five);
    for (BallReading& b : ahead.ball_readings) b.x.value = 2.0 - b.x.value;  // bent the wrong way
    CHECK_FALSE(find_hidden_pins(ahead).decision.use_pivot);
}

TEST_CASE("hidden pins: arm angles give the lift rod and its pin back", "[analytic]") {
    Tractor t = make_read_tractor(five, 0.0);
    add_arm_angles(t, 0.0);
    const LiftRodReadings truth = t.lift_rod;
    t.lift_rod = {};
    t.lift_rod.pin_off_link = known(0.0);
    const HiddenPins pins = find_hidden_pins(t);
    REQUIRE(pins.rod_status == RodStatus::ok);
    CHECK(std::fabs(pins.rod_length.value - truth.length.value) < 1e-6);
    CHECK(std::fabs(pins.rod_pin_along.value - truth.pin_along_link.value) < 1e-6);
    t.lift_arm.length = Reading{};
    CHECK(find_hidden_pins(t).rod_status == RodStatus::arm_unknown);
    t.ball_readings[0].arm_angle = t.ball_readings[1].arm_angle = t.ball_readings[2].arm_angle = Reading{};
    t.lift_arm.length = known(0.280);
    CHECK(find_hidden_pins(t).rod_status == RodStatus::too_few);
}

TEST_CASE("hidden pins: the rod's errors are those that repeated readings scatter by", "[random]") {
    constexpr int draws = 4000;
    Tractor t = make_read_tractor(five, eighth);
    t.lower_link.length = make_tractor_a().lower_link.length;
    t.lower_link.length.tolerance = eighth;
    add_arm_angles(t, to_radians(0.3));
    t.lift_rod = {};
    t.lift_rod.pin_off_link = known(0.0, 0.003);
    HiddenPins pins = find_hidden_pins(t);
    REQUIRE(pins.decision.use_rod);
    find_rod_errors(t, pins);
    std::mt19937 random(5);
    std::normal_distribution<double> normal;
    double rod = 0.0, along = 0.0;
    for (int i = 0; i < draws; ++i) {
        Tractor moved = t;
        const auto move = [&](Reading& r) { r.value += 0.5 * r.tolerance * normal(random); };
        move(moved.lower_link.length);
        move(moved.lift_rod.pin_off_link);
        for (BallReading& b : moved.ball_readings) move(b.x), move(b.z), move(b.arm_angle);
        const HiddenPins other = find_hidden_pins(moved, &pins.decision);
        rod += std::pow(other.rod_length.value - pins.rod_length.value, 2);
        along += std::pow(other.rod_pin_along.value - pins.rod_pin_along.value, 2);
    }
    CHECK(std::fabs(2.0 * std::sqrt(rod / draws) / pins.rod_length.tolerance - 1.0) < 0.1);
    CHECK(std::fabs(2.0 * std::sqrt(along / draws) / pins.rod_pin_along.tolerance - 1.0) < 0.1);
}

TEST_CASE("hidden pins: the model stands on the fitted pivot, and nothing is missing", "[analytic]") {
    Setup s = make_setup_a();
    const MountedModel taped = make_mounted_model(s).model;
    s.tractor = make_read_tractor(five, 0.0);
    const MountedModelResult read = make_mounted_model(s);
    CHECK(read.linkage_obstacles.empty());
    CHECK(read.shaft_obstacles.empty());
    CHECK((read.model.linkage.lower_pivot - taped.linkage.lower_pivot).norm() < 1e-9);
    CHECK(std::fabs(read.model.linkage.lower_length - taped.linkage.lower_length) < 1e-9);
    s.tractor.ball_readings.resize(2);
    CHECK(make_mounted_model(s).linkage_obstacles.size() == 3);
}

TEST_CASE("hidden pins: pivot and length err together, so that the shaft's band is narrower than of three separate errors", "[metamorphic]") {
    Setup s = make_setup_a();
    s.tractor = make_read_tractor(five, eighth);
    const HiddenPins pins = find_hidden_pins(s.tractor);
    const auto find_band = [](const Setup& setup) {
        const Analysis a = analyze(setup, millimetre_mark);
        REQUIRE(a.shaft);
        return find_error_bands(ErrorModel(setup), *a.linkage, *a.shaft).gap.width;
    };
    const double together = find_band(s);
    Setup apart = s;
    apart.tractor = apply_hidden_pins(s.tractor, pins);
    apart.tractor.ball_readings.clear();
    CHECK(together > 0.0005);
    CHECK(together < 0.5 * find_band(apart));
}

TEST_CASE("hidden pins: what is plumbed without being seen is right to 3/8 in, six times what a tape between pins is", "[practice]") {
    CHECK(field::hidden_error == Approx(0.375 * 0.0254));
    CHECK(field::hidden_error == Approx(6.0 * field::pin_error));
}

namespace {

Setup make_read_setup(const Tractor& tractor) {
    Setup s = make_setup_a();
    s.tractor = tractor;
    return s;
}

std::vector<Finding> check(const Tractor& t) { return check_hidden_pins(make_read_setup(t), find_hidden_pins(t)); }

/// The finding with that word; fails the test where there is none or more than one.
Finding pick(const std::vector<Finding>& all, const std::string& word) {
    std::vector<Finding> found;
    for (const Finding& f : all) {
        if (f.other == word) found.push_back(f);
    }
    CAPTURE(word, all.size());
    REQUIRE(found.size() == 1);
    CHECK(found[0].kind == FindingKind::hidden_pins);
    CHECK(found[0].rule.grade == Grade::D);
    return found[0];
}

double term(const Finding& f, const std::string& name) {
    for (const Term& t : f.terms) {
        if (t.symbol == name) return t.value;
    }
    FAIL("no term " << name);
    return 0.0;
}

bool asks_for(const Finding& f, const std::string& key) {
    return f.remedies.size() == 1 && f.remedies[0].kind == RemedyKind::measure && f.remedies[0].subject == key;
}

}  // namespace

TEST_CASE("hidden pins, findings: none without readings, the pivot with its numbers where it is found", "[analytic]") {
    CHECK(check(make_tractor_a()).empty());
    const std::vector<Finding> all = check(make_read_tractor(five));
    REQUIRE(all.size() == 1);
    const Finding f = pick(all, "found");
    CHECK(f.severity == Severity::good);
    CHECK(f.value == Approx(0.500));
    CHECK(term(f, "pivot_x") == Approx(0.0).margin(1e-9));
    CHECK(term(f, "pivot_z") == f.value);
    CHECK(term(f, "length") == Approx(make_tractor_a().lower_link.length.value));
    CHECK(term(f, "pivot_x_error") > 0.0);
    CHECK(term(f, "arc") == Approx(std::asin(0.45 / 0.885) + std::asin(0.3 / 0.885)));
    CHECK(f.remedies.empty());
}

TEST_CASE("hidden pins, findings: why there is no pivot, and that it matters less where it was taped", "[analytic]") {
    const auto word_of = [](const std::vector<double>& heights) { return check(make_read_tractor(heights)).front(); };
    CHECK(word_of({0.3, 0.8}).other == "too_few");
    CHECK(word_of({0.5, 0.5, 0.5}).other == "coincident");
    CHECK(word_of({0.49, 0.50, 0.51}).other == "too_straight");
    const Finding straight = word_of({0.49, 0.50, 0.51});
    CHECK(straight.severity == Severity::unknown);
    CHECK(term(straight, "arc") < term(straight, "arc_needed"));
    CHECK(asks_for(straight, "tractor.ball_reading"));
    Tractor taped = make_read_tractor({0.5, 0.5, 0.5});
    taped.lower_link = make_tractor_a().lower_link;
    CHECK(pick(check(taped), "coincident").severity == Severity::watch);
}

TEST_CASE("hidden pins, findings: a wrong reading by its name or number, that one is wrong where none can be told", "[analytic]") {
    Tractor t = make_read_tractor({0.200, 0.350, 0.500, 0.650, 0.800, 0.950});
    t.ball_readings[3].x.value += 0.0254;
    const Finding numbered = pick(check(t), "left_out");
    CHECK(numbered.severity == Severity::watch);
    CHECK(numbered.subject == "4");
    CHECK(numbered.value == Approx(0.0254).margin(1e-3));
    CHECK(numbered.margin == numbered.limit - numbered.value);
    CHECK(numbered.margin < 0.0);
    CHECK((numbered.has_height && numbered.height == t.ball_readings[3].z.value));
    CHECK(asks_for(numbered, "tractor.ball_reading"));
    t.ball_readings[3].name = "high";
    CHECK(pick(check(t), "left_out").subject == "high");

    t = make_read_tractor({0.200, 0.450, 0.700, 0.950});
    t.ball_readings[1].x.value += 0.0254;
    const Finding torn = pick(check(t), "one_is_wrong");
    CHECK(torn.severity == Severity::unknown);
    CHECK(asks_for(torn, "tractor.ball_reading"));
}

TEST_CASE("hidden pins, findings: what was taped besides agrees, or is to be taped again", "[analytic]") {
    Tractor t = make_read_tractor(five);
    t.lower_link.length = make_tractor_a().lower_link.length;
    t.lower_link.length.tolerance = eighth;
    const Finding agrees = pick(check(t), "taped_agrees");
    CHECK(agrees.severity == Severity::good);
    CHECK(agrees.subject == "tractor.lower_link.length");
    CHECK(agrees.margin > 0.0);
    CHECK(agrees.remedies.empty());
    t.lower_link.length.value += 0.15;
    const Finding torn = pick(check(t), "taped_contradicts");
    CHECK(torn.severity == Severity::watch);
    CHECK(torn.margin == torn.limit - std::fabs(torn.value));
    CHECK(torn.margin < 0.0);
    CHECK(asks_for(torn, "tractor.lower_link.length"));
}

TEST_CASE("hidden pins, findings: the lift rod where arm angles give it, and why not where they do not", "[analytic]") {
    Tractor t = make_read_tractor(five);
    add_arm_angles(t, 0.001);
    t.lift_rod.length = t.lift_rod.pin_along_link = Reading{};
    const Finding found = pick(check(t), "rod_found");
    CHECK(found.severity == Severity::good);
    CHECK(std::fabs(found.value - 0.600) < term(found, "rod_length_error"));
    CHECK(term(found, "rod_length_error") < 0.05);
    CHECK(term(found, "rod_length") == found.value);
    CHECK(term(found, "rod_pin_along") > 0.3);
    CHECK(found.remedies.empty());

    Tractor few = t;
    for (std::size_t i = 2; i < few.ball_readings.size(); ++i) few.ball_readings[i].arm_angle = Reading{};
    const Finding too_few = pick(check(few), "rod_too_few");
    CHECK(too_few.severity == Severity::watch);
    CHECK(asks_for(too_few, "tractor.ball_reading"));

    Tractor armless = t;
    armless.lift_arm.length = Reading{};
    CHECK(pick(check(armless), "rod_arm_unknown").severity == Severity::watch);

    Tractor unpivoted = make_read_tractor({0.49, 0.50, 0.51});
    add_arm_angles(unpivoted, 0.001);
    CHECK(pick(check(unpivoted), "rod_pivot_unknown").severity == Severity::watch);
}
