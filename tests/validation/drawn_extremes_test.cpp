// Bounded extremes of a drawn implement's shaft: closed forms in the plane, and random set-ups against brute force.
//
// source: law of cosines (S^2 = p^2 + q^2 + 2 p q cos yaw); otherwise the truth is computed: a grid of 31 x 21 x 11 attitudes,
//   the best refined by pattern search, all through driveline_geometry.h, wide_angle_joint.h and two_joint.h (Eigen vectors,
//   atan2, singular values), none of the kernel's code.
// tolerance: a bound must not lie inside the sampled extreme, and within 0.01 mm and 0.001 deg of the refined one.
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <iostream>
#include <random>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "geometry/two_joint.h"
#include "geometry/wide_angle_joint.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using hitchwright::test::known;

namespace {

constexpr double length_promise = 1e-5, angle_promise = 0.001 / 180.0 * pi, ripple_promise = 1.1e-4;

/// Random set-ups around the sample: offsets beside, slopes, plan angles; every third with a wide-angle joint.
class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }

    Setup make(int number) {
        Setup s = test::make_drawn_setup();
        const bool wide = number % 3 == 2;
        PicReadings& i = s.implement.pic;
        i.x = known(between(0.45, 1.2));
        i.y = known(number % 2 ? between(-0.1, 0.1) : 0.0);
        i.z = known(between(0.0, 0.3));
        i.slope = known(between(-0.1, 0.1));
        i.plan_angle = known(number % 2 ? between(-0.1, 0.1) : 0.0);
        s.tractor.pto.stub_y = known(number % 2 ? between(-0.03, 0.03) : 0.0);
        s.tractor.pto.stub_slope = known(between(-0.05, 0.05));
        s.tractor.drawbar_pins[1].length = known(between(0.28, 0.55));
        s.driveline.yoke_phase_error = known(between(-0.2, 0.2));
        s.choices.drawn.turn_left_most = known(to_radians(wide ? between(30.0, 75.0) : between(10.0, 40.0)));
        s.choices.drawn.turn_right_most = known(to_radians(wide ? between(30.0, 75.0) : between(10.0, 40.0)));
        s.choices.drawn.pitch_up_most = known(to_radians(between(2.0, 25.0)));
        s.choices.drawn.pitch_down_most = known(to_radians(between(2.0, 25.0)));
        s.choices.drawn.roll_most = known(to_radians(between(0.0, 12.0)));
        if (wide) test::make_tractor_joint_wide(s, between(0.06, 0.12));
        return s;
    }

private:
    std::mt19937 random_;
};

struct Numbers {
    std::array<double, 5> q{};  ///< length, tractor angle, implement angle, non-uniformity, out of plane
};

/// The second route: readings -> Eigen vectors.
class Route {
public:
    explicit Route(const Setup& s) : s_(s) {
        const PtoReadings& p = s.tractor.pto;
        const PicReadings& i = s.implement.pic;
        stub_ = {{p.stub_x.value, p.stub_y.value_or(0.0), p.stub_z.value}, make_shaft_axis(p.stub_slope.value_or(0.0), 0.0),
                 s.driveline.tractor_joint.offset.value, 0.0};
        input_ = {{i.x.value, i.y.value_or(0.0), i.z.value}, make_shaft_axis(i.slope.value_or(0.0), i.plan_angle.value_or(0.0)),
                  s.driveline.implement_joint.offset.value, 0.0};
        pin_ = {p.stub_x.value + s.tractor.drawbar_pins[1].length.value, 0.0, 0.450};
    }
    Numbers at(const Attitude& a) const {
        const MachineShaft input = move_shaft(input_, make_rotation(a), pin_);
        Numbers n;
        if (s_.driveline.tractor_joint.kind == JointKind::wide_angle) {
            const WideAngleDriveline w = find_wide_angle_driveline(stub_, input, MachineEnd::tractor, s_.driveline.tractor_joint.spacing.value);
            n.q = {w.length, w.wide_joint_angle, w.plain_joint_angle, std::sin(w.plain_joint_angle) * std::tan(w.plain_joint_angle), 0.0};
            return n;
        }
        const DrivelinePose p = find_driveline_pose(stub_, input);
        const double e = find_two_joint_motion({p.tractor_joint_angle, p.implement_joint_angle, p.bending_plane_angle,
                                                s_.driveline.yoke_phase_error.value}).equivalent_angle;
        n.q = {p.length, p.tractor_joint_angle, p.implement_joint_angle, 1.0 / std::cos(e) - std::cos(e),
               std::fabs(std::sin(p.tractor_joint_angle) * std::sin(p.implement_joint_angle) * std::sin(p.bending_plane_angle))};
        return n;
    }

private:
    const Setup& s_;
    MachineShaft stub_, input_;
    Eigen::Vector3d pin_;
};

