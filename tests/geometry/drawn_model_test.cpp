// From readings to the model of a drawn set-up: places by hand, choices, the box of attitudes, what is named as missing.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

bool names(const std::vector<ModelObstacle>& obstacles, ModelObstacle::Kind kind, const std::string& key) {
    return std::any_of(obstacles.begin(), obstacles.end(), [&](const ModelObstacle& o) { return o.kind == kind && o.key == key; });
}

DrawnModel model_of(const Setup& s) {
    const DrawnModelResult r = make_drawn_model(s);
    REQUIRE(r.hitch_ok);
    REQUIRE(r.model.has_shaft);
    return r.model;
}

constexpr double exact = 1e-14;

}  // namespace

TEST_CASE("drawn model: pin, joints and distances of the sample by hand", "[analytic]") {
    const DrawnModel m = model_of(make_drawn_setup());
    CHECK(m.pin == 1);
    CHECK(std::fabs(m.driveline.pin.x - 0.710) < exact);
    CHECK(std::fabs(m.driveline.pin.z - 0.450) < exact);
    CHECK(std::fabs(m.driveline.ends.tractor_joint.x - 0.380) < exact);
    CHECK(std::fabs(m.driveline.ends.implement_joint.x - 0.500) < exact);
    CHECK(std::fabs(m.pto_above_drawbar - 0.210) < exact);
    CHECK(m.level_source == LevelPitchSource::wheels);
    CHECK(std::fabs(m.level_pitch) < exact);
    const PinDistances d = find_pin_distances(m);
    CHECK((std::fabs(d.p - 0.330) < exact && std::fabs(d.q - 0.500) < exact));
    const DrivelineState s = find_driveline_state(m, {});
    CHECK(std::fabs(s.length - std::hypot(0.830, 0.020)) < exact);  // joints at 640 and 620 mm
    CHECK(std::fabs(s.tractor_angle - std::atan2(0.020, 0.830)) < exact);
    CHECK(std::fabs(s.bending_plane_angle - pi) < 1e-9);  // parallel shafts
    CHECK((m.has_halves && std::fabs(m.halves.closed_length - 0.640) < exact));
}

TEST_CASE("drawn model: drop instead of height, a drawbar turned over, an adapter on the stub", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.drawbar.top_height = Reading{};
    s.tractor.drawbar.drop = known(0.200);
    CHECK(std::fabs(model_of(s).drawbar_top - 0.440) < exact);
    s.tractor.drawbar_pins[1].top_height = known(0.400);
    CHECK(std::fabs(model_of(s).drawbar_top - 0.400) < exact);
    s.tractor.drawbar.adapter_length = known(0.060);
    const DrawnModel m = model_of(s);
    // The length of the pin counts from the adapter's end: pin and joint both move back.
    CHECK(std::fabs(m.driveline.pin.x - 0.770) < exact);
    CHECK(std::fabs(m.driveline.ends.tractor_joint.x - 0.440) < exact);
    s.tractor.drawbar.articulation_above_top = Reading{};
    CHECK(model_of(s).articulation_assumed);
}

TEST_CASE("drawn model: a clutch on the stub moves the joint back, not the pin", "[analytic]") {
    Setup s = make_drawn_setup();
    s.parts.overrunning_clutch.fitted = true;
    s.parts.overrunning_clutch.added_length = known(0.090);
    const DrawnModel m = model_of(s);
    CHECK(std::fabs(m.driveline.pin.x - 0.710) < exact);
    CHECK(std::fabs(m.driveline.ends.tractor_joint.x - 0.470) < exact);
    CHECK(std::fabs(m.drawbar_length - 0.270) < exact);  // held to the 14 in figure from the clutch's end
    CHECK(std::fabs(find_pin_distances(m).p - 0.240) < exact);
}

