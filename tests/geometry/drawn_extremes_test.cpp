// Which of two attitudes that are each other's mirror image is named as the worst.
#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// The sample with what it has beside the middle turned over: driveline, and how far it turns to each side.
Setup make_beside(double side) {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_y = known(side * 0.020);
    s.implement.pic.y = known(side * 0.035);
    s.tractor.pto.stub_plan_angle = known(side * to_radians(2.0));
    s.implement.pic.plan_angle = known(side * to_radians(-3.0));
    return s;
}

std::vector<AttitudeExtreme> list_extremes(const Setup& s) {
    const DrawnModel m = make_drawn_model(s).model;
    REQUIRE(m.has_shaft);
    const DrawnExtremes e = find_drawn_extremes(m, m.box);
    return {e.shortest, e.longest, e.tractor_angle, e.implement_angle, e.non_uniformity, e.out_of_plane};
}

}  // namespace

TEST_CASE("drawn extremes: a machine that is its own mirror image is named on its left", "[metamorphic]") {
    const Setup s = make_drawn_setup();
    const DrawnModel m = make_drawn_model(s).model;
    REQUIRE(-m.box.yaw.low == m.box.yaw.high);
    REQUIRE(-m.box.roll.low == m.box.roll.high);
    for (const AttitudeExtreme& e : list_extremes(s)) {
        CAPTURE(e.value, e.at.yaw, e.at.roll);
        CHECK((e.at.yaw < 0.0 || (e.at.yaw == 0.0 && e.at.roll <= 0.0)));
    }
}

TEST_CASE("drawn extremes: a machine beside the middle is worst on one side, its mirror image on the other", "[metamorphic]") {
    const std::vector<AttitudeExtreme> right = list_extremes(make_beside(1.0)), left = list_extremes(make_beside(-1.0));
    int to_the_right = 0;
    for (std::size_t i = 0; i < right.size(); ++i) {
        CAPTURE(i, right[i].at.yaw, right[i].at.roll, left[i].at.yaw, left[i].at.roll);
        CHECK(std::fabs(right[i].value - left[i].value) < 2e-5);  // each is within its closeness
        CHECK(std::fabs(right[i].at.yaw + left[i].at.yaw) < 2e-2);
        CHECK(std::fabs(right[i].at.roll + left[i].at.roll) < 2e-2);
        to_the_right += right[i].at.yaw > 0.0 || left[i].at.yaw > 0.0;
    }
    CHECK(to_the_right == 6);  // a side that is worse is not renamed
}
