// Turn limits of a drawn set-up: closed forms in the plane, second methods in space, mirrored twins.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "geometry/turn_limits.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const TurnStop& stop_of(const TurnResult& r, TurnLimitKind kind) {
    for (const TurnStop& s : r.stops) {
        if (s.kind == kind) return s;
    }
    FAIL("no such stop");
    return r.stops.front();
}

/// p = 330, q = 500, all in one plane.
Setup make_flat() {
    Setup s = make_drawn_setup();
    s.implement.pic.z = known(0.190);
    return s;
}

DrawnModel model_of(const Setup& s) {
    const DrawnModelResult r = make_drawn_model(s);
    REQUIRE(r.model.has_shaft);
    return r.model;
}

}  // namespace

TEST_CASE("turn limits: bottoming by the law of cosines, joints by its angles", "[analytic]") {
    const Setup s = make_flat();
    const DrawnModel m = model_of(s);
    TurnLimits l;
    l.gap = 0.025;
    l.tractor_angle = to_radians(35.0);
    l.implement_angle = to_radians(20.0);
    const double p = 0.330, q = 0.500, least = 0.640 + 0.025;
    const double bottoms = std::acos((least * least - p * p - q * q) / (2.0 * p * q));
    // sin B1 / q = sin B2 / p = sin(yaw) / S
    const double at_tractor = std::asin(p * std::sin(to_radians(35.0)) / q) + to_radians(35.0);
    const double at_implement = std::asin(q * std::sin(to_radians(20.0)) / p) + to_radians(20.0);
    for (const TurnResult& r : find_turn_stops(s, m, l)) {
        CAPTURE(static_cast<int>(r.side));
        CHECK(std::fabs(stop_of(r, TurnLimitKind::bottoming).yaw - bottoms) < 1e-7);
        CHECK(std::fabs(stop_of(r, TurnLimitKind::tractor_joint).yaw - at_tractor) < 1e-7);
        CHECK(std::fabs(stop_of(r, TurnLimitKind::implement_joint).yaw - at_implement) < 1e-7);
        CHECK_FALSE(stop_of(r, TurnLimitKind::separation).reached);
        // Tongue 0.2 wide, pin at 0.71; the corner of the tyre (0.74, 0.585) stands 0.03 behind the pin.
        const double corner = std::atan2(0.585, 0.030) - std::asin(0.1 / std::hypot(0.585, 0.030));
        CHECK(std::fabs(stop_of(r, TurnLimitKind::tyre).yaw - corner) < 1e-12);
        CHECK(stop_of(r, TurnLimitKind::tyre).tyre == (r.side == TurnSide::right ? "right rear tyre" : "left rear tyre"));
        CHECK(stop_of(r, TurnLimitKind::tyre).bar == "tongue");
        for (std::size_t i = 1; i < r.stops.size(); ++i) CHECK(r.stops[i - 1].yaw <= r.stops[i].yaw);
        CHECK(r.not_judged.empty());
    }
}

TEST_CASE("turn limits: what is in hand at the first stop", "[analytic]") {
    const Setup s = make_flat();
    const DrawnModel m = model_of(s);
    TurnLimits l;
    l.gap = 0.025;
    l.tractor_angle = to_radians(35.0);
    l.implement_angle = to_radians(35.0);
    const TurnResult right = find_turn_stops(s, m, l)[1];
    REQUIRE(right.stops.front().kind == TurnLimitKind::tractor_joint);
    CHECK(std::fabs(right.stops.front().in_hand) < 1e-6);
    const double yaw = right.stops.front().yaw;
    const double length = std::sqrt(0.330 * 0.330 + 0.500 * 0.500 + 0.330 * std::cos(yaw));
    CHECK(std::fabs(stop_of(right, TurnLimitKind::bottoming).in_hand - (length - 0.640 - 0.025)) < 1e-12);
    CHECK(std::fabs(stop_of(right, TurnLimitKind::implement_joint).in_hand - (to_radians(35.0) - (yaw - to_radians(35.0)))) < 1e-6);
    CHECK(std::fabs(stop_of(right, TurnLimitKind::separation).in_hand - (0.640 + 0.400 - length)) < 1e-12);
    // Side of the tongue through its corner line: distance of the tyre's corner from the turned tongue.
    const double off = 0.585 * std::cos(yaw) - 0.030 * std::sin(yaw);
    CHECK(std::fabs(stop_of(right, TurnLimitKind::tyre).in_hand - (off - 0.1)) < 1e-12);
}

