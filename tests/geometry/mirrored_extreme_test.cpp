// Which of two attitudes that are each other's mirror image is named as the worst.
#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

#include "geometry/angle.h"
#include "geometry/mirrored_extreme.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

double length_of(const DrivelineState& s) { return s.length; }
double ripple_of(const DrivelineState& s) { return s.non_uniformity; }

/// An extreme found on the right, as a search may give it.
AttitudeExtreme make_found(const DrawnModel& m, const Attitude& at) {
    const double length = find_driveline_state(m, at).length;
    return {length, length - 1e-6, at, 17, true};
}

const Attitude to_the_right{0.1, -0.05, 0.4};

/// The sample with joints and axes to one side.
Setup make_beside(double side) {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_y = known(side * 0.020);
    s.implement.pic.y = known(side * 0.035);
    s.tractor.pto.stub_plan_angle = known(side * to_radians(2.0));
    s.implement.pic.plan_angle = known(side * to_radians(-3.0));
    return s;
}

std::vector<AttitudeExtreme> list_extremes(const DrawnModel& m) {
    REQUIRE(m.has_shaft);
    const DrawnExtremes e = find_drawn_extremes(m, m.box);
    return {e.shortest, e.longest, e.tractor_angle, e.implement_angle, e.non_uniformity, e.out_of_plane};
}

}  // namespace

TEST_CASE("mirrored extreme: of an even machine the left is named, value and bound stay", "[analytic]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    const AttitudeExtreme found = make_found(m, to_the_right);
    AttitudeExtreme named = found;
    name_left_side(m, m.box, length_of, named);
    CHECK(named.at == Attitude{0.1, 0.05, -0.4});
    CHECK(named.value == found.value);
    CHECK(named.bound == found.bound);
    CHECK(named.evaluations == found.evaluations);
    CHECK(named.converged);
    const AttitudeExtreme once = named;
    name_left_side(m, m.box, length_of, named);
    CHECK(named == once);
}

TEST_CASE("mirrored extreme: without a roll none is made, not even of minus nothing", "[analytic]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    AttitudeExtreme named = make_found(m, {0.1, 0.0, 0.4});
    name_left_side(m, m.box, length_of, named);
    CHECK(named.at.yaw == -0.4);
    CHECK(named.at.roll == 0.0);
    CHECK(!std::signbit(named.at.roll));
    AttitudeExtreme straight = make_found(m, {0.1, 0.05, 0.0});
    name_left_side(m, m.box, length_of, straight);
    CHECK(straight.at.roll == -0.05);
    CHECK(!std::signbit(straight.at.yaw));
}

TEST_CASE("mirrored extreme: a side that is not in the box is not named, an end of it but for a rounding is", "[analytic]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    AttitudeBox box = m.box;
    box.yaw.low = -0.399;
    AttitudeExtreme named = make_found(m, to_the_right);
    name_left_side(m, box, length_of, named);
    CHECK(named.at == to_the_right);
    box.yaw.low = -0.4 + 1e-15;
    name_left_side(m, box, length_of, named);
    CHECK(named.at == Attitude{0.1, 0.05, box.yaw.low});
    box = m.box;
    box.roll.high = 0.049;
    named = make_found(m, to_the_right);
    name_left_side(m, box, length_of, named);
    CHECK(named.at == to_the_right);
}

TEST_CASE("mirrored extreme: a machine a hair off the middle has a side that is worse", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.pic.y = known(1e-9);
    const DrawnModel m = make_drawn_model(s).model;
    AttitudeExtreme named = make_found(m, to_the_right);
    name_left_side(m, m.box, length_of, named);
    CHECK(named.at == to_the_right);
}

TEST_CASE("mirrored extreme: joints bent almost square are uneven by great numbers, and as even on both sides", "[analytic]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    const double yaw = to_radians(60.0);
    AttitudeExtreme named = make_found(m, {0.0, 0.0, yaw});
    AttitudeBox box = m.box;
    box.yaw = {-yaw, yaw};
    name_left_side(m, box, ripple_of, named);
    CHECK(named.at.yaw == -yaw);
}

TEST_CASE("mirrored extreme: an even machine's extremes are all on its left", "[metamorphic]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    REQUIRE(-m.box.yaw.low == m.box.yaw.high);
    REQUIRE(-m.box.roll.low == m.box.roll.high);
    for (const AttitudeExtreme& e : list_extremes(m)) {
        CAPTURE(e.value, e.at.yaw, e.at.roll);
        CHECK((e.at.yaw < 0.0 || (e.at.yaw == 0.0 && e.at.roll <= 0.0)));
    }
}

TEST_CASE("mirrored extreme: a machine to one side is worst where its mirror image is on the other", "[metamorphic]") {
    const std::vector<AttitudeExtreme> right = list_extremes(make_drawn_model(make_beside(1.0)).model),
                                       left = list_extremes(make_drawn_model(make_beside(-1.0)).model);
    for (std::size_t i = 0; i < right.size(); ++i) {
        CAPTURE(i, right[i].at.yaw, right[i].at.roll, left[i].at.yaw, left[i].at.roll);
        CHECK(std::fabs(right[i].value - left[i].value) < 2e-5);  // each is within its closeness
        CHECK(std::fabs(right[i].at.yaw + left[i].at.yaw) < 2e-2);
        CHECK(std::fabs(right[i].at.roll + left[i].at.roll) < 2e-2);
    }
}
