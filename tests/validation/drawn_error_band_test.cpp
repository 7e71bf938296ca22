// Error bands of a drawn machine - gap, overlap, joint angles, turn stops - against Monte Carlo on constructed set-ups.
//
// source: none needed; draws of every reading, normal with sigma = half its tolerance, the model rebuilt each time.
// Lengths and
//   angles at the attitude of their extreme, as the band says; extremes over the box and turn stops taken anew as well
// tolerance: 5 % of the band: the spread of 20,000 draws is known to 0.5 %, first order leaves out the rest; turn stops
// with
//   4,000 draws are known to 1.1 %
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <functional>
#include <random>
#include <vector>

#include "geometry/angle.h"
#include "geometry/drawn_analysis.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double agreement = 0.05;

void set_usual_tolerances(Setup& s) {
    visit_readings(s, [](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (r.known && !key.starts_with("choices.")) r.tolerance = spec.tolerance;
    });
}

/// Two sigma of each of the values that `measure` takes of a drawn set-up.
std::vector<double> simulate(const Setup& setup, int draws, unsigned seed,
                             const std::function<std::vector<double>(const Setup&, const DrawnModel&)>& measure) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    Setup moved = setup;
    std::vector<std::pair<Reading*, double>> readings;
    visit_readings(moved, [&](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known && r.tolerance > 0.0 && spec.dimension != Dimension::mass) readings.push_back({&r, r.value});
    });
    REQUIRE(readings.size() > 15);
    std::vector<double> sums, squares;
    for (int i = 0; i < draws; ++i) {
        for (auto& [reading, value] : readings) reading->value = value + 0.5 * reading->tolerance * normal(random);
        const DrawnModelResult built = make_drawn_model(moved);
        if (!built.hitch_ok || !built.model.has_halves) FAIL("a draw has no shaft");
        const std::vector<double> values = measure(moved, built.model);
        sums.resize(values.size());
        squares.resize(values.size());
        for (std::size_t k = 0; k < values.size(); ++k) {
            sums[k] += values[k];
            squares[k] += values[k] * values[k];
        }
    }
    std::vector<double> spread;
    for (std::size_t k = 0; k < sums.size(); ++k)
        spread.push_back(2.0 * std::sqrt(squares[k] / draws - (sums[k] / draws) * (sums[k] / draws)));
    return spread;
}

void check_close(double band, double spread, const char* what) {
    CAPTURE(what, band, spread);
    CHECK(spread > 0.0);
    CHECK(std::fabs(band - spread) < agreement * spread);
}

/// The sample with joints and shafts out of the middle, so that no band is the same left and right.
Setup make_askew() {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_slope = known(to_radians(3.0));
    s.tractor.pto.stub_y = known(0.010);
    s.implement.pic.y = known(0.080);
    s.implement.pic.slope = known(to_radians(-4.0));
    s.implement.drawn.bars[0].front_y = known(0.05);
    s.implement.drawn.bars[0].rear_y = known(-0.08);
    set_usual_tolerances(s);
    return s;
}

Setup make_wide() {
    Setup s = make_askew();
    make_tractor_joint_wide(s, 0.090);
    set_usual_tolerances(s);
    return s;
}

double find_stop(const Setup& s, const DrawnModel& m, TurnSide side, TurnLimitKind kind) {
    const std::array<TurnResult, 2> turns = find_turn_stops(s, m, make_turn_limits(s, m, JointHold::pto_off));
    for (const TurnStop& stop : turns[side == TurnSide::left ? 0 : 1].stops) {
        if (stop.kind == kind) return stop.yaw;
    }
    FAIL("the stop is not judged");
    return 0.0;
}

