// The study of drawbar positions: figures, ranking and reasons, admissible lengths in closed form and by a second method.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/drawbar_study.h"
#include "geometry/rising_length.h"
#include "geometry/ways_out.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr Mark mark{0.001};

/// All joints in one plane, no pitch, no roll: the law of cosines.
Setup make_flat(double turn_deg) {
    Setup s = make_drawn_setup();
    s.implement.pic.z = known(0.190);
    s.choices.drawn.turn_left_most = s.choices.drawn.turn_right_most = known(to_radians(turn_deg));
    s.choices.drawn.pitch_up_most = s.choices.drawn.pitch_down_most = s.choices.drawn.roll_most = known(0.0);
    return s;
}

const PinStudy& pin_of(const DrawbarStudy& study, const std::string& name) {
    const auto found = std::find_if(study.pins.begin(), study.pins.end(), [&](const PinStudy& p) { return p.name == name; });
    REQUIRE(found != study.pins.end());
    return *found;
}

const PinReason& reason_of(const PinStudy& p, PinReasonKind kind) { return p.reasons[static_cast<std::size_t>(kind)]; }

}  // namespace

TEST_CASE("drawbar figures: heights of drawbar and PTO add up as printed, other stubs have no length", "[handbook]") {
    // Drawbar height and PTO over drawbar: MC. 13 + 6 in and 17 + 12 in are 482 and 737 mm.
    CHECK(find_drawbar_figures(PtoType::unknown).length.value == 0.0);
    const DrawbarFigures f = find_drawbar_figures(PtoType::type1);
    CHECK(std::fabs(f.top_low.value + f.drop_low.value - 0.4826) < 1e-4);
    CHECK(std::fabs(0.4318 + f.drop_high.value - 0.7366) < 1e-4);
    CHECK(std::fabs(find_drawbar_figures(PtoType::type3).top_high.value - 0.5588) < 1e-12);
}

TEST_CASE("drawbar study: a pin is held to the figure within 10 mm", "[practice]") {
    // Common practice, no source; a check value only.
    Setup s = make_drawn_setup();
    s.tractor.drawbar_pins[0].length = known(11.5 * 0.0254);
    const DrawbarStudy study = study_drawbar(s, mark);
    const PinReason r = reason_of(pin_of(study, "short"), PinReasonKind::figure);
    CHECK((r.known && !r.good));
    CHECK(std::fabs(r.value + 2.5 * 0.0254) < 1e-12);
    CHECK(reason_of(pin_of(study, "middle"), PinReasonKind::figure).good);  // 360 mm: 4.4 mm off
    s.tractor.drawbar_pins[1].length = known(0.3556 + 0.010);
    const DrawbarStudy within = study_drawbar(s, mark);
    CHECK(reason_of(pin_of(within, "middle"), PinReasonKind::figure).good);
    s.tractor.drawbar_pins[1].length = known(0.3556 + 0.0101);
    const DrawbarStudy beyond = study_drawbar(s, mark);
    CHECK_FALSE(reason_of(pin_of(beyond, "middle"), PinReasonKind::figure).good);
}

TEST_CASE("drawbar study: numbers of each position by the law of cosines", "[analytic]") {
    const Setup s = make_flat(35.0);
    const DrawbarStudy study = study_drawbar(s, mark);
    REQUIRE(study.pins.size() == 3);
    CHECK(study.obstacles.empty());
    for (const PinStudy& p : study.pins) {
        const double a = p.length - 0.030, q = 0.500, c = std::cos(to_radians(35.0));
        CAPTURE(p.name);
        CHECK((std::fabs(p.distances.p - a) < 1e-12 && std::fabs(p.distances.q - q) < 1e-12));
        CHECK(std::fabs(p.whole.shortest.bound - std::sqrt(a * a + q * q + 2.0 * a * q * c)) < 1e-5);
        CHECK(std::fabs(p.whole.longest.bound - (a + q)) < 1e-5);
        CHECK(std::fabs(p.gap_straight - (a + q - 0.640)) < 1e-12);
        CHECK(std::fabs(p.length_for_best_split - 0.530) < 1e-12);  // p = q = 500
        const double first = std::atan2(q * std::sin(to_radians(35.0)), a + q * c);
        CHECK(std::fabs(p.at_turn.tractor_angle - first) < 1e-9);
        CHECK(std::fabs(p.at_turn.implement_angle - (to_radians(35.0) - first)) < 1e-9);
        CHECK(std::fabs(reason_of(p, PinReasonKind::split).value - std::fabs(2.0 * first - to_radians(35.0))) < 1e-9);
        CHECK((p.has_plan && p.plan.uncut.closed_length == 0.640));
    }
    // Shorter drawbar, more of the bend at the tractor.
    CHECK(pin_of(study, "short").at_turn.tractor_angle > pin_of(study, "long").at_turn.tractor_angle);
}

