// Room to the nearest dead centre, and the load's rise: by hand on figures that can be drawn.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <tuple>
#include <vector>

#include "geometry/angle.h"
#include "geometry/dead_centre_room.h"
#include "geometry/lift_ratio.h"
#include "geometry/planar_linkage.h"
#include "tests/geometry/linkage_a.h"
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

TEST_CASE("dead centre room: of the dead centres on both sides of the travel the nearer one", "[analytic]") {
    // Mast 0.3, link 0.8: stretched at 1.1 from the pin, folded at 0.5: 1.36 - 1.2 (h - 0.5) = 1.21 and 0.25.
    const PlanarLinkage k{.lower_pivot = Point(0.0, 0.5), .lower_length = 1.0, .upper_pin = Point(0.0, 1.1),
                          .upper_length = 0.8, .mast_pin = Point(0.0, 0.3)};
    for (const auto& [low, high, nearest, by] : {std::tuple{0.7, 1.0, 0.625, 0.075}, {0.9, 1.3, 1.425, 0.125}}) {
        const DeadCentreRoom r = find_dead_centre_room(k, {{low, high}, {0.8, 0.8}});
        REQUIRE(r.beyond);
        CHECK(std::fabs(*r.beyond - nearest) < 1e-12);
        CHECK(std::fabs(r.beyond_by - by) < 1e-12);
    }
}

TEST_CASE("dead centre room: a travel said to be clear of dead centres closes throughout, by the list of all heights that do", "[random][oracle]") {
    const unsigned seed = 20261120;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int clear = 0, not_clear = 0, near = 0;
    for (int i = 0; i < 4000; ++i) {
        PlanarLinkage k = make_random_linkage(random);
        k.upper_pin += Point(between(-0.4, 0.8), between(-0.6, 0.3));
        const double e = between(0.2, 1.2);
        TravelBox box{{0.0, 0.0}, {e, i % 2 == 0 ? e : e + between(0.0, 0.2)}};
        box.heights.low = k.lower_pivot.y() + k.lower_length * between(-1.05, 0.9);
        box.heights.high = box.heights.low + k.lower_length * between(0.01, 1.0);
        k.upper_length = e;
        // Every third at a dead centre, or a hair to one side of it.
        const std::vector<DeadCentre> centres = find_dead_centres(k, {-10.0, 10.0});
        if (i % 3 == 0 && !centres.empty()) {
            const double off = between(-1.0, 1.0) * std::pow(10.0, between(-14.0, -4.0));
            (i % 2 == 0 ? box.heights.low : box.heights.high) = centres.front().height + off;
            ++near;
        }
        if (!(box.heights.low < box.heights.high)) continue;
        bool closes = true;
        double room = 1.0;  // of the travel's ends to those of what closes
        for (const double length : {box.upper_lengths.low, box.upper_lengths.high}) {
            k.upper_length = length;
            double own = -1.0;
            for (const HeightRange& r : find_closable_heights(k)) own = std::max(own, std::min(box.heights.low - r.low, r.high - box.heights.high));
            closes = closes && own >= 0.0;
            room = std::min(room, own);
        }
        k.upper_length = e;
        CAPTURE(i, room, box.heights.low, box.heights.high);
        const bool said = stays_clear_of_dead_centres(k, box);
        if (said) CHECK(closes);
        if (room > 0.01) CHECK(said);
        (said ? clear : not_clear) += 1;
    }
    CHECK(clear > 300);
    CHECK(not_clear > 300);
    CHECK(near > 300);
}

TEST_CASE("dead centre room: nothing is said of measures that are none", "[analytic]") {
    const TravelBox box{{0.2, 0.9}, {1.0, 1.0}};
    CHECK(stays_clear_of_dead_centres(make_parallelogram(), box));
    const double not_a_number = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();
    for (const double bad : {0.0, -1.0, not_a_number, infinite}) {
        CAPTURE(bad);
        PlanarLinkage k = make_parallelogram();
        k.lower_length = bad;
        CHECK_FALSE(stays_clear_of_dead_centres(k, box));
        k = make_parallelogram();
        k.mast_pin = Point(0.0, bad);
        CHECK((bad == -1.0 || !stays_clear_of_dead_centres(k, box)));  // a mast below its pins is one all the same
        CHECK_FALSE(stays_clear_of_dead_centres(make_parallelogram(), {{0.2, 0.9}, {bad, bad}}));
        CHECK_FALSE(stays_clear_of_dead_centres(make_parallelogram(), {{not_a_number, 0.9}, {1.0, 1.0}}));
    }
    CHECK_FALSE(stays_clear_of_dead_centres(make_parallelogram(), {{0.2, 1.5}, {1.0, 1.0}}));  // the lower link stands upright there
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
