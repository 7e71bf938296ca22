// The cut in words: which half, which parts, what it leaves, and what when no cut works.
#include "report/cut_report.h"

#include <catch2/catch.hpp>

#include <set>

#include "sample_analysis.h"

using namespace hitchwright;
using namespace hitchwright::sample;

namespace {

/// A case with a plan made for it: closed length, tubes, shortest and longest in inches; gap 1 (aim 1 1/2), overlap 6,
/// a third.
CutCase plan_case(double closed, double tube_a, double tube_b, double shortest, double longest,
                  const Mark& mark = sixteenth_inch_mark) {
    CutCase c;
    c.halves = {closed * inch, tube_a * inch, tube_b * inch};
    c.travel = {shortest * inch, longest * inch};
    c.limits = {1.0 * inch, 1.5 * inch, 6.0 * inch, 1.0 / 3.0, 0.5};
    c.plan = plan_cut(c.halves, c.travel, c.limits, mark);
    return c;
}

std::string answer(const CutCase& c, UnitSystem units = UnitSystem::inch) { return format_cut_answer(c, units); }

}  // namespace

TEST_CASE("cut report: equal halves lose the same, both tubes and both guard tubes", "[analytic]") {
    // S_0 31, t 19 1/2, travel 29 to 30 1/2: aim 1 1/2 asks for 31 + 1 1/2 - 29 = 3 1/2.
    const CutCase c = plan_case(31, 19.5, 19.5, 29, 30.5);
    CHECK(answer(c) == "CUT 3 1/2 in from each half: both tubes and both guard tubes.");
    const std::string leaves = format_what_cut_leaves(c, {UnitSystem::inch});
    CHECK(leaves ==
          "Closed length becomes 27 1/2 in. Gap left at the shortest point: 1 1/2 in, 1 in needed. "
          "Overlap left at the longest point: 13 in, 6 in needed.");
}

TEST_CASE("cut report: unequal halves are told apart and the difference is explained", "[analytic]") {
    // Tubes 22 and 19 1/2, rho 9: aim needs c_a = 9 + 22 - (29 - 1 1/2) = 3 1/2, c_b = 9 + 19 1/2 - 27 1/2 = 1.
    const CutCase c = plan_case(31, 22, 19.5, 29, 30.5);
    CHECK(answer(c) ==
          "CUT 3 1/2 in from the tractor half and 1 in from the implement half, each with its guard tube.");
    CHECK(format_what_cut_leaves(c, {UnitSystem::inch})
              .find("The tractor half has the longer tube by 2 1/2 in: up to that it is cut alone, both beyond it.") !=
          std::string::npos);
}

TEST_CASE("cut report: one long half is cut alone, on either side", "[analytic]") {
    CHECK(answer(plan_case(31, 22, 16, 29.5, 30.5)) ==
          "CUT 3 in from the tractor half alone: its tube and its guard tube.");
    CHECK(answer(plan_case(31, 16, 22, 29.5, 30.5)) ==
          "CUT 3 in from the implement half alone: its tube and its guard tube.");
}

TEST_CASE("cut report: an overlap limit by share of the tube names the share and the tube left", "[analytic]") {
    // Long tubes: a third of what is left counts. t 31, cut 3 1/2 leaves 27 1/2, a third of that is 9 1/6, up to 9
    // 3/16.
    const CutCase c = plan_case(43, 31, 31, 41, 45);
    CHECK(format_what_cut_leaves(c, {UnitSystem::inch}).find("9 3/16 in needed (one third of the 27 1/2 in tube).") !=
          std::string::npos);
}

TEST_CASE("cut report: the least cut rounds up, the most rounds down", "[analytic]") {
    const CutCase c = plan_case(31.03, 19.5, 19.5, 29, 30.5);
    // least 3.03 -> 3 1/16; most: (R - 6)/2 with R = 31.03 + 19.5 - 30.5 = 20.03 is 7.015, a third gives 0.6 (20.03
    // - 6.5) = 8.118.
    const std::string text = format_cut_report(c, "", {}, {UnitSystem::inch, 200, false});
    CHECK(text.find("The same from each half: at least 3 1/16 in, at most 7 in.") != std::string::npos);
}

TEST_CASE("cut report: between two marks millimetres are printed and it is said", "[analytic]") {
    // Only cuts from 3.01 to 3.05 in work: no sixteenth lies there, 77 mm (3.031 in) does.
    CutCase c = plan_case(31, 19.5, 19.5, 28.99, 30.5);
    c.limits.overlap_least = (31 + 19.5 - 30.5 - 2 * 3.05) * inch;
    c.plan = plan_cut(c.halves, c.travel, c.limits, sixteenth_inch_mark);
    REQUIRE(c.plan.answer == CutAnswer::cut_between_marks);
    CHECK(answer(c) == "CUT 77 mm from each half: both tubes and both guard tubes.");
    CHECK(format_cut_report(c, "", {}, {UnitSystem::inch, 200, false})
              .find("No mark lies in between, so keep to millimetres.") != std::string::npos);
}

