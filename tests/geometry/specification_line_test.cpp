// Lines measured against a specification: verdict, differences, turns, holes. Checked against sums in whole 1/64 in.
#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

#include "geometry/setup_lines.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;

Reading exact(double inches) { return make_reading(inches * inch, Origin::manual); }
Reading taken(double inches, double error = 0.0) { return make_reading(inches * inch, Origin::measured, error * inch); }

SpecificationLine make_line(double nominal, double deviation) {
    SpecificationLine l;
    l.name = "line";
    l.nominal = make_reading(nominal * inch, Origin::manual, deviation * inch);
    return l;
}

LineResult measure(SpecificationLine line, double inches, double error = 0.0) {
    line.measured = taken(inches, error);
    return check_line(line);
}

Approx near_inches(double inches) { return Approx(inches * inch).epsilon(0).margin(1e-12); }

}  // namespace

TEST_CASE("specification line: a clutch control cable of 4 3/8 in for 4 +- 1/8 in is 3/8 long, 1/4 beyond the band",
          "[practice]") {
    const LineResult r = measure(make_line(4, 0.125), 4.375, 1.0 / 16);
    CHECK(r.verdict == LineVerdict::out);
    CHECK(r.side == LineSide::above);
    CHECK(*r.off == near_inches(0.375));
    CHECK(r.beyond == near_inches(0.25));
    CHECK(*r.correction == near_inches(-0.375));
}

TEST_CASE("specification line: a drawbar of 11 1/2 in for 14 in is to be extended by 2 1/2 in", "[practice]") {
    const LineResult bare = measure(make_line(14, 0), 11.5, 1.0 / 16);
    CHECK(bare.verdict == LineVerdict::out);
    CHECK(bare.bare);
    CHECK(bare.side == LineSide::below);
    CHECK(*bare.correction == near_inches(2.5));
    const LineResult printed = measure(make_line(14, 0.375), 11.5, 1.0 / 16);
    CHECK(*printed.correction == near_inches(2.5));
    CHECK(printed.beyond == near_inches(2.125));
}

TEST_CASE("specification line: a clutch rod to be 3/16 in longer with 18 turns an inch takes 3 3/8 turns",
          "[practice]") {
    SpecificationLine line = make_line(6, 1.0 / 32);
    line.advance_per_turn = make_reading(inch / 18);
    line.lengthens = TurnSense::counterclockwise;
    const LineResult longer = measure(line, 6 - 3.0 / 16);
    REQUIRE(longer.turns);
    CHECK(longer.turns->exact == Approx(3.375).epsilon(0).margin(1e-9));
    CHECK(longer.turns->rounded == 3.375);
    CHECK(longer.turns->sense == TurnSense::counterclockwise);
    CHECK(longer.turns->within);
    const LineResult shorter = measure(line, 6 + 3.0 / 16);
    CHECK(shorter.turns->rounded == -3.375);
    CHECK(shorter.turns->sense == TurnSense::clockwise);
}

TEST_CASE("specification line: within, on the limit, a sixteenth beyond", "[analytic]") {
    const SpecificationLine line = make_line(4, 0.125);
    const LineResult on = measure(line, 4);
    CHECK(on.verdict == LineVerdict::in);
    CHECK(on.side == LineSide::on);
    CHECK_FALSE(on.correction);
    for (const double limit : {4.125, 3.875}) {
        const LineResult at = measure(line, limit);
        CHECK(at.verdict == LineVerdict::in);
        CHECK(at.beyond == 0.0);
        const LineResult beyond = measure(line, limit + (limit > 4 ? 1.0 : -1.0) / 16);
        CHECK(beyond.verdict == LineVerdict::out);
        CHECK(beyond.beyond == near_inches(1.0 / 16));
        CHECK(*beyond.off == near_inches(limit > 4 ? 3.0 / 16 : -3.0 / 16));
    }
}

TEST_CASE("specification line: a reading whose error reaches over a limit is too close to call, touching it is not",
          "[analytic]") {
    const SpecificationLine line = make_line(4, 0.125);
    constexpr double error = 1.0 / 16;
    CHECK(measure(line, 4.125, error).verdict == LineVerdict::too_close);
    CHECK(measure(line, 4.125 - 1.0 / 32, error).verdict == LineVerdict::too_close);
    CHECK(measure(line, 4.125 + 1.0 / 32, error).verdict == LineVerdict::too_close);
    CHECK(measure(line, 4.125 - error, error).verdict == LineVerdict::in);
    CHECK(measure(line, 4.125 + error, error).verdict == LineVerdict::out);
    CHECK(measure(line, 3.875 + 1.0 / 32, error).verdict == LineVerdict::too_close);
    // An error wider than the whole band never says in.
    CHECK(measure(line, 4, 0.25).verdict == LineVerdict::too_close);
}

