// Linkage A as a set-up that leaves its side plane: unlike lift rods, sway, joints beside the middle. m, rad.
#pragma once

#include <catch2/catch.hpp>

#include <utility>

#include "geometry/mounted_model.h"
#include "tests/geometry/sample_setup.h"

namespace hitchwright::test {

/// With arms and rods; the travel is the taped one, whatever the arms' range.
inline Setup make_rod_setup() {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, 0.0, 0.0);
    s.tractor.lift_arm.angle_low = s.tractor.lift_arm.angle_high = Reading{};
    s.tractor.lift_rod.advance_per_turn = known(0.006);
    s.tractor.lift_rod.length_least = known(s.tractor.lift_rod.length.value - 0.05);
    s.tractor.lift_rod.length_most = known(s.tractor.lift_rod.length.value + 0.05);
    s.implement.points = {{"blade", known(0.55), known(-0.10), known(0.76)}, {"rear roller", known(1.20), known(-0.15), known(0.60)}};
    return s;
}

/// The model of a set-up that has one.
inline MountedModel model_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    for (const ModelObstacle& o : r.linkage_obstacles) UNSCOPED_INFO(o.key);
    REQUIRE(r.linkage_obstacles.empty());
    return r.model;
}

/// Rods longer than the tractor's own by so much.
inline void set_rods(Setup& s, double left, double right) {
    const double own = s.tractor.lift_rod.length.value;
    s.choices.left_lift_rod_length = known(own + left);
    s.choices.right_lift_rod_length = known(own + right);
}

/// Joints beside the median plane.
inline void set_beside(Setup& s) {
    s.tractor.pto.stub_y = known(0.012);
    s.tractor.pto.stub_plan_angle = known(0.02);
    s.implement.pic.y = known(0.080);
    s.implement.pic.plan_angle = known(-0.05);
    s.implement.pic.slope = known(0.06);
}

/// The set-up seen in a mirror.
inline void mirror(Setup& s) {
    for (Reading* r : {&s.tractor.pto.stub_y, &s.tractor.pto.stub_plan_angle, &s.implement.pic.y, &s.implement.pic.plan_angle, &s.choices.working_roll})
        r->value = -r->value;
    std::swap(s.choices.left_lift_rod_length, s.choices.right_lift_rod_length);
    std::swap(s.choices.left_check_chain_length, s.choices.right_check_chain_length);
    LevellingRod& screw = s.tractor.lift_rod.levelling;
    if (screw != LevellingRod::both) screw = screw == LevellingRod::left ? LevellingRod::right : LevellingRod::left;
}

}  // namespace hitchwright::test