TEST_CASE("turn limits: a shaft that bottoms straight, or parts straight, stops at no turn", "[analytic]") {
    Setup s = make_flat();
    s.driveline.closed_length = known(0.840);  // straight: 0.830
    TurnResult r = find_turn_stops(s, model_of(s), {})[0];
    CHECK((r.stops.front().kind == TurnLimitKind::bottoming && r.stops.front().from_straight && r.stops.front().yaw == 0.0));
    s.driveline.closed_length = known(0.450);
    s.driveline.implement_tube = known(0.300);
    r = find_turn_stops(s, model_of(s), {})[0];
    CHECK((r.stops.front().kind == TurnLimitKind::separation && r.stops.front().from_straight));
    CHECK(std::fabs(r.stops.front().in_hand - (0.750 - 0.830)) < 1e-12);
}

TEST_CASE("turn limits: a joint beside the middle parts in one turn only", "[analytic]") {
    // Joint 0.3 m to the right of the pin: to the left it swings away, S^2 = p^2 + q^2 + y^2 + 2p(q cos yaw - y sin yaw).
    Setup s = make_flat();
    s.implement.pic.y = known(0.300);
    s.driveline.implement_tube = known(0.260);
    const auto length = [](double yaw) {
        return std::sqrt(0.330 * 0.330 + 0.5 * 0.5 + 0.3 * 0.3 + 0.660 * (0.5 * std::cos(yaw) - 0.3 * std::sin(yaw)));
    };
    REQUIRE(length(0.0) < 0.900);
    REQUIRE(length(-0.5) > 0.900);
    const std::array<TurnResult, 2> both = find_turn_stops(s, model_of(s), {});
    const TurnStop& left = stop_of(both[0], TurnLimitKind::separation);
    CHECK((left.reached && left.yaw > 0.0));
    CHECK(std::fabs(length(-left.yaw) - 0.900) < 1e-9);
    CHECK_FALSE(stop_of(both[1], TurnLimitKind::separation).reached);
}

TEST_CASE("turn limits: random set-ups in space against marching and bisection", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int stopped = 0;
    for (int i = 0; i < 60; ++i) {
        Setup s = make_drawn_setup();
        s.implement.pic.x = known(between(0.4, 1.1));
        s.implement.pic.y = known(between(-0.1, 0.1));
        s.implement.pic.slope = known(between(-0.1, 0.1));
        s.tractor.drawbar_pins[1].length = known(between(0.28, 0.5));
        if (i % 3 == 0) make_tractor_joint_wide(s, between(0.06, 0.12));
        const DrawnModel m = model_of(s);
        TurnLimits l;
        l.gap = between(0.0, 0.05);
        l.overlap = between(0.0, 0.2);
        l.tractor_angle = to_radians(between(20.0, 60.0));
        l.implement_angle = to_radians(between(15.0, 35.0));
        const std::array<TurnResult, 2> both = find_turn_stops(s, m, l);
        for (const TurnResult& r : both) {
            const double sense = r.side == TurnSide::right ? 1.0 : -1.0;
            const auto kept = [&](TurnLimitKind kind, double yaw) {
                const DrivelineState d = find_driveline_state(m, {m.level_pitch, 0.0, sense * yaw});
                switch (kind) {
                    case TurnLimitKind::tractor_joint: return d.tractor_angle <= *l.tractor_angle;
                    case TurnLimitKind::implement_joint: return d.implement_angle <= *l.implement_angle;
                    case TurnLimitKind::bottoming: return d.length >= m.halves.closed_length + l.gap;
                    default: return find_overlap(m.halves, d.length) >= l.overlap;
                }
            };
            for (const TurnStop& stop : r.stops) {
                if (stop.kind == TurnLimitKind::tyre) continue;
                CAPTURE(i, static_cast<int>(r.side), static_cast<int>(stop.kind), stop.yaw);
                double good = 0.0, bad = kept(stop.kind, 0.0) ? -1.0 : 0.0;
                for (double yaw = 0.001; bad < 0.0 && yaw < farthest_turn; yaw += 0.001) (kept(stop.kind, yaw) ? good : bad) = yaw;
                CHECK((bad >= 0.0) == stop.reached);
                if (!stop.reached) continue;
                for (int k = 0; k < 60; ++k) {
                    const double middle = 0.5 * (good + bad);
                    (kept(stop.kind, middle) ? good : bad) = middle;
                }
                CHECK(std::fabs(good - stop.yaw) < 2e-7);
                CHECK(stop.yaw <= good + 1e-9);  // on the safe side
                ++stopped;
            }
        }
    }
    CHECK(stopped > 200);
}