/// Band of the first stop of each side against stops found anew; the first must be of the kind wanted.
void check_turns(const Setup& s, TurnLimitKind wanted) {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    const DrawnModel m = make_drawn_model(s).model;
    const DrawnAnalysis a = analyze_drawn(ErrorModel(s), m, millimetre_mark);
    for (const TurnResult& turn : a.turns) {
        REQUIRE(turn.stops.front().kind == wanted);
        REQUIRE(turn.stops.front().reached);
    }
    const std::vector<double> spread = simulate(s, 4000, seed, [&](const Setup& moved, const DrawnModel& model) {
        return std::vector<double>{find_stop(moved, model, TurnSide::left, wanted),
                                   find_stop(moved, model, TurnSide::right, wanted)};
    });
    check_close(a.turn_bands[0].width, spread[0], "left");
    check_close(a.turn_bands[1].width, spread[1], "right");
}

}  // namespace

TEST_CASE("error bands of a drawn machine: gap, overlap and joint angles against Monte Carlo", "[random][oracle]") {
    for (const Setup& s : {make_askew(), make_wide()}) {
        const unsigned seed = Catch::rngSeed();
        CAPTURE(seed, s.driveline.tractor_joint.kind == JointKind::wide_angle);
        const DrawnModel m = make_drawn_model(s).model;
        const DrawnAnalysis a = analyze_drawn(ErrorModel(s), m, millimetre_mark);
        REQUIRE(a.bands.known);
        const std::vector<double> spread = simulate(s, 20000, seed, [&](const Setup&, const DrawnModel& model) {
            const auto at = [&](const AttitudeExtreme& e) { return find_driveline_state(model, e.at); };
            const DrivelineState straight = find_driveline_state(model, {model.level_pitch, 0.0, 0.0});
            return std::vector<double>{find_gap(model.halves, at(a.whole.shortest).length),
                                       find_overlap(model.halves, at(a.whole.longest).length),
                                       at(a.whole.tractor_angle).tractor_angle,
                                       at(a.whole.implement_angle).implement_angle,
                                       straight.tractor_angle,
                                       straight.implement_angle};
        });
        check_close(a.bands.gap.width, spread[0], "gap");
        check_close(a.bands.overlap.width, spread[1], "overlap");
        check_close(a.bands.tractor_angle.width, spread[2], "tractor joint");
        check_close(a.bands.implement_angle.width, spread[3], "implement joint");
        check_close(a.bands.straight_tractor_angle.width, spread[4], "tractor joint straight on");
        check_close(a.bands.straight_implement_angle.width, spread[5], "implement joint straight on");
    }
}

TEST_CASE("error bands of a drawn machine: extremes over the box taken anew at every draw scatter by no more",
          "[random][oracle]") {
    const Setup s = make_askew();
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    const DrawnModel m = make_drawn_model(s).model;
    const DrawnAnalysis a = analyze_drawn(ErrorModel(s), m, millimetre_mark);
    const std::vector<double> spread = simulate(s, 400, seed, [](const Setup&, const DrawnModel& model) {
        return std::vector<double>{find_gap(model.halves, find_shortest(model, model.box).value),
                                   find_greatest_joint_angle(model, model.box, JointEnd::tractor).value,
                                   find_greatest_joint_angle(model, model.box, JointEnd::implement).value};
    });
    // 400 draws know a spread to 3.5 %, two sigma 7 %.
    CHECK(std::fabs(spread[0] / a.bands.gap.width - 1.0) < 0.10);
    CHECK(std::fabs(spread[1] / a.bands.tractor_angle.width - 1.0) < 0.10);
    CHECK(std::fabs(spread[2] / a.bands.implement_angle.width - 1.0) < 0.10);
}

TEST_CASE("error bands of a drawn machine: turn stopped by a joint, by bottoming, by a tyre against Monte Carlo",
          "[random][oracle]") {
    check_turns(make_askew(), TurnLimitKind::tractor_joint);
    Setup s = make_askew();
    s.driveline.closed_length.value = 0.760;
    check_turns(s, TurnLimitKind::bottoming);
    s = make_askew();
    s.rules.angle_pto_off = s.rules.angle_stop = limit(to_radians(85.0));
    s.driveline.closed_length.value = 0.400;
    s.driveline.tractor_tube.value = 0.300;
    s.driveline.implement_tube.value = 0.300;
    s.rules.overlap_fraction = {};
    s.rules.overlap_least = limit(-0.400);
    check_turns(s, TurnLimitKind::tyre);
}