/// Greatest of sign * q[which]: grid, then pattern search.
double find_greatest(const Route& route, const AttitudeBox& box, std::size_t which, double sign) {
    const auto value = [&](const std::array<double, 3>& x) { return sign * route.at({x[1], x[2], x[0]}).q[which]; };
    const std::array<AngleRange, 3> sides{box.yaw, box.pitch, box.roll};
    const std::array<int, 3> count{30, 20, 10};
    std::array<double, 3> best{}, step{};
    double most = -1e300;
    for (std::size_t k = 0; k < 3; ++k) step[k] = (sides[k].high - sides[k].low) / count[k];
    for (int a = 0; a <= count[0]; ++a) {
        for (int b = 0; b <= count[1]; ++b) {
            for (int c = 0; c <= count[2]; ++c) {
                const std::array<double, 3> x{sides[0].low + a * step[0], sides[1].low + b * step[1], sides[2].low + c * step[2]};
                const double v = value(x);
                if (v > most) {
                    most = v;
                    best = x;
                }
            }
        }
    }
    while (step[0] + step[1] + step[2] > 1e-9) {
        const std::array<double, 3> from = best;
        const double before = most;
        for (int n = 0; n < 27; ++n) {
            std::array<double, 3> x = from;
            const std::array<int, 3> move{n % 3 - 1, n / 3 % 3 - 1, n / 9 - 1};
            for (std::size_t k = 0; k < 3; ++k) x[k] = std::clamp(x[k] + move[k] * step[k], sides[k].low, sides[k].high);
            const double v = value(x);
            if (v > most) {
                most = v;
                best = x;
            }
        }
        if (most > before) continue;
        for (double& d : step) d *= 0.5;
    }
    return most;
}

void check(const AttitudeExtreme& e, double truth, double promise, double rounding, double sign) {
    CAPTURE(e.value, e.bound, truth, e.evaluations, sign);
    CHECK(e.converged);
    CHECK(sign * e.bound >= sign * truth - rounding);
    CHECK(sign * (e.bound - truth) <= promise);
    CHECK(sign * e.value <= sign * truth + rounding);
    CHECK(sign * (truth - e.value) <= promise);
}

}  // namespace

TEST_CASE("drawn extremes: 60 random set-ups against brute force", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    std::vector<int> evaluations;
    int wide = 0;
    for (int i = 0; i < 60; ++i) {
        const Setup s = draw.make(i);
        const DrawnModelResult built = make_drawn_model(s);
        REQUIRE(built.model.has_shaft);
        const DrawnModel& m = built.model;
        const DrawnExtremes e = find_drawn_extremes(m, m.box);
        const Route route(s);
        CAPTURE(i);
        check(e.shortest, -find_greatest(route, m.box, 0, -1.0), length_promise, 1e-11, -1.0);
        check(e.longest, find_greatest(route, m.box, 0, 1.0), length_promise, 1e-11, 1.0);
        check(e.tractor_angle, find_greatest(route, m.box, 1, 1.0), angle_promise, 1e-7, 1.0);
        check(e.implement_angle, find_greatest(route, m.box, 2, 1.0), angle_promise, 1e-7, 1.0);
        REQUIRE(e.turns);
        check(e.non_uniformity, find_greatest(route, m.box, 3, 1.0), ripple_promise, 1e-8, 1.0);
        if (m.driveline.ends.wide_angle == WideAngleEnd::none) {
            check(e.out_of_plane, find_greatest(route, m.box, 4, 1.0), 1.1e-5, 1e-9, 1.0);
        }
        CHECK(std::fabs(route.at(e.shortest.at).q[0] - e.shortest.value) < 1e-11);  // attained where it says
        CHECK(std::fabs(route.at(e.tractor_angle.at).q[1] - e.tractor_angle.value) < 1e-7);
        evaluations.push_back(count_evaluations(e));
        wide += m.driveline.ends.wide_angle != WideAngleEnd::none;
    }
    CHECK(wide == 20);
    std::sort(evaluations.begin(), evaluations.end());
    std::cout << "drawn extremes, evaluations of all searches of a box: median " << evaluations[30] << ", most " << evaluations.back() << std::endl;
}