TEST_CASE("turn limits: the mirrored machine has left and right exchanged", "[metamorphic]") {
    Setup s = make_drawn_setup();
    s.implement.pic.y = known(0.080);
    s.implement.drawn.bars[0].rear_y = known(0.400);
    Setup t = s;
    t.implement.pic.y = known(-0.080);
    t.implement.drawn.bars[0].rear_y = known(-0.400);
    const DrawnModel a = model_of(s), b = model_of(t);
    const TurnLimits l = make_turn_limits(s, a, JointHold::stop);
    const std::array<TurnResult, 2> one = find_turn_stops(s, a, l), other = find_turn_stops(t, b, l);
    double apart = 0.0;
    for (const std::size_t side : {0u, 1u}) {
        for (const TurnStop& stop : one[side].stops) {
            const TurnStop& twin = stop_of(other[1 - side], stop.kind);
            CHECK(std::fabs(stop.yaw - twin.yaw) < 1e-8);
            CHECK(std::fabs(stop.in_hand - twin.in_hand) < 1e-7);
            apart = std::max(apart, std::fabs(stop.yaw - stop_of(one[1 - side], stop.kind).yaw));
        }
    }
    CHECK(apart > 0.05);  // the sides differ, so that the exchange means something
}

TEST_CASE("turn limits: what cannot be judged is named", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.tyre.rear_width = Reading{};
    s.tractor.front_axle.width = Reading{};
    s.has_driveline = false;
    const TurnResult r = find_turn_stops(s, make_drawn_model(s).model, {})[0];
    CHECK(r.stops.empty());
    CHECK(r.not_judged.size() == 5);
}

TEST_CASE("steady turn: the implement axle points at the centre of the circle", "[analytic]") {
    for (const double radius : {3.0, 4.5}) {
        for (const double tongue : {1.5, 2.8}) {
            const double pin = 0.7;
            const SteadyTurn t = find_steady_turn(radius, pin, tongue);
            REQUIRE_FALSE(t.folds);
            // Axle at pin + tongue (cos, sin); the centre stands at (0, radius), square to the tongue seen from the axle.
            const double x = pin + tongue * std::cos(t.yaw), y = tongue * std::sin(t.yaw);
            CHECK(std::fabs((0.0 - x) * std::cos(t.yaw) + (radius - y) * std::sin(t.yaw)) < 1e-12);
        }
    }
    CHECK(find_steady_turn(2.0, 0.7, 3.0).folds);
    CHECK(std::fabs(find_steady_turn(2.0, 0.0, 1.0).yaw - to_radians(30.0)) < 1e-12);
}