TEST_CASE("cut report: nothing to cut says so and offers the aim", "[analytic]") {
    const CutCase c = plan_case(27.75, 16, 16, 29, 30.5);
    CHECK(answer(c) == "NO CUT NEEDED: gap and overlap are kept as the shaft is.");
    CHECK(format_cut_report(c, "", {}, {UnitSystem::inch, 200, false})
              .find("To reach the gap aimed for you may cut 1/4 in from each half") != std::string::npos);
}

TEST_CASE("cut report: no cut works gives the shaft to order on the safe side, and the other ways", "[analytic]") {
    const CutCase c = plan_case(24, 9.75, 9.75, 31.77, 34.47);
    CHECK(answer(c) == "NO CUT WORKS.");
    const std::string text =
        format_cut_report(c, "Flail", {{RemedyKind::lift_stop, 20.3 * inch, 0.0, ""}}, {UnitSystem::inch, 200, false});
    CHECK(text.starts_with("Flail\n"));
    CHECK(text.find("Do: Get a shaft that closes to 30 3/4 in or less and, with the overlap it needs still left, "
                    "reaches 34 1/2 in or more, between joint centres.") != std::string::npos);
    CHECK(text.find("Or: Set a lift stop at a ball height of 20 1/4 in or lower.") != std::string::npos);
    CHECK(text.find("The shaft is too short as it is: 6 3/4 in of overlap are lacking") != std::string::npos);
}

TEST_CASE("cut report: wrong numbers are named, no cut is printed", "[analytic]") {
    for (const CutCase& c :
         {plan_case(10, 19.5, 19.5, 29, 30.5), plan_case(31, -1, 19.5, 29, 30.5), plan_case(31, 19.5, 19.5, 30, 29),
          plan_case(std::nan(""), 19.5, 19.5, 29, 30.5), plan_case(31, 19.5, 19.5, 29, 30.5, {0.0})}) {
        const std::string text = format_cut_report(c, "", {}, {});
        CAPTURE(text);
        CHECK(text.starts_with("NOT KNOWN: "));
        CHECK(text.find("nan") == std::string::npos);
        CHECK(text.find("CUT ") == std::string::npos);
        CHECK(text.find("Cautions") != std::string::npos);
    }
}

TEST_CASE("cut report: the five numbers in mm and in inches tell the same cut", "[metamorphic]") {
    const CutCase mm = plan_case(31, 19.5, 19.5, 29, 30.5, millimetre_mark);
    CHECK(answer(mm, UnitSystem::millimetre) ==
          "CUT 89 mm from each half: both tubes and both guard tubes.");  // 88.9 mm, next mark up
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        const std::string text = format_cut_report(mm, "title", {}, {units, 80, false});
        for (std::size_t at = 0; at < text.size(); at = text.find('\n', at) + 1) CHECK(text.find('\n', at) - at <= 80);
    }
}

TEST_CASE("cut report: cuts already in the set-up, assumptions and points of measure are said", "[analytic]") {
    CutCase c = plan_case(31, 19.5, 19.5, 29, 30.5);
    c.made_before = {0.5 * inch, 0.5 * inch};
    c.assumption = HalvesAssumption::equal_halves;
    c.reference = LengthReference::locking_grooves;
    c.gap_band = c.overlap_band = 0.51 * inch;
    const std::string text = format_cut_report(c, "", {}, {UnitSystem::inch, 200, false});
    CHECK(text.find("Cuts of the set-up are counted as made: 1/2 in tractor half, 1/2 in implement half.") !=
          std::string::npos);
    CHECK(text.find("Tubes not measured: taken as equal") != std::string::npos);
    CHECK(text.find("between locking grooves") != std::string::npos);
    CHECK(text.find("The readings may move the gap by 9/16 in and the overlap by 9/16 in (95 %).") !=
          std::string::npos);
}

TEST_CASE("cut report: every answer, obstacle, status and assumption has a word of its own", "[analytic]") {
    std::set<std::string_view> words;
    const auto add = [&words](std::string_view word) { CHECK(words.insert(word).second); };
    for (int k = 0; k <= static_cast<int>(CutAnswer::no_cut_works); ++k)
        add(cut_answer_word(static_cast<CutAnswer>(k)));
    words.clear();
    for (int k = 0; k <= static_cast<int>(CutObstacle::tubes_used_up); ++k)
        add(cut_obstacle_word(static_cast<CutObstacle>(k)));
    words.clear();
    for (int k = 0; k <= static_cast<int>(HalvesStatus::nothing_known); ++k)
        add(halves_status_word(static_cast<HalvesStatus>(k)));
    words.clear();
    for (int k = 0; k <= static_cast<int>(HalvesAssumption::other_tube_equal); ++k) {
        add(halves_assumption_word(static_cast<HalvesAssumption>(k)));
        CHECK(format_halves_assumption(static_cast<HalvesAssumption>(k)).empty() == (k == 0));
    }
}