TEST_CASE("drawn model: the wheels set the level attitude", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.drawbar.top_height = known(0.530);  // 100 mm higher: the frame dips towards the wheels
    const DrawnModel m = model_of(s);
    const double z = 0.550 + 3.5 * std::sin(m.level_pitch) - 0.1 * std::cos(m.level_pitch);
    CHECK(std::fabs(z - 0.350) < 1e-12);
    CHECK(m.level_pitch < 0.0);
    s.implement.ground_contacts.clear();
    CHECK(model_of(s).level_source == LevelPitchSource::taken_level);
    s.implement.work.pitch = known(0.05);
    CHECK(model_of(s).level_source == LevelPitchSource::typed);
    CHECK(std::fabs(model_of(s).level_pitch - 0.05) < exact);
}

TEST_CASE("drawn model: the box is typed, else the rule set's, else the manuals', and a clevis narrows it", "[analytic]") {
    Setup s = make_drawn_setup();
    DrawnModel m = model_of(s);
    CHECK((std::fabs(m.box.yaw.high - to_radians(35.0)) < exact && m.bounds.turn_left == BoxBound::rules));
    CHECK((std::fabs(m.box.pitch.low + to_radians(25.0)) < exact && m.bounds.pitch_up == BoxBound::rules));
    CHECK((std::fabs(m.box.roll.high - assumed_roll) < exact && m.bounds.roll == BoxBound::assumed));
    make_tractor_joint_wide(s, 0.1);
    CHECK(std::fabs(model_of(s).box.yaw.low + to_radians(80.0)) < exact);
    s.rules = make_general_rules();
    m = model_of(s);
    CHECK((m.bounds.turn_right == BoxBound::general && std::fabs(m.box.yaw.high - to_radians(80.0)) < exact));
    s.choices.drawn.turn_left_most = known(0.3);
    s.choices.drawn.pitch_up_most = known(0.2);
    m = model_of(s);
    CHECK((std::fabs(m.box.yaw.low + 0.3) < exact && std::fabs(m.box.pitch.high - 0.2) < exact));
    s.implement.drawn.hitch = DrawnHitchKind::clevis;
    s.implement.drawn.pitch_play = known(0.1);
    s.implement.drawn.roll_play = known(0.05);
    m = model_of(s);
    CHECK((m.box.pitch == AngleRange{-0.1, 0.1} && m.box.roll == AngleRange{-0.05, 0.05}));
    CHECK((m.bounds.pitch_down == BoxBound::clevis && m.bounds.roll == BoxBound::clevis && !m.level_outside_play));
    s.tractor.drawbar.top_height = known(0.900);  // 0.14 rad tail down
    CHECK(model_of(s).level_outside_play);
}

TEST_CASE("drawn model: a steady bearing makes a fixed shaft and a third joint", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.pic.x = known(2.030);  // gearbox far behind; the third joint 30 mm ahead of its shaft's end, at 2.0 m
    s.implement.pic.slope = known(0.1);
    s.implement.pic.z = known(0.170);
    SteadyBearingReadings& b = s.implement.drawn.steady_bearing;
    b = {true, known(0.600), known(0.0), known(0.170), known(0.0), Reading{}};
    const DrawnModel m = model_of(s);
    CHECK(m.driveline.fixed.fitted);
    CHECK(std::fabs(m.driveline.ends.implement_joint.x - 0.570) < exact);
    CHECK(std::fabs(m.driveline.ends.input_axis.x - 1.0) < exact);  // fixed shaft level
    CHECK(std::fabs(m.last_joint_angle - 0.1) < 1e-12);
    CHECK(std::fabs(find_driveline_state(m, {0.0, 0.0, 0.2}).last_angle - 0.1) < 1e-12);
    b.rear_joint_offset = Reading{};
    CHECK(names(make_drawn_model(s).shaft_obstacles, ModelObstacle::Kind::missing, "implement.steady_bearing.rear_joint_offset"));
    b.rear_joint_offset = known(1.430);  // the third joint on the bearing itself
    b.z = known(0.170 - 1.430 * std::sin(0.1));
    b.x = known(2.030 - 1.430 * std::cos(0.1));
    CHECK(names(make_drawn_model(s).shaft_obstacles, ModelObstacle::Kind::not_modelled, "implement.steady_bearing.x"));
    b = {true, known(0.600), known(0.0), known(0.170), known(0.0), Reading{}};
    s.driveline.implement_joint.kind = JointKind::wide_angle;
    s.driveline.implement_joint.spacing = known(0.1);
    CHECK(names(make_drawn_model(s).shaft_obstacles, ModelObstacle::Kind::not_modelled, "driveline.implement_joint.kind"));
}