TEST_CASE("drawbar study: drawbar first, cut last", "[analytic]") {
    // Turn of 35 deg: 250 mm of p leaves 95 mm, 330 and 410 more; closed at 735 only the long position needs no cut.
    Setup s = make_flat(35.0);
    s.driveline.closed_length = known(0.735);
    s.tractor.drawbar_pins[2].vertical_load_most = known(700.0);
    const DrawbarStudy study = study_drawbar(s, mark);
    CHECK(pin_of(study, "long").fit == ShaftFit::fits);
    CHECK(pin_of(study, "middle").fit == ShaftFit::fits);
    CHECK(pin_of(study, "short").fit == ShaftFit::after_cut);
    CHECK(study.pins.back().name == "short");
    CHECK(study.pins.front().name == "middle");  // both need no cut, this one is at the figure
    CHECK_FALSE(pin_of(study, "short").plan.admissible.empty());
    CHECK(pin_of(study, "short").plan.least_cut.a > 0.0);
}

TEST_CASE("drawbar study: a broken load limit goes last, whatever else is good", "[analytic]") {
    Setup s = make_flat(35.0);
    s.implement.drawn.vertical_load = known(800.0);
    const DrawbarStudy study = study_drawbar(s, mark);
    CHECK(study.pins.front().name == "short");  // 900 kg there, 750 and 600 in the others
    CHECK_FALSE(reason_of(pin_of(study, "middle"), PinReasonKind::vertical_load).good);
    s.tractor.drawbar_pins[1].vertical_load_most = Reading{};
    const DrawbarStudy open = study_drawbar(s, mark);
    const PinReason& unknown = reason_of(pin_of(open, "middle"), PinReasonKind::vertical_load);
    CHECK((!unknown.known && !unknown.good));
}

TEST_CASE("drawbar study: 12 in of drawbar, 14 in to the joint: no cut works at 60 deg of turn, one does at 30", "[analytic]") {
    // p = 10.82 in, q = 14: 21.55 in apart at 60 deg, 24.82 straight. Closed 24 in with tubes of 10: what brings it to 20.55
    // takes 3.45 off each and leaves 2.3 of overlap, 6 are needed. At 30 deg 24.0 in apart: 1 in off each leaves 7.2.
    const double in = 0.0254;
    for (const double turn : {60.0, 30.0}) {
        Setup s = make_flat(turn);
        s.implement.pic.x = known(14.0 * in + 0.030);
        s.driveline.closed_length = known(24.0 * in);
        s.driveline.tractor_tube = s.driveline.implement_tube = known(10.0 * in);
        s.tractor.drawbar_pins = {{"12", known(12.0 * in), Reading{}, known(900.0)}};
        const DrawbarStudy study = study_drawbar(s, mark);
        CHECK(pin_of(study, "12").fit == (turn == 60.0 ? ShaftFit::no_cut_works : ShaftFit::after_cut));
    }
}

TEST_CASE("drawbar interval: both ends by the law of cosines, on the safe side", "[analytic]") {
    const double turn = to_radians(35.0);
    const Setup s = make_flat(35.0);
    const DrawnModel m = make_drawn_model(s).model;
    const CutLimits limits = make_cut_limits(s.rules);
    const DrawbarInterval r = find_drawbar_interval(m, limits);
    REQUIRE((r.known && r.any));
    CHECK(r.rises);
    const double q = 0.500, least = 0.640 + 0.025, c = std::cos(turn);
    const double p = -q * c + std::sqrt(least * least - q * q * (1.0 - c * c));  // p^2 + q^2 + 2 p q c = least^2
    CHECK((r.low >= p + 0.030 - 1e-9 && r.low < p + 0.030 + 1e-5));
    const double most = 0.640 + 0.400 - std::max(0.150, 0.420 / 3.0);
    CHECK((r.high <= most - q + 0.030 + 1e-9 && r.high > most - q + 0.030 - 1e-5));
    CHECK((!r.low_open && !r.high_open));
}

