// The greatest length at any attitude, and the searches over a box that it brings to an end.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "geometry/longest_reach.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// A machine whose joints stand off the pin's axis, so that the joints come into line with the pin inside the box.
Setup make_askew(WideAngleEnd wide) {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_y = known(0.025);
    s.tractor.pto.stub_z = known(0.524);
    s.tractor.pto.stub_slope = known(to_radians(4.6));
    s.tractor.pto.stub_plan_angle = known(to_radians(-2.7));
    s.tractor.drawbar_pins[1].length = known(0.506);
    s.implement.pic.x = known(0.897);
    s.implement.pic.y = known(-0.029);
    s.implement.pic.z = known(0.119);
    s.implement.pic.slope = known(to_radians(-2.3));
    s.implement.pic.plan_angle = known(to_radians(-4.9));
    s.choices.drawn.turn_left_most = known(to_radians(33.0));
    s.choices.drawn.turn_right_most = known(to_radians(25.0));
    s.choices.drawn.pitch_up_most = s.choices.drawn.pitch_down_most = known(to_radians(24.0));
    s.choices.drawn.roll_most = known(to_radians(14.5));
    if (wide == WideAngleEnd::tractor) make_tractor_joint_wide(s, 0.090);
    if (wide == WideAngleEnd::implement) {
        s.driveline.implement_joint.kind = JointKind::wide_angle;
        s.driveline.implement_joint.spacing = known(0.090);
    }
    return s;
}

constexpr WideAngleEnd ends[] = {WideAngleEnd::none, WideAngleEnd::tractor, WideAngleEnd::implement};

}  // namespace

TEST_CASE("longest reach: no attitude is longer, and some come near to it", "[random]") {
    for (const WideAngleEnd wide : ends) {
        const DrawnModel m = make_drawn_model(make_askew(wide)).model;
        REQUIRE(m.has_shaft);
        int evaluations = 0;
        const double reach = find_longest_reach(m, evaluations);
        std::mt19937 random(11);
        std::uniform_real_distribution<double> any(-1.0, 1.0);
        double longest = 0.0;
        for (int i = 0; i < 200000; ++i) {
            const Attitude a{1.2 * any(random), 1.2 * any(random), 1.2 * any(random)};
            longest = std::max(longest, find_driveline_state(m, a).length);
        }
        CHECK(longest <= reach);
        CHECK(longest > reach - 1e-5);
    }
}

TEST_CASE("longest reach: plain joints in line with the pin", "[analytic]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    int evaluations = 0;
    // Q 330 mm before and 190 mm above the pin, K 500 mm behind and 170 mm above it.
    CHECK(std::fabs(find_longest_reach(m, evaluations) - (std::hypot(0.330, 0.190) + std::hypot(0.500, 0.170))) <
          1e-11);
    CHECK(evaluations == 0);
}

TEST_CASE("drawn extremes: the longest state is known to 0.01 mm where a line of attitudes shares it", "[analytic]") {
    for (const WideAngleEnd wide : ends) {
        const DrawnModel m = make_drawn_model(make_askew(wide)).model;
        const AttitudeExtreme e = find_longest(m, m.box);
        CAPTURE(static_cast<int>(wide), e.value, e.bound, e.evaluations);
        CHECK(e.converged);
        CHECK(e.bound >= e.value);
        CHECK(e.bound - e.value <= 1e-6);
        CHECK(e.evaluations < 10000);
        // The point itself is inside the box, away from its ends: it is the greatest of all attitudes.
        int evaluations = 0;
        CHECK(std::fabs(e.bound - find_longest_reach(m, evaluations)) <= 2e-6);
    }
}

TEST_CASE("drawn extremes: a joint that stays nearly straight through a wide turn is known to 0.001 deg",
          "[analytic]") {
    // Joint 2 far behind the pin, the pin near under a wide-angle joint that turns 80 deg either way.
    Setup s = make_drawn_setup();
    make_tractor_joint_wide(s, 0.089);
    s.driveline.tractor_joint.offset = known(0.076);
    s.implement.pic.x = known(1.556);
    s.implement.pic.z = known(0.184);
    const DrawnModel m = make_drawn_model(s).model;
    const DrawnExtremes e = find_drawn_extremes(m, m.box);
    CHECK(e.implement_angle.converged);
    CHECK(e.implement_angle.bound - e.implement_angle.value <= to_radians(0.001));
    CHECK(e.implement_angle.evaluations < 5000);
    // The greatest of a grid with its ends, as far as a grid can tell.
    double most = 0.0;
    for (int i = 0; i <= 80; ++i) {
        for (int j = 0; j <= 20; ++j) {
            for (int k = 0; k <= 10; ++k) {
                const Attitude a{m.box.pitch.low + (m.box.pitch.high - m.box.pitch.low) * j / 20,
                                 m.box.roll.low + (m.box.roll.high - m.box.roll.low) * k / 10,
                                 m.box.yaw.low + (m.box.yaw.high - m.box.yaw.low) * i / 80};
                most = std::max(most, find_driveline_state(m, a).implement_angle);
            }
        }
    }
    CHECK(e.implement_angle.bound >= most);
    CHECK(e.implement_angle.value - most < to_radians(0.05));
    // All the ripple is this joint's.
    CHECK(std::fabs(e.non_uniformity.bound - std::sin(e.implement_angle.bound) * std::tan(e.implement_angle.bound)) <
          1e-12);
}