TEST_CASE("specification line: a figure without deviation is kept as far as the reading can tell", "[analytic]") {
    const SpecificationLine line = make_line(14, 0);
    CHECK(measure(line, 14, 0.0625).verdict == LineVerdict::in);
    CHECK(measure(line, 14.0625, 0.0625).verdict == LineVerdict::in);
    CHECK(measure(line, 14.125, 0.0625).verdict == LineVerdict::out);
    CHECK(measure(line, 14.125).verdict == LineVerdict::out);
}

TEST_CASE("specification line: one limit alone leaves the other side open", "[analytic]") {
    SpecificationLine line;
    line.name = "gap";
    line.at_least = exact(0.0625);
    CHECK(measure(line, 5).verdict == LineVerdict::in);
    CHECK(measure(line, 0.0625).verdict == LineVerdict::in);
    const LineResult low = measure(line, 0.03125);
    CHECK(low.verdict == LineVerdict::out);
    CHECK(low.side == LineSide::below);
    CHECK(*low.correction == near_inches(0.03125));
    line.at_most = line.at_least;
    line.at_least = Reading{};
    CHECK(measure(line, 0.03125).verdict == LineVerdict::in);
    CHECK(measure(line, 0.125).beyond == near_inches(0.0625));
}

TEST_CASE("specification line: turns stop short of no single limit, and are the nearest quarter to a figure",
          "[analytic]") {
    SpecificationLine line;
    line.name = "play";
    line.at_least = exact(1);
    line.advance_per_turn = make_reading(0.1 * inch);
    // 0.33 in missing is 3.3 turns: 3 1/4 would leave it short.
    const LineResult up = measure(line, 0.67);
    CHECK(up.turns->exact == Approx(3.3).epsilon(0).margin(1e-9));
    CHECK(up.turns->rounded == 3.5);
    CHECK(up.turns->within);
    line.at_most = line.at_least, line.at_least = Reading{};
    CHECK(measure(line, 1.33).turns->rounded == -3.5);
    SpecificationLine figure = make_line(1, 0.001);
    figure.advance_per_turn = line.advance_per_turn;
    const LineResult near = measure(figure, 0.67);
    CHECK(near.turns->rounded == 3.25);
    CHECK_FALSE(near.turns->within);  // 0.005 in left, 0.001 permitted
    CHECK(near.turns->after == near_inches(0.995));
}

TEST_CASE("specification line: holes move by whole spacings and say what is left", "[analytic]") {
    SpecificationLine line = make_line(16, 0.375);
    line.hole_spacing = exact(4);
    const LineResult r = measure(line, 11.5);
    REQUIRE(r.holes);
    CHECK(r.holes->count == 1);
    CHECK(r.holes->after == near_inches(15.5));
    CHECK_FALSE(r.holes->within);
    CHECK(measure(line, 15).holes->count == 0);
}

TEST_CASE("specification line: not measured is never in, words are answered by a look", "[analytic]") {
    CHECK(check_line(make_line(4, 0.125)).verdict == LineVerdict::not_measured);
    SpecificationLine words;
    words.name = "shear bolt";
    words.specification = "grade 2 only";
    CHECK(check_line(words).verdict == LineVerdict::not_measured);
    words.as_specified = YesNo::yes;
    CHECK(check_line(words).verdict == LineVerdict::in);
    words.as_specified = YesNo::no;
    CHECK(check_line(words).verdict == LineVerdict::out);
}

TEST_CASE("specification line: what contradicts itself is named and never judged", "[analytic]") {
    const auto fault = [](auto change) {
        SpecificationLine line = make_line(4, 0.125);
        line.measured = taken(4);
        change(line);
        CHECK(check_line(line).verdict == LineVerdict::not_measured);
        return find_fault(line);
    };
    CHECK(fault([](auto& l) { l.name.clear(); }) == LineFault::no_name);
    CHECK(fault([](auto& l) { l.nominal = Reading{}; }) == LineFault::asks_for_nothing);
    CHECK(fault([](auto& l) { l.nominal.tolerance = -1.0; }) == LineFault::not_a_number);
    CHECK(fault([](auto& l) { l.measured.value = std::numeric_limits<double>::quiet_NaN(); }) ==
          LineFault::not_a_number);
    CHECK(fault([](auto& l) { l.at_least = exact(5), l.at_most = exact(3); }) == LineFault::band_upside_down);
    CHECK(fault([](auto& l) { l.at_least = exact(3); }) == LineFault::band_and_deviation);
    CHECK(fault([](auto& l) { l.nominal = Reading{}, l.at_least = taken(3, 0.5); }) == LineFault::limit_with_deviation);
    CHECK(fault([](auto& l) { l.nominal.tolerance = 0.0, l.at_least = exact(5); }) == LineFault::nominal_outside_band);
    CHECK(fault([](auto& l) { l.nominal = Reading{}, l.specification = "words"; }) == LineFault::measured_words);
    CHECK(fault([](auto& l) { l.as_specified = YesNo::yes; }) == LineFault::figure_answered_in_words);
    CHECK(fault([](auto& l) { l.quantity = Dimension::pressure, l.hole_spacing = exact(1); }) ==
          LineFault::adjuster_of_no_length);
    CHECK(find_fault(make_line(4, 0.125)) == LineFault::none);
}