TEST_CASE("drawn extremes: a level turn is the law of cosines", "[analytic]") {
    for (const double p : {0.250, 0.350, 0.500}) {
        for (const double q : {0.350, 0.700}) {
            Setup s = test::make_drawn_setup();
            s.tractor.drawbar_pins[1].length = known(p + 0.030);
            s.implement.pic.x = known(q + 0.030);
            s.implement.pic.z = known(0.190);
            s.choices.drawn.turn_left_most = known(to_radians(60.0));
            s.choices.drawn.turn_right_most = known(to_radians(50.0));
            const DrawnModel m = make_drawn_model(s).model;
            const DrawnExtremes e = find_drawn_extremes(m, make_turn_box(m));
            const double c = 0.5, yaw = to_radians(60.0);
            CAPTURE(p, q);
            CHECK(std::fabs(e.shortest.bound - std::sqrt(p * p + q * q + 2.0 * p * q * c)) < length_promise);
            CHECK(std::fabs(e.longest.bound - (p + q)) < length_promise);
            CHECK(std::fabs(e.shortest.at.yaw + yaw) < 1e-12);  // the left turn goes further
            const double first = std::atan2(q * std::sin(yaw), p + q * c);
            CHECK(std::fabs(e.tractor_angle.bound - first) < angle_promise);
            CHECK(std::fabs(e.implement_angle.bound - (yaw - first)) < angle_promise);
            CHECK(e.out_of_plane.bound < 1.1e-5);
            if (p == q) CHECK(e.non_uniformity.bound < 1e-3);  // equal angles cancel
        }
    }
}

TEST_CASE("drawn extremes: the turns of driveline_turn.csv through readings and model, extremes at their ends", "[oracle]") {
    constexpr double mm = 0.001;
    for (const validation::TableRow& row : validation::load_table("driveline_turn.csv")) {
        Setup s = test::make_drawn_setup();
        s.tractor.drawbar_pins[1].length = known(row.number("pto_end_to_pin_mm") * mm);
        s.driveline.tractor_joint.offset = known(0.0);
        s.implement.pic.x = known(row.number("pin_to_joint_mm") * mm + 0.030);
        s.implement.pic.z = known(row.number("joint_above_pto_mm") * mm + 0.190);
        const double turn = to_radians(row.number("turn_deg"));
        s.choices.drawn.turn_left_most = s.choices.drawn.turn_right_most = known(turn);
        const DrawnModel m = make_drawn_model(s).model;
        REQUIRE(m.has_shaft);
        const DrivelineState state = find_driveline_state(m, {0.0, 0.0, -turn});
        CHECK(std::fabs(state.length - row.number("joint_centres_mm") * mm) < 2e-9);
        CHECK(std::fabs(to_degrees(state.tractor_angle) - row.number("joint1_deg")) < 1e-6);
        CHECK(std::fabs(to_degrees(state.implement_angle) - row.number("joint2_deg")) < 1e-6);
        // The further it turns the shorter and the more bent: the extremes lie at the ends.
        const DrawnExtremes e = find_drawn_extremes(m, make_turn_box(m));
        CHECK(std::fabs(e.shortest.bound - state.length) < length_promise);
        CHECK(std::fabs(e.tractor_angle.bound - state.tractor_angle) < angle_promise);
        CHECK(std::fabs(e.longest.bound - e.shortest.bound - row.number("shortening_mm") * mm) < 2.0 * length_promise);
    }
}

TEST_CASE("drawn extremes: the mirrored machine has mirrored extremes", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    for (int i = 0; i < 20; ++i) {
        const Setup s = draw.make(i);
        Setup t = s;
        for (Reading* r : {&t.implement.pic.y, &t.implement.pic.plan_angle, &t.tractor.pto.stub_y, &t.driveline.yoke_phase_error}) r->value = -r->value;
        std::swap(t.choices.drawn.turn_left_most, t.choices.drawn.turn_right_most);
        const DrawnModel a = make_drawn_model(s).model, b = make_drawn_model(t).model;
        const DrawnExtremes e = find_drawn_extremes(a, a.box), f = find_drawn_extremes(b, b.box);
        CHECK(std::fabs(e.shortest.bound - f.shortest.bound) < length_promise);
        CHECK(std::fabs(e.longest.bound - f.longest.bound) < length_promise);
        CHECK(std::fabs(e.tractor_angle.bound - f.tractor_angle.bound) < angle_promise);
        CHECK(std::fabs(e.implement_angle.bound - f.implement_angle.bound) < angle_promise);
        CHECK(std::fabs(e.non_uniformity.bound - f.non_uniformity.bound) < 2.0 * ripple_promise);
        CHECK(std::fabs(find_driveline_state(b, {e.shortest.at.pitch, -e.shortest.at.roll, -e.shortest.at.yaw}).length - e.shortest.value) < 1e-11);
    }
}

TEST_CASE("drawn extremes: a joint at 90 deg turns no more, and no ripple is named", "[analytic]") {
    Setup s = test::make_drawn_setup();
    s.implement.pic.x = known(1.5);
    s.choices.drawn.turn_left_most = known(to_radians(120.0));
    const DrawnModel m = make_drawn_model(s).model;
    const DrawnExtremes e = find_drawn_extremes(m, make_turn_box(m));
    CHECK_FALSE(e.turns);
    CHECK(e.non_uniformity.evaluations == 0);
    CHECK(e.tractor_angle.bound > to_radians(90.0));
    CHECK_FALSE(find_driveline_state(m, {0.0, 0.0, -to_radians(120.0)}).turns);
}
