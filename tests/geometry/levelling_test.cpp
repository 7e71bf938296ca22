// Levelling: turns of the screw and wanted rolls solved anew from the rods' lengths, its band against draws of the readings.
#include "geometry/levelling.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <optional>
#include <random>
#include <utility>
#include <vector>

#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/space_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Levelling levelling_of(const Setup& s) {
    const std::optional<Levelling> l = study_levelling(ErrorModel(s), model_of(s));
    REQUIRE(l);
    return *l;
}

/// Height and tilt at which both rods have their lengths with the arms at an angle, by Newton in two unknowns with differences.
std::optional<HitchPlace<double>> place_on_rods(const MountedModel& m, double arm, double left, double right, double height) {
    HitchPlace<double> at{height, 0.0, 0.0};
    const auto errors = [&](double h, double t) {
        return std::array<double, 2>{*find_rod_length(m.space.linkage, m.space.rods, {h, 0.0, t}, arm, TractorSide::left) - left,
                                     *find_rod_length(m.space.linkage, m.space.rods, {h, 0.0, t}, arm, TractorSide::right) - right};
    };
    for (int i = 0; i < 40; ++i) {
        constexpr double step = 1e-6;
        const auto e = errors(at.height, at.tilt_sine), h = errors(at.height + step, at.tilt_sine), t = errors(at.height, at.tilt_sine + step);
        const double a = (h[0] - e[0]) / step, b = (t[0] - e[0]) / step, c = (h[1] - e[1]) / step, d = (t[1] - e[1]) / step, det = a * d - b * c;
        at.height -= (d * e[0] - b * e[1]) / det;
        at.tilt_sine -= (a * e[1] - c * e[0]) / det;
    }
    const auto e = errors(at.height, at.tilt_sine);
    if (std::fabs(e[0]) > 1e-11 || std::fabs(e[1]) > 1e-11) return std::nullopt;
    return at;
}

/// Height of the right end of the blade over its left one.
double find_blade_fall(const Setup& s, const SpatialSolution& p) {
    const ImplementPoint& b = s.implement.points.front();
    const double w = b.half_width.value;
    return p.pose.place({b.x.value, w, b.z.value}).z - p.pose.place({b.x.value, -w, b.z.value}).z;
}

}  // namespace

TEST_CASE("levelling: one turn of the screw is what both rods' lengths give with the arms held", "[oracle]") {
    for (const LevellingRod screw : {LevellingRod::right, LevellingRod::left}) {
        Setup s = make_rod_setup();
        set_rods(s, 0.004, -0.009);
        s.tractor.lift_rod.levelling = screw;
        const MountedModel m = model_of(s);
        const Levelling l = *study_levelling(ErrorModel(s), m);
        REQUIRE(l.working.closes);
        REQUIRE(l.after_turn);
        CHECK(l.working.ball_height == Approx(0.300).margin(1e-12));
        const bool left = screw == LevellingRod::left;
        CHECK(l.turned == (left ? TractorSide::left : TractorSide::right));
        const auto before = place_on_rods(m, l.working.arm_angle, m.space.rods.left_length, m.space.rods.right_length, 0.300);
        const auto after = place_on_rods(m, l.working.arm_angle, m.space.rods.left_length + (left ? 0.006 : 0.0), m.space.rods.right_length + (left ? 0.0 : 0.006), 0.300);
        REQUIRE(before);
        REQUIRE(after);
        CHECK(std::fabs(before->height - 0.300) < 1e-9);
        const SpatialSolution a = solve_spatial_pose(m.space.linkage, *before), b = solve_spatial_pose(m.space.linkage, *after);
        CHECK(std::fabs(l.working.attitude.roll - a.attitude.roll) < 1e-9);
        CHECK(std::fabs(l.after_turn->attitude.roll - b.attitude.roll) < 1e-9);
        CHECK(std::fabs(l.after_turn->ball_height - after->height) < 1e-9);
        CHECK(std::fabs(l.after_turn->attitude.pitch - b.attitude.pitch) < 1e-9);
        CHECK(std::fabs(l.after_turn->arm_angle - l.working.arm_angle) < 1e-9);
        CHECK(std::fabs(l.after_turn->left_ball - b.left_ball.z) < 1e-9);
        CHECK(std::fabs(l.after_turn->right_ball - b.right_ball.z) < 1e-9);
        // The longer rod lets its side down, and the other one stays about where it was.
        CHECK((left ? l.after_turn->left_ball - l.working.left_ball : l.after_turn->right_ball - l.working.right_ball) < -0.008);
        CHECK(std::fabs(left ? l.after_turn->right_ball - l.working.right_ball : l.after_turn->left_ball - l.working.left_ball) < 0.002);
        const EdgeHeights& blade = l.after_turn->edges.front();
        CHECK(std::fabs(blade.right - blade.left - find_blade_fall(s, b)) < 1e-9);
    }
}