TEST_CASE("specification line: random lines agree with sums in whole sixty-fourths of an inch", "[random]") {
    constexpr std::uint32_t seed = 20260711;
    INFO("seed " << seed);
    std::mt19937 random(seed);
    const auto pick = [&](int least, int most) { return std::uniform_int_distribution<int>(least, most)(random); };
    int seen[4] = {};
    for (int i = 0; i < 20000; ++i) {
        const int nominal = pick(64, 1280), deviation = pick(1, 32), off = pick(-80, 80), error = pick(0, 8);
        const int threads = pick(8, 32);
        SpecificationLine line = make_line(nominal / 64.0, deviation / 64.0);
        line.advance_per_turn = make_reading(inch / threads);
        const LineResult r = measure(line, (nominal + off) / 64.0, error / 64.0);
        // Whole numbers: no rounding, no code shared.
        const int beyond = std::max(0, std::abs(off) - deviation);
        const int to_limit = std::abs(std::abs(off) - deviation), to_other = std::abs(off) + deviation;
        const bool straddles = to_limit < error || to_other < error;
        const LineVerdict expected = straddles    ? LineVerdict::too_close
                                     : beyond > 0 ? LineVerdict::out
                                                  : LineVerdict::in;
        INFO("nominal " << nominal << " deviation " << deviation << " off " << off << " error " << error);
        REQUIRE(r.verdict == expected);
        ++seen[static_cast<int>(r.verdict)];
        REQUIRE(std::lround(r.beyond / inch * 64.0) == beyond);
        REQUIRE(std::lround(*r.off / inch * 64.0) == off);
        if (!r.turns) continue;
        // -off/64 in times threads an inch; an eighth where it is one, else the nearest quarter.
        const long double turns = -static_cast<long double>(off) * threads / 64.0L;
        REQUIRE(static_cast<double>(turns) == Approx(r.turns->exact).epsilon(0).margin(1e-9));
        if (off * threads % 8 == 0)
            REQUIRE(r.turns->rounded == Approx(static_cast<double>(turns)).epsilon(0).margin(1e-12));
        else
            REQUIRE(std::fabs(r.turns->rounded - static_cast<double>(turns)) <= 0.125 + 1e-9);
        // There and back: the rounded turns undone give the reading again.
        REQUIRE(r.turns->after - r.turns->rounded * line.advance_per_turn.value ==
                Approx(line.nominal.value + off * inch / 64.0).epsilon(0).margin(1e-12));
    }
    CHECK(seen[0] > 1000);
    CHECK(seen[1] > 1000);
    CHECK(seen[2] > 1000);
}

TEST_CASE("specification line: a mirrored reading gets the mirrored answer, another unit the same", "[metamorphic]") {
    for (const double off : {0.0, 0.05, 0.125, 0.2, 0.4}) {
        const LineResult above = measure(make_line(4, 0.125), 4 + off, 0.02),
                         below = measure(make_line(4, 0.125), 4 - off, 0.02);
        CHECK(above.verdict == below.verdict);
        CHECK(above.beyond == Approx(below.beyond).epsilon(0).margin(1e-12));
        SpecificationLine pressure;
        pressure.name = "pressure";
        pressure.quantity = Dimension::pressure;
        constexpr double psi = 6894.757293168361;
        pressure.nominal = make_reading(4 * psi, Origin::manual, 0.125 * psi);
        pressure.measured = make_reading((4 + off) * psi, Origin::measured, 0.02 * psi);
        const LineResult twin = check_line(pressure);
        CHECK(twin.verdict == above.verdict);
        CHECK(twin.beyond / psi == Approx(above.beyond / inch).epsilon(0).margin(1e-9));
    }
}