TEST_CASE("drawbar interval: empty when the shaft cannot do both, open where it does not bind", "[analytic]") {
    Setup s = make_flat(35.0);
    s.driveline.implement_tube = known(0.200);  // overlap of 150 left up to 690 mm; shortest wanted 665
    DrawbarInterval r = find_drawbar_interval(make_drawn_model(s).model, make_cut_limits(s.rules));
    CHECK((r.known && !r.any));
    CHECK(r.high < r.low);
    s.driveline.closed_length = known(0.460);
    r = find_drawbar_interval(make_drawn_model(s).model, make_cut_limits(s.rules));
    CHECK(r.low_open);
    s.driveline.tractor_tube = s.driveline.implement_tube = s.driveline.overlap_closed = Reading{};
    s.driveline.longest_usable = Reading{};
    CHECK_FALSE(find_drawbar_interval(make_drawn_model(s).model, make_cut_limits(s.rules)).known);
}

TEST_CASE("drawbar interval: random set-ups, limits kept inside and broken outside, the proof against samples", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int proven = 0, found = 0;
    for (int i = 0; i < 12; ++i) {
        Setup s = make_drawn_setup();
        s.implement.pic.x = known(between(0.45, 0.8));
        s.implement.pic.y = known(between(-0.05, 0.05));
        s.implement.pic.slope = known(between(-0.1, 0.1));
        s.choices.drawn.pitch_up_most = s.choices.drawn.pitch_down_most = known(to_radians(between(3.0, 15.0)));
        if (i % 3 == 0) make_tractor_joint_wide(s, between(0.06, 0.12));
        if (i % 3 == 0) s.choices.drawn.turn_left_most = s.choices.drawn.turn_right_most = known(to_radians(60.0));
        s.driveline.closed_length = known(between(0.45, 0.65));
        s.driveline.tractor_tube = s.driveline.implement_tube = known(0.400);
        const DrawnModel m = make_drawn_model(s).model;
        const CutLimits limits = make_cut_limits(s.rules);
        const DrawbarInterval r = find_drawbar_interval(m, limits);
        CAPTURE(i, r.low, r.high, r.any, r.rises);
        proven += r.rises;
        found += r.any;
        const double least = m.halves.closed_length + limits.gap_required;
        double shortest = 1e9, shorter = 1e9;
        for (int k = 0; k < 4000; ++k) {
            const Attitude a{between(m.box.pitch.low, m.box.pitch.high), between(m.box.roll.low, m.box.roll.high),
                             between(m.box.yaw.low, m.box.yaw.high)};
            const double at_low = find_driveline_state(with_drawbar_length(m, r.low), a).length;
            shortest = std::min(shortest, at_low);
            if (r.rises && k < 500) {
                const double step = 1e-4, lower = find_driveline_state(with_drawbar_length(m, r.low), a).length;
                CHECK(find_driveline_state(with_drawbar_length(m, r.low + step), a).length > lower);
            }
        }
        const AttitudeExtreme e = find_shortest(with_drawbar_length(m, r.low - 1e-4), m.box);
        shorter = e.value;
        if (!r.low_open && r.any) {
            CHECK(shortest >= least - 1e-12);
            CHECK(shorter < least);
        }
    }
    CHECK((proven >= 10 && found >= 4));
}

TEST_CASE("rising length: refuted where a joint is bent beyond 90 deg", "[analytic]") {
    Setup s = make_flat(130.0);
    s.implement.pic.x = known(1.530);
    const DrawnModel m = make_drawn_model(s).model;
    int evaluations = 0;
    CHECK_FALSE(is_length_rising(m, {0.2, 0.4}, evaluations));  // p + q cos 130 is below 0
    CHECK(evaluations > 0);
    s.choices.drawn.turn_left_most = s.choices.drawn.turn_right_most = known(to_radians(90.0));
    CHECK(is_length_rising(make_drawn_model(s).model, {0.2, 0.4}, evaluations));
}

TEST_CASE("drawbar study: without a length of every position none is studied, and what is missing is said", "[edge]") {
    Setup s = make_drawn_setup();
    s.tractor.drawbar_pins[1].length = {};
    const DrawbarStudy study = study_drawbar(s, mark);
    CHECK(study.pins.empty());
    CHECK_FALSE(study.obstacles.empty());
}
