// Lines measured against a specification in words: figures as typed, senses, turns; the report within its page.
#include "report/line_words.h"

#include <catch2/catch.hpp>

#include "geometry/setup_lines.h"
#include "report/lines_report.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

SpecificationLine make_cable() {
    SpecificationLine l;
    l.name = "PTO clutch control cable";
    l.nominal = make_reading(4 * inch, Origin::manual, inch / 8);
    l.measured = make_reading(4.375 * inch, Origin::measured, inch / 16);
    l.if_above = "the clutch slips under load";
    l.if_below = "the clutch drags";
    return l;
}

std::string say(const SpecificationLine& l, UnitSystem units = UnitSystem::inch) {
    return say_line(check_line(l), units);
}

}  // namespace

TEST_CASE("line words: a cable that is too long, in both units", "[practice]") {
    CHECK(say(make_cable()) ==
          "Out: 4 3/8 in for 4 in +- 1/8 in, 3/8 in long, 1/4 in beyond the band. Shorten by 3/8 in, to 4 in. As it "
          "is: the clutch slips under load.");
    CHECK(say(make_cable(), UnitSystem::millimetre) ==
          "Out: 111.1 mm for 101.6 mm +- 3.2 mm, 9.5 mm long, 6.4 mm beyond the band. Shorten by 9.5 mm, to 101.6 mm. "
          "As it is: the clutch slips under load.");
}

TEST_CASE("line words: what was typed is printed as typed, whatever the reader's units", "[analytic]") {
    SpecificationLine l = make_cable();
    l.typed.nominal = "4 in +- 0.125 in";
    l.typed.measured = "4.375 in";
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre})
        CHECK(contains(say(l, units), "Out: 4.375 in for 4 in +- 0.125 in,"));
}

TEST_CASE("line words: a short line is lengthened, with turns, sense and what follows from too short", "[practice]") {
    SpecificationLine l = make_cable();
    l.name = "clutch rod";
    l.measured.value = (4 - 3.0 / 16) * inch;
    l.nominal.tolerance = inch / 32;
    l.adjuster = "clevis, seen from above";
    l.advance_per_turn = make_reading(inch / 18);
    l.lengthens = TurnSense::counterclockwise;
    CHECK(say(l) ==
          "Out: 3 13/16 in for 4 in +- 1/32 in, 3/16 in short, 5/32 in beyond the band. Lengthen by 3/16 in, to 4 in: "
          "clevis, seen from above, "
          "3 3/8 turns counterclockwise. As it is: the clutch drags.");
    l.lengthens = TurnSense::unknown;
    CHECK(contains(say(l), "3 3/8 turns, the way that lengthens it"));
    l.advance_per_turn = make_reading(inch / 17);  // 3.1875 turns
    CHECK(contains(say(l), "about 3 1/4 turns"));
}

TEST_CASE("line words: a drawbar is extended or drawn in, a height raised or lowered", "[practice]") {
    SpecificationLine l = make_cable();
    l.name = "drawbar length", l.generated = true;
    l.nominal = make_reading(14 * inch, Origin::manual, 0.010);
    l.measured = make_reading(11.5 * inch, Origin::measured, inch / 16);
    CHECK(contains(say(l), "Extend by 2 1/2 in, to 14 in"));
    l.measured.value = 16 * inch;
    CHECK(contains(say(l), "Draw in by 2 in"));
}

TEST_CASE("line words: the next hole, and what it leaves", "[practice]") {
    SpecificationLine l = make_cable();
    l.nominal = make_reading(16 * inch, Origin::manual, 0.375 * inch);
    l.measured = make_reading(11.5 * inch, Origin::measured, inch / 16);
    l.hole_spacing = make_reading(4 * inch);
    CHECK(contains(say(l), "Lengthen by 4 1/2 in, to 16 in: move 1 hole longer, still 1/2 in off, outside the band."));
    l.measured.value = 15 * inch;
    CHECK(contains(say(l), "no other hole comes nearer"));
}