TEST_CASE("levelling: rods set to what is wanted give the wanted roll", "[inverse]") {
    for (const LevellingRod screw : {LevellingRod::right, LevellingRod::left, LevellingRod::both}) {
        for (const double degrees : {-4.0, 0.0, 2.5}) {
            CAPTURE(static_cast<int>(screw), degrees);
            Setup s = make_rod_setup();
            set_rods(s, 0.010, -0.003);
            s.tractor.lift_rod.levelling = screw;
            s.choices.working_roll = known(to_radians(degrees));
            const Levelling l = levelling_of(s);
            REQUIRE(l.wanted);
            CHECK(l.wanted->typed);
            REQUIRE(l.wanted->reached);
            REQUIRE(l.wanted->rods.size() == 2);
            const RodLength &left = l.wanted->rods[0], &right = l.wanted->rods[1];
            CHECK(left.side == TractorSide::left);
            CHECK(right.side == TractorSide::right);
            // The rod without a screw keeps its length.
            if (screw == LevellingRod::right) CHECK(std::fabs(left.wanted - left.set) < 1e-9);
            if (screw == LevellingRod::left) CHECK(std::fabs(right.wanted - right.set) < 1e-9);
            CHECK(left.screw == (screw != LevellingRod::right));
            CHECK(right.screw == (screw != LevellingRod::left));
            for (const RodLength* r : {&left, &right}) {
                CHECK(r->turns.has_value() == r->screw);
                if (r->turns) CHECK(std::fabs(*r->turns - (r->wanted - r->set) / 0.006) < 1e-9);
            }
            s.choices.left_lift_rod_length = known(left.wanted);
            s.choices.right_lift_rod_length = known(right.wanted);
            const Levelling set = levelling_of(s);
            REQUIRE(set.working.closes);
            CHECK(std::fabs(set.working.attitude.roll - to_radians(degrees)) < 1e-9);
            CHECK(std::fabs(*set.difference) < 1e-9);
            CHECK(std::fabs(set.working.ball_height - 0.300) < 1e-12);
            if (screw == LevellingRod::both) CHECK(std::fabs(set.working.arm_angle - l.working.arm_angle) < 1e-9);
        }
    }
}

TEST_CASE("levelling: the difference is that of the blade's ends, and of what is wanted", "[oracle]") {
    Setup s = make_rod_setup();
    set_rods(s, 0.0, 0.012);
    const MountedModel m = model_of(s);
    const Levelling l = *study_levelling(ErrorModel(s), m);
    CHECK(l.measured_at == "blade");  // the widest, not the first or the rearmost
    CHECK(l.measured_width == Approx(1.52));
    const RodPose p = solve_on_rods(m.space.linkage, m.space.rods, 0.300, 0.0);
    CHECK(std::fabs(*l.difference - find_blade_fall(s, p.hitch)) < 1e-9);
    CHECK(*l.difference < -0.02);  // the right rod is longer
    // Rolled as it is, nothing is left.
    s.choices.working_roll = known(l.working.attitude.roll);
    CHECK(std::fabs(*levelling_of(s).difference) < 1e-9);
    s.choices.working_roll = known(0.0);
    CHECK(std::fabs(*levelling_of(s).difference - *l.difference) < 1e-9);
    // Without a wide part, at the balls.
    s.implement.points.clear();
    const Levelling bare = levelling_of(s);
    CHECK(bare.measured_at.empty());
    CHECK(bare.measured_width == Approx(0.825));
    CHECK(std::fabs(*bare.difference - (p.hitch.right_ball.z - p.hitch.left_ball.z)) < 1e-9);
}