TEST_CASE("drawn model: what is missing is named, and no shaft is made up", "[analytic]") {
    const auto after = [](const auto& change) {
        Setup s = make_drawn_setup();
        change(s);
        return make_drawn_model(s);
    };
    using Kind = ModelObstacle::Kind;
    CHECK(names(after([](Setup& s) { s.tractor.drawbar_pins.clear(); }).hitch_obstacles, Kind::missing, "tractor.drawbar_pin"));
    CHECK(names(after([](Setup& s) { s.choices.drawn.drawbar_pin.clear(); }).hitch_obstacles, Kind::pin_not_chosen, "choices.drawbar_pin"));
    const DrawnModelResult wrong = after([](Setup& s) { s.choices.drawn.drawbar_pin = "no such"; });
    REQUIRE(names(wrong.hitch_obstacles, Kind::no_such_pin, "choices.drawbar_pin"));
    CHECK(wrong.hitch_obstacles.front().holes.size() == 3);
    CHECK_FALSE(wrong.model.has_shaft);
    CHECK(names(after([](Setup& s) { s.tractor.drawbar.top_height = Reading{}; }).hitch_obstacles, Kind::missing, "tractor.drawbar.top_height"));
    CHECK(names(after([](Setup& s) { s.tractor.pto.stub_x = Reading{}; }).hitch_obstacles, Kind::missing, "tractor.pto.stub_x"));
    CHECK(names(after([](Setup& s) { s.tractor.drawbar_pins[0].length = Reading{}; }).hitch_obstacles, Kind::missing,
                "tractor.drawbar_pin[short].length"));
    const DrawnModelResult no_shaft = after([](Setup& s) { s.has_driveline = false; });
    CHECK((no_shaft.hitch_ok && !no_shaft.model.has_shaft));
    CHECK(names(no_shaft.shaft_obstacles, Kind::missing, "driveline.use"));
    const DrawnModelResult no_radius = after([](Setup& s) {
        s.tractor.tyre_sets = {{"other", Reading{}, known(0.40), known(1.5), known(0.5)}};
        s.choices.tyre_set = "other";
    });
    CHECK(names(no_radius.hitch_obstacles, Kind::missing, "tractor.tyre_set[other].rear_radius"));
    CHECK(names(after([](Setup& s) { s.implement.pic.z = Reading{}; }).shaft_obstacles, Kind::missing, "implement.pic.z"));
    CHECK(after([](Setup& s) { s.implement.pic.fitted = false; }).shaft_obstacles.empty());
}

TEST_CASE("drawn model: another drawbar length moves the pin and nothing else", "[metamorphic]") {
    Setup s = make_drawn_setup();
    const DrawnModel moved = with_drawbar_length(model_of(s), 0.440);
    s.choices.drawn.drawbar_pin = "long";
    const DrawnModel typed = model_of(s);
    CHECK(std::fabs(moved.driveline.pin.x - typed.driveline.pin.x) < exact);
    CHECK(std::fabs(find_driveline_state(moved, {0.1, 0.05, 0.4}).length - find_driveline_state(typed, {0.1, 0.05, 0.4}).length) < exact);
}

TEST_CASE("drawn model: a clutch on a stub that points aside takes its level share of the drawbar's length", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_plan_angle = known(to_radians(10.0));
    s.parts.overrunning_clutch.fitted = true;
    s.parts.overrunning_clutch.added_length = known(0.100);
    const DrawnModel m = make_drawn_model(s).model;
    CHECK(std::fabs(m.drawbar_length - (0.360 - 0.100 * std::cos(to_radians(10.0)))) < 1e-12);
    CHECK(std::fabs(m.driveline.pin.x - (0.350 + 0.360)) < 1e-12);  // the pin stays where it is
}