TEST_CASE("line words: not measured, in, words, one limit", "[analytic]") {
    SpecificationLine l = make_cable();
    l.measured.value = 4 * inch;
    CHECK(say(l) == "In: 4 in for 4 in +- 1/8 in.");
    l.measured = Reading{};
    CHECK(say(l) == "Not measured (asked for: 4 in +- 1/8 in).");
    SpecificationLine words;
    words.name = "bolt", words.specification = "grade 2 only";
    CHECK(say(words) == "Nobody looked (asked for: grade 2 only).");
    words.as_specified = YesNo::no;
    CHECK(say(words) == "Out: not as specified. Make it so: grade 2 only.");
    SpecificationLine gap;
    gap.name = "gap", gap.at_least = make_reading(inch / 16), gap.measured = make_reading(inch / 32);
    CHECK(say(gap) ==
          "Out: 1/32 in for at least 1/16 in, 1/32 in below the band. Increase by at least 1/32 in, to 1/16 in.");
}

TEST_CASE("line words: other quantities have their own senses", "[analytic]") {
    SpecificationLine l = make_cable();
    l.quantity = Dimension::pressure;
    constexpr double psi = 6894.757293168361;
    l.nominal = make_reading(22 * psi, Origin::manual, psi);
    l.measured = make_reading(16.5 * psi, Origin::measured, psi);
    CHECK(contains(say(l),
                   "16.5 psi for 22 psi +- 1 psi, 5.5 psi low, 4.5 psi beyond the band. Raise by 5.5 psi, to 22 psi."));
    l.quantity = Dimension::count;
    l.nominal = make_reading(6), l.measured = make_reading(4);
    CHECK(contains(say(l), "4 for 6, 2 too few. Add 2, to 6."));
}

TEST_CASE("line words: fractions to sixty-fourths where exact, else thousandths, never rounded to nothing",
          "[analytic]") {
    CHECK(format_figure(inch * 3 / 32, Dimension::length, UnitSystem::inch) == "3/32 in");
    CHECK(format_figure(inch * 1.015625, Dimension::length, UnitSystem::inch) == "1 1/64 in");
    CHECK(format_figure(-inch * 0.25, Dimension::length, UnitSystem::inch) == "-1/4 in");
    CHECK(format_figure(0.0, Dimension::length, UnitSystem::inch) == "0 in");
    CHECK(format_figure(inch * 0.0901, Dimension::length, UnitSystem::inch, Rounding::up) == "0.091 in");
    CHECK(format_figure(0.0004, Dimension::length, UnitSystem::millimetre, Rounding::up) == "0.4 mm");
    CHECK(format_figure(0.00004, Dimension::length, UnitSystem::millimetre, Rounding::up) == "0.1 mm");
    CHECK(format_eighth_turns(3.375) == "3 3/8 turns");
    CHECK(format_eighth_turns(-1.0) == "1 turn");
    CHECK(format_eighth_turns(0.5) == "1/2 turn");
    CHECK(format_eighth_turns(2.25) == "2 1/4 turns");
}

TEST_CASE("lines report: names in wide scripts, long names and control characters stay on the page", "[metamorphic]") {
    Setup s;
    s.name = "sheet";
    for (const std::string& name :
         {std::string(200, 'n'),
          std::string("\xE9\xA9\xBB\xE8\xBD\xA6\xE5\x88\xB6\xE5\x8A\xA8\xE5\x99\xA8\xE6\x8B\x89\xE7\xBA\xBF\xE9\x95\xBF"
                      "\xE5\xBA\xA6\xE9\xA9\xBB\xE8\xBD\xA6\xE5\x88\xB6\xE5\x8A\xA8\xE5\x99\xA8"),
          std::string("evil \x1b[31m red\x07"), std::string("cut\xE9")}) {
        SpecificationLine l = make_cable();
        l.name = name, l.complaint = name, l.adjuster = name, l.source = name;
        s.specification.push_back(l);
        l.measured = Reading{};
        s.specification.push_back(l);
    }
    std::vector<LineResult> lines = check_lines(s);
    sort_lines(lines);
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        const std::string text = format_lines_report(s, lines, {units, 80, false});
        CHECK(text.find('\x1b') == std::string::npos);
        CHECK(text.find('\x07') == std::string::npos);
        CHECK(contains(text, "4 out, 4 not measured"));
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = text.find('\n', at);
            const std::string line = text.substr(at, end - at);
            CAPTURE(line);
            CHECK(count_columns(line) <= 80);
            at = end + 1;
        }
        CHECK(format_lines_json(s, lines, units).find('\x1b') == std::string::npos);
        CHECK(format_lines_csv(lines, units).find('\x1b') == std::string::npos);
    }
}

TEST_CASE("lines report: a set-up without lines says so", "[analytic]") {
    CHECK(contains(format_lines_report(Setup{}, {}, {}), "No line to measure"));
    CHECK(say_counts({}) == "no lines");
}