TEST_CASE("levelling: a part beside the middle has its ends where it stands", "[oracle]") {
    Setup s = make_rod_setup();
    set_rods(s, 0.0, 0.012);
    s.implement.points[0].y = known(0.20);
    const MountedModel m = model_of(s);
    const RodPose p = solve_on_rods(m.space.linkage, m.space.rods, 0.300, 0.0);
    const EdgeHeights e = study_levelling(ErrorModel(s), m)->working.edges.front();
    CHECK(std::fabs(e.left - p.hitch.pose.place({0.55, 0.20 - 0.76, -0.10}).z) < 1e-12);
    CHECK(std::fabs(e.right - p.hitch.pose.place({0.55, 0.20 + 0.76, -0.10}).z) < 1e-12);
}

TEST_CASE("levelling: a rod wanted beyond the range of its screw says by how much", "[analytic]") {
    Setup s = make_rod_setup();
    s.choices.working_roll = known(to_radians(3.0));
    const RodLength free = levelling_of(s).wanted->rods[1];
    CHECK_FALSE(free.short_by);
    CHECK_FALSE(free.long_by);
    CHECK(free.wanted < free.set);  // right side up
    s.tractor.lift_rod.length_least = known(free.wanted + 0.004);
    CHECK(levelling_of(s).wanted->rods[1].short_by.value() == Approx(0.004).margin(1e-9));
    CHECK_FALSE(levelling_of(s).wanted->rods[0].short_by);
    s.choices.working_roll = known(to_radians(-3.0));
    const double longer = levelling_of(s).wanted->rods[1].wanted;
    CHECK(longer > free.set);
    s.tractor.lift_rod.length_most = known(longer - 0.002);
    CHECK(levelling_of(s).wanted->rods[1].long_by.value() == Approx(0.002).margin(1e-9));
    // A roll no linkage gives.
    s.choices.working_roll = known(to_radians(60.0));
    CHECK_FALSE(levelling_of(s).wanted->reached);
    CHECK_FALSE(levelling_of(s).difference);  // nothing to compare with
}

TEST_CASE("levelling: a mirrored set-up levels mirrored", "[metamorphic]") {
    Setup s = make_rod_setup();
    set_rods(s, 0.007, -0.012);
    s.choices.working_roll = known(0.02);
    Setup t = s;
    mirror(t);
    const Levelling a = levelling_of(s), b = levelling_of(t);
    CHECK(std::fabs(a.working.attitude.roll + b.working.attitude.roll) < 1e-10);
    CHECK(std::fabs(*a.difference + *b.difference) < 1e-9);
    CHECK(std::fabs(a.wanted->rods[0].wanted - b.wanted->rods[1].wanted) < 1e-9);
    CHECK(std::fabs(a.wanted->rods[1].wanted - b.wanted->rods[0].wanted) < 1e-9);
    CHECK(std::fabs(a.after_turn->attitude.roll + b.after_turn->attitude.roll) < 1e-9);
}

