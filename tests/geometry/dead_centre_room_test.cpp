// Room to the nearest dead centre, and the load's rise: by hand on figures that can be drawn.
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/angle.h"
#include "geometry/dead_centre_room.h"
#include "geometry/lift_ratio.h"
#include "geometry/planar_linkage.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Links of 1 m, 0.6 m apart, pivot at (0, 0.5): the mast stays upright at every height.
PlanarLinkage make_parallelogram() {
    return {.lower_pivot = Point(0.0, 0.5), .lower_length = 1.0, .upper_pin = Point(0.0, 1.1), .upper_length = 1.0,
            .mast_pin = Point(0.0, 0.6)};
}

Setup make_parallelogram_setup() {
    Setup s = make_setup_a();
    s.tractor.lower_link = make_lower_link(0.0, 0.5, 1.0, 0.3, 0.3);
    s.tractor.upper_link_pins = {{"1", known(0.0), known(1.1)}};
    s.implement.mast_pins = {{"1", known(0.6), known(0.0)}};
    s.tractor.travel = {known(0.2), known(0.9)};
    s.choices.upper_link_length = known(1.0);
    return s;
}

}  // namespace

TEST_CASE("dead centre room: a parallelogram leaves what its upper link slopes", "[analytic]") {
    const TravelBox box{{0.2, 0.9}, {1.0, 1.0}};
    const DeadCentreRoom r = find_dead_centre_room(make_parallelogram(), box);
    // The upper link rises asin(0.4) at the top; the mast stands upright, so 90 deg less that is left.
    CHECK(std::fabs(r.angle - (0.5 * pi - std::asin(0.4))) < 1e-12);
    CHECK(r.height == 0.9);
    CHECK(r.nearer == DeadCentreKind::folded);  // seen from the mast pin both run down
}

TEST_CASE("dead centre room: between the ends where the ball crosses the line of pivot and pin", "[analytic]") {
    // Pin ahead of and below its usual place, level behind the pivot: the ball passes nearest to it level with the pivot.
    const PlanarLinkage k{.lower_pivot = Point(0.0, 0.5), .lower_length = 1.0, .upper_pin = Point(0.4, 0.5),
                          .upper_length = 0.7, .mast_pin = Point(0.0, 0.5)};
    const DeadCentreRoom r = find_dead_centre_room(k, {{0.4, 0.65}, {0.7, 0.7}});
    // Least distance 0.6 at 0.5 m: cos = (0.25 + 0.49 - 0.36)/0.7; at 0.65 m it is larger but nearer to neither line.
    const double d2 = std::pow(std::sqrt(1.0 - 0.0225) - 0.4, 2) + 0.0225;
    const double inner = std::acos((0.25 + 0.49 - 0.36) / 0.7), outer = std::acos((0.25 + 0.49 - d2) / 0.7);
    CHECK(inner < outer);
    CHECK(std::fabs(r.angle - inner) < 1e-12);
    CHECK(std::fabs(r.height - 0.5) < 1e-12);
    CHECK(r.nearer == DeadCentreKind::folded);
}

TEST_CASE("dead centre room: the nearest dead centre outside the travel, and none", "[analytic]") {
    // Mast 0.5, link 0.7, pin 0.6 above the pivot: stretched where the ball is 1.2 from the pin.
    const PlanarLinkage k{.lower_pivot = Point(0.0, 0.5), .lower_length = 1.0, .upper_pin = Point(0.0, 1.1),
                          .upper_length = 0.7, .mast_pin = Point(0.0, 0.5)};
    // |ball - pin|^2 = 1 + 0.36 - 1.2 (h - 0.5) = 1.44: h = 0.5 - 0.08/1.2.
    const DeadCentreRoom r = find_dead_centre_room(k, {{0.6, 0.9}, {0.7, 0.7}});
    REQUIRE(r.beyond);
    CHECK(std::fabs(*r.beyond - (0.5 - 0.08 / 1.2)) < 1e-12);
    CHECK(std::fabs(r.beyond_by - (0.1 + 0.08 / 1.2)) < 1e-12);
    PlanarLinkage free = k;
    free.upper_length = 1.4;  // 0.9 to 1.9: the ball, never nearer than 0.4 nor farther than 1.6, folds only
    free.mast_pin = Point(0.0, 1.4);
    free.upper_pin = Point(0.0, 1.0);
    CHECK(!find_dead_centre_room(free, {{0.6, 0.9}, {1.4, 1.4}}).beyond);
}

TEST_CASE("lift ratio: on a parallelogram every point rises as the balls do", "[analytic]") {
    Setup s = make_parallelogram_setup();
    s.implement.mass.cg_x = known(0.8);
    const LiftRatio r = find_lift_ratio(s, make_mounted_model(s).model);
    REQUIRE(r.known);
    CHECK(r.point == LoadPoint::centre_of_gravity_height_unknown);
    CHECK(std::fabs(r.rise_most.bound - 1.0) < 2e-5);
    CHECK(std::fabs(r.worst().value() - 1.0) < 2e-5);
    CHECK(!r.load_stops());
}

TEST_CASE("lift ratio: the load's place is the centre of gravity, else 610 mm behind", "[analytic]") {
    Implement m;
    const MountedModel none;
    CHECK(choose_load_point(m, none).point == LoadPoint::behind_610);
    CHECK(choose_load_point(m, none).at == Point(0.610, 0.0));
    m.mass.cg_z = known(0.3);
    CHECK(choose_load_point(m, none).point == LoadPoint::behind_610);  // a height alone is no place
    m.mass.cg_x = known(0.9);
    CHECK(choose_load_point(m, none).point == LoadPoint::centre_of_gravity);
    CHECK(choose_load_point(m, none).at == Point(0.9, 0.3));
}

TEST_CASE("lift ratio: a load far behind a linkage that meets behind the balls does not rise", "[analytic]") {
    // Upper pin above the parallelogram's: the implement noses up as it rises and a point far behind sinks.
    Setup s = make_parallelogram_setup();
    s.tractor.upper_link_pins[0].z = known(1.3);
    s.implement.work = {known(0.5), known(0.0)};
    s.choices.upper_link_length = Reading{};
    s.implement.mass.cg_x = known(6.0);
    const LiftRatio r = find_lift_ratio(s, make_mounted_model(s).model);
    REQUIRE(r.known);
    CHECK(r.load_stops());
    s.implement.mass.cg_x = known(0.5);
    CHECK(!find_lift_ratio(s, make_mounted_model(s).model).load_stops());
}

TEST_CASE("lift ratio: no number at a dead centre", "[analytic]") {
    Setup s = make_parallelogram_setup();
    s.implement.mast_pins[0].height = known(0.5);
    s.choices.upper_link_length = known(0.7);
    s.tractor.travel = {known(0.5 - 0.08 / 1.2 + 1e-5), known(0.9)};
    const MountedModelResult m = make_mounted_model(s);
    REQUIRE(m.linkage_ok);
    const LiftRatio r = find_lift_ratio(s, m.model);
    CHECK((!r.known && !r.worst() && !r.load_stops()));
}