TEST_CASE("setup lines: worst first, and what stops work before the rest", "[analytic]") {
    Setup s;
    const auto add = [&](const char* name, double measured, bool stops, bool known = true) {
        SpecificationLine l = make_line(4, 0.125);
        l.name = name;
        l.stops_work = stops;
        if (known) l.measured = taken(measured, 0.01);
        s.specification.push_back(l);
    };
    add("in", 4, false);
    add("open", 0, false, false);
    add("out", 5, false);
    add("close", 4.12, false);
    add("stops", 4.25, true);
    add("worse", 6, false);
    std::vector<LineResult> lines = check_lines(s);
    sort_lines(lines);
    std::vector<std::string> names;
    for (const LineResult& r : lines) names.push_back(r.line.name);
    CHECK(names == std::vector<std::string>{"stops", "worse", "out", "close", "open", "in"});
}

TEST_CASE("setup lines: out is a condition, forbids only where it stops work, and open lines are counted",
          "[analytic]") {
    Setup s;
    SpecificationLine l = make_line(4, 0.125);
    l.measured = taken(5);
    s.specification = {l};
    CHECK(check_specification(s).at(0).severity == Severity::condition);
    CHECK(check_specification(s).at(0).margin == near_inches(-0.875));
    s.specification[0].stops_work = true;
    CHECK(check_specification(s).at(0).severity == Severity::forbids);
    s.specification[0].measured = taken(4.125, 0.0625);
    CHECK(check_specification(s).at(0).severity == Severity::unknown);
    CHECK(find_verdict(check_specification(s)) == Verdict::too_close_to_call);
    s.specification[0].measured = Reading{};
    CHECK(find_verdict(check_specification(s)) == Verdict::not_known);
    s.specification[0].stops_work = false;
    s.specification.push_back(s.specification[0]);
    const std::vector<Finding> open = check_specification(s);
    REQUIRE(open.size() == 1);
    CHECK(open[0].kind == FindingKind::specification_not_measured);
    CHECK(open[0].value == 2.0);
    CHECK(open[0].severity == Severity::watch);
    s.specification.clear();
    CHECK(check_specification(s).empty());
}

TEST_CASE("setup lines: the drawbar of a drawn set-up is judged by the figures for its PTO", "[standard]") {
    Setup s;
    CHECK(make_own_lines(s).empty());
    s.implement.attachment = Attachment::drawn;
    s.tractor.pto.type = PtoType::type1;
    std::vector<LineResult> lines = check_lines(s);
    REQUIRE(lines.size() == 3);
    CHECK(lines[0].line.nominal.value == near_inches(14));
    CHECK(lines[0].verdict == LineVerdict::not_measured);
    s.tractor.pto.stub_x = taken(20), s.tractor.pto.stub_z = taken(24, 0.125);
    DrawbarPin pin;
    pin.name = "now", pin.length = taken(11.5, 0.0625);
    s.tractor.drawbar_pins = {pin};
    s.tractor.drawbar.top_height = taken(16, 0.125);
    lines = check_lines(s);
    CHECK(lines[0].verdict == LineVerdict::out);
    CHECK(*lines[0].correction == near_inches(2.5));
    CHECK(lines[1].verdict == LineVerdict::in);
    CHECK(*lines[1].off == near_inches(16 - 16.5));
    CHECK(lines[2].verdict == LineVerdict::in);
    CHECK(lines[2].line.measured.value == near_inches(8));
    CHECK(lines[2].line.measured.tolerance == near_inches(std::hypot(0.125, 0.125)));
    // A nearer position is named.
    s.tractor.drawbar_pins.push_back(pin);
    s.tractor.drawbar_pins[1].name = "rear", s.tractor.drawbar_pins[1].length = taken(14, 0.0625);
    s.choices.drawn.drawbar_pin = "now";
    CHECK(check_lines(s)[0].line.adjuster.find("rear") != std::string::npos);
    // The program's own lines are no second finding.
    CHECK(check_specification(s).empty());
}

TEST_CASE("setup lines: of two that are out the one farther out for its band stands first", "[analytic]") {
    Setup s;
    for (const double deviation : {1.0, 0.125}) {
        SpecificationLine l = make_line(20, deviation);
        l.name = deviation == 1.0 ? "wide" : "narrow";
        l.measured = taken(20 + deviation + (deviation == 1.0 ? 0.5 : 0.25), 0.01);
        s.specification.push_back(l);
    }
    std::vector<LineResult> lines = check_lines(s);
    sort_lines(lines);
    CHECK(lines.front().line.name == "narrow");
}