// A quarter of an inch of rod is about an inch across 60 in: common practice, no source. Dimensions of the compact preset.
TEST_CASE("levelling: a quarter inch of rod is about an inch across sixty inches", "[handbook]") {
    constexpr double inch = 0.0254;
    Setup s = make_rod_setup();
    Tractor& t = s.tractor;
    t.lower_link = {known(1.5 * inch), known(14.5 * inch), known(30 * inch), known(8.5 * inch), known(0.359)};
    t.upper_link_pins = {{"1", known(8 * inch), known(30 * inch)}};
    t.lift_arm = {known(5.5 * inch), known(30.5 * inch), known(14 * inch), known(9.5 * inch), {}, {}};
    t.lift_rod.length = known(16.625 * inch);
    t.lift_rod.pin_along_link = known(18 * inch);
    t.lift_rod.advance_per_turn = known(0.25 * inch);
    t.travel = {known(8 * inch), known(33 * inch)};
    s.implement.mast_pins = {{"1", known(18 * inch), known(0.0)}};
    s.implement.work.ball_height = known(14 * inch);
    s.implement.points = {{"blade", known(20 * inch), known(0.0), known(30 * inch)}};
    s.choices.upper_link_length = {};
    s.implement.pic.fitted = false;
    const Levelling l = levelling_of(s);
    REQUIRE(l.after_turn);
    const EdgeHeights& e = l.after_turn->edges.front();
    CAPTURE((e.left - e.right) / inch);
    CHECK(e.left - e.right > 0.7 * inch);
    CHECK(e.left - e.right < 1.3 * inch);
}

TEST_CASE("levelling: its band is the spread over draws of the readings", "[random][oracle]") {
    Setup s = make_rod_setup();
    set_rods(s, 0.003, -0.006);
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    const MountedModel m = model_of(s);
    const double band = study_levelling(ErrorModel(s), m)->band.width;
    std::mt19937 random(20261126);
    std::normal_distribution<double> normal;
    Setup moved = s;
    std::vector<std::pair<Reading*, double>> readings;
    visit_readings(moved, [&](const std::string&, Reading& r, const FieldSpec&) {
        if (r.known && r.tolerance > 0.0) readings.push_back({&r, r.value});
    });
    REQUIRE(readings.size() > 20);
    constexpr int draws = 3000;
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < draws; ++i) {
        for (auto& [reading, value] : readings) reading->value = value + 0.5 * reading->tolerance * normal(random);
        const MountedModelResult r = make_mounted_model(moved, &m.pin_decision);
        REQUIRE(r.linkage_ok);
        const LevelPose p = find_level_pose(moved, r.model, r.model.working_height);
        REQUIRE(p.closes);
        const double fall = p.edges.front().right - p.edges.front().left;
        sum += fall;
        squares += fall * fall;
    }
    const double spread = 2.0 * std::sqrt(squares / draws - (sum / draws) * (sum / draws));
    CAPTURE(band, spread);
    // Three standard errors of the spread of so many draws.
    CHECK(std::fabs(band - spread) < 3.0 * spread / std::sqrt(2.0 * draws));
    // Two rods read by a tape: their errors alone, at the blade, by the lengths' effect on its fall.
    CHECK(band > 0.001);
}

TEST_CASE("levelling: nothing without arms and rods, and no per turn without a screw's advance", "[analytic]") {
    const Setup bare = make_setup_a();
    CHECK_FALSE(study_levelling(ErrorModel(bare), model_of(bare)));
    Setup s = make_rod_setup();
    s.tractor.lift_rod.advance_per_turn = {};
    const Levelling l = levelling_of(s);
    CHECK_FALSE(l.after_turn);
    CHECK(std::fabs(*l.difference) < 1e-12);
    CHECK(l.band.width == 0.0);  // nobody asked
    CHECK_FALSE(l.wanted->rods[1].turns);
    CHECK(std::fabs(l.low.ball_height - 0.200) < 1e-12);
    CHECK(std::fabs(l.high.ball_height - 0.950) < 1e-12);
    s.tractor.lift_rod.advance_per_turn = known(0.0, 0.0002);  // a program may hand that over: no number of turns, not an endless one
    CHECK_FALSE(levelling_of(s).wanted->rods[1].turns);
    CHECK_FALSE(levelling_of(s).after_turn);
}
