// Cutting a shaft: pencil cases in inches, marks, the answers there are, refused input, twins.
#include "geometry/shaft_cut.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;
constexpr double rounding = 1e-12;

// 1 in required, 1 1/2 in aimed for, 6 in and a third of overlap, a half liked.
const CutLimits inch_limits{1.0 * inch, 1.5 * inch, 6.0 * inch, 1.0 / 3.0, 0.5};

TelescopingHalves halves_in(double closed, double tube_a, double tube_b) {
    return {closed * inch, tube_a * inch, tube_b * inch};
}

bool near_inches(double metres, double inches) { return std::abs(metres - inches * inch) < rounding; }

}  // namespace

TEST_CASE("marks: an exact sixteenth stays itself, anything more goes to the safe side", "[analytic]") {
    for (int n = 0; n <= 800; ++n) {
        const double exact = n / 16.0 * inch;
        CAPTURE(n);
        CHECK(near_inches(round_up_to_mark(exact, sixteenth_inch_mark), n / 16.0));
        CHECK(near_inches(round_down_to_mark(exact, sixteenth_inch_mark), n / 16.0));
        CHECK(near_inches(round_up_to_mark(exact + 0.9e-9, sixteenth_inch_mark), n / 16.0));
        CHECK(near_inches(round_down_to_mark(exact - 0.9e-9, sixteenth_inch_mark), n / 16.0));
        CHECK(near_inches(round_up_to_mark(exact + 1.1e-9, sixteenth_inch_mark), (n + 1) / 16.0));
    }
    CHECK_FALSE(std::signbit(round_up_to_mark(0.0, millimetre_mark)));
    CHECK(std::abs(round_up_to_mark(0.0831, millimetre_mark) - 0.084) < rounding);
    CHECK(std::abs(round_down_to_mark(0.0839, millimetre_mark) - 0.083) < rounding);
}

TEST_CASE("cut: a pencil case in inches", "[analytic]") {
    // Closed 43, halves 30; travel 38 7/8 to 44. Gap 1: closed at most 37 7/8, so 5 1/8 off each half at least;
    // gap aimed for 1 1/2: 5 5/8. Most: 150 mm style 6 in rule (30 + 43 - 44 - 6)/2 = 11 1/2; a third: 0.6 (29 - 10)
    // = 11.4. After 5 5/8 the closed length is 37 3/8 and the overlap at 44 is 29 - 11 1/4 = 17 3/4.
    const CutPlan plan = plan_cut(halves_in(43, 30, 30), {38.875 * inch, 44 * inch}, inch_limits, sixteenth_inch_mark);
    REQUIRE(plan.answer == CutAnswer::cut_to_aim);
    CHECK(near_inches(plan.least_cut.a, 5.125));
    CHECK(near_inches(plan.least_cut.b, 5.125));
    CHECK(near_inches(plan.least_total, 10.25));
    CHECK(plan.equal_possible);
    CHECK(near_inches(plan.equal_least, 5.125));
    CHECK(near_inches(plan.equal_most, 11.4));
    CHECK(near_inches(plan.recommended.a, 5.625));
    CHECK(near_inches(plan.recommended.b, 5.625));
    CHECK(plan.recommended_step == sixteenth_inch_mark.step);
    CHECK(near_inches(plan.after.closed_length, 37.375));
    CHECK(near_inches(plan.after.gap, 1.5));
    CHECK(near_inches(plan.after.overlap, 17.75));
    CHECK(near_inches(plan.after.overlap_needed, 24.375 / 3.0));
    CHECK(plan.after.gap_aim_reached);
    CHECK(plan.after.overlap_aim_reached);
    CHECK(plan.obstacle == CutObstacle::none);
    // Set: square corner at the least cut, bounded by c_a + c_b <= 23 (6 in) and by the third of either tube.
    REQUIRE(plan.admissible.size() == 4);
    CHECK(plan.admissible.front() == plan.least_cut);
    const double alone = 19.0 - 5.125 / 1.5;  // c_a + c_b / 1.5 <= 19 with the least off b; where both thirds bind, 11.4 off each
    CHECK((near_inches(plan.admissible[1].a, alone) && near_inches(plan.admissible[1].b, 5.125)));
    CHECK((near_inches(plan.admissible[2].a, 11.4) && near_inches(plan.admissible[2].b, 11.4)));
    CHECK((near_inches(plan.admissible[3].a, 5.125) && near_inches(plan.admissible[3].b, alone)));
}

TEST_CASE("cut: the greatest equal cut is the rule's formula for equal halves", "[analytic]") {
    // min[(O0 + S0 - Smax - 150)/2, 0.6 (O0 + S0 - Smax - t/3)]
    const CutLimits limits{0.025, 0.040, 0.150, 1.0 / 3.0, 0.5};
    for (int i = 0; i < 40; ++i) {
        const double tube = 0.35 + 0.02 * i;
        const TelescopingHalves halves{tube + 0.28, tube, tube};
        const double longest = halves.closed_length + 0.30 * tube;
        const double room = tube + halves.closed_length - longest;
        const double most = std::min((room - 0.150) / 2.0, 0.6 * (room - tube / 3.0));
        const CutPlan plan = plan_cut(halves, {halves.closed_length + 0.02, longest}, limits, millimetre_mark);
        CAPTURE(i, tube, most);
        REQUIRE(plan.equal_possible == (most >= 0.005));
        if (plan.equal_possible) {
            CHECK(std::abs(plan.equal_most - most) < rounding);
            CHECK(std::abs(plan.equal_least - 0.005) < rounding);
        }
    }
}

TEST_CASE("cut: a shaft that fits is left alone, also when the aimed gap is not there", "[analytic]") {
    const TelescopingHalves halves{0.90, 0.55, 0.55};
    const CutLimits limits{0.025, 0.040, 0.150, 1.0 / 3.0, 0.5};
    const CutPlan plan = plan_cut(halves, {0.93, 1.10}, limits, millimetre_mark);
    REQUIRE(plan.answer == CutAnswer::no_cut_needed);
    CHECK(plan.recommended == CutPair{});
    CHECK(plan.after == plan.uncut);
    CHECK_FALSE(plan.after.gap_aim_reached);
    CHECK(plan.to_aim_admissible);
    CHECK(std::abs(plan.to_aim.a - 0.010) < rounding);
    CHECK(plan.equal_possible);
    CHECK(plan.equal_least == 0.0);
    CHECK(plan.least_total == 0.0);
}

TEST_CASE("cut: unequal halves lose from the longer first", "[analytic]") {
    const CutLimits limits{0.025, 0.025, 0.100, 0.25, 0.0};
    const CutPlan little = plan_cut({0.90, 0.60, 0.50}, {0.895, 1.05}, limits, millimetre_mark);
    REQUIRE(little.answer == CutAnswer::cut_to_aim);
    CHECK(std::abs(little.recommended.a - 0.030) < rounding);
    CHECK(little.recommended.b == 0.0);
    const CutPlan more = plan_cut({0.90, 0.50, 0.60}, {0.795, 1.00}, limits, millimetre_mark);
    REQUIRE(more.answer == CutAnswer::cut_to_aim);
    CHECK(std::abs(more.recommended.b - 0.130) < rounding);
    CHECK(std::abs(more.recommended.a - 0.030) < rounding);
}

TEST_CASE("cut: when the aim costs too much overlap the largest mark inside is taken and said", "[analytic]") {
    // Closed 30, halves 19: least for 1 in at 29 1/2 is 1 1/2; the 6 in rule allows (19 + 30 - 39.45 - 6)/2 = 1.775.
    const CutLimits limits{1.0 * inch, 1.5 * inch, 6.0 * inch, 0.0, 0.0};
    const CutPlan plan = plan_cut(halves_in(30, 19, 19), {29.5 * inch, 39.45 * inch}, limits, sixteenth_inch_mark);
    REQUIRE(plan.answer == CutAnswer::cut_short_of_aim);
    CHECK(near_inches(plan.recommended.a, 1.75));
    CHECK(near_inches(plan.recommended.b, 1.75));
    CHECK_FALSE(plan.after.gap_aim_reached);
    CHECK_FALSE(plan.to_aim_admissible);
    CHECK(plan.after.gap >= limits.gap_required - cut_tolerance);
}

TEST_CASE("cut: no sixteenth inside but a millimetre is, then a tenth, then the exact middle", "[analytic]") {
    const CutLimits limits{0.025, 0.025, 0.150, 0.0, 0.0};
    const auto plan_between = [&](double least, double most) {
        // Closed 0.9, halves 0.6: S_least = 0.9 + gap - least, S_most from (0.6 + 0.9 - S_most - 0.15)/2 = most.
        return plan_cut({0.9, 0.6, 0.6}, {0.925 - least, 1.35 - 2.0 * most}, limits, sixteenth_inch_mark);
    };
    // Sixteenths lie at 90/16 in = 142.875 mm and 91/16 in = 144.4625 mm.
    const CutPlan whole = plan_between(0.1431, 0.1443);
    REQUIRE(whole.answer == CutAnswer::cut_between_marks);
    CHECK(whole.recommended_step == 0.001);
    CHECK(std::abs(whole.recommended.a - 0.144) < rounding);
    const CutPlan tenth = plan_between(0.14312, 0.14328);
    REQUIRE(tenth.answer == CutAnswer::cut_between_marks);
    CHECK(tenth.recommended_step == 0.0001);
    CHECK(std::abs(tenth.recommended.a - 0.1432) < rounding);
    const CutPlan exact = plan_between(0.14312, 0.14314);
    REQUIRE(exact.answer == CutAnswer::cut_between_marks);
    CHECK(exact.recommended_step == 0.0);
    CHECK(std::abs(exact.recommended.a - 0.14313) < rounding);
    CHECK(keeps_limits(exact.after, limits));
    const CutPlan point = plan_between(0.14312, 0.14312);
    REQUIRE(point.answer == CutAnswer::cut_between_marks);
    CHECK(std::abs(point.recommended.a - 0.14312) < 2.0 * cut_tolerance);
    CHECK(point.admissible.size() == 1);
    const CutPlan none = plan_between(0.14312, 0.14311);
    CHECK(none.answer == CutAnswer::no_cut_works);
}

TEST_CASE("cut: no cut works names the obstacle and what to order", "[analytic]") {
    const CutLimits limits{0.025, 0.040, 0.150, 1.0 / 3.0, 0.5};
    const CutPlan both = plan_cut({0.90, 0.55, 0.55}, {0.80, 1.15}, limits, millimetre_mark);
    REQUIRE(both.answer == CutAnswer::no_cut_works);
    CHECK(both.obstacle == CutObstacle::cut_costs_overlap);
    CHECK(both.admissible.empty());
    CHECK_FALSE(both.equal_possible);
    CHECK(both.recommended == CutPair{});
    CHECK(std::abs(both.closed_at_most - 0.775) < rounding);
    CHECK(std::abs(both.extended_at_least - 1.15) < rounding);
    // 125 mm off each half leaves 0.55 + 0.90 - 0.25 - 1.15 = 0.05 of overlap, 0.15 needed.
    CHECK(std::abs(both.overlap_short_by - 0.10) < rounding);
    CHECK(both.after == both.uncut);

    const CutPlan too_short = plan_cut({0.90, 0.55, 0.55}, {1.00, 1.30}, limits, millimetre_mark);
    REQUIRE(too_short.answer == CutAnswer::no_cut_works);
    CHECK(too_short.obstacle == CutObstacle::too_short_uncut);
    CHECK(std::abs(too_short.overlap_short_by - (0.55 / 3.0 - 0.15)) < rounding);

    const CutPlan used_up = plan_cut({0.90, 0.30, 0.30}, {0.55, 0.70}, limits, millimetre_mark);
    REQUIRE(used_up.answer == CutAnswer::no_cut_works);
    CHECK(used_up.obstacle == CutObstacle::tubes_used_up);
}

TEST_CASE("cut: what lengths between a bound and what is attained leave open is a mark, a cut or nothing", "[analytic]") {
    const auto plan = [](double shortest, double longest) { return plan_cut(halves_in(43, 30, 30), {shortest * inch, longest * inch}, inch_limits, sixteenth_inch_mark); };
    const double little = 1e-5;
    // 5 5/8 of each half reach the aim; a hair shorter, and it is a sixteenth more.
    const CutPlan aimed = plan(38.875, 44), shorter = plan(38.875 - little, 44);
    CHECK(near_inches(find_plan_difference(shorter, aimed), 1.0 / 16.0));
    CHECK(find_plan_difference(aimed, shorter) == find_plan_difference(shorter, aimed));
    CHECK(find_plan_difference(aimed, plan(38.875 + little, 44)) == 0.0);
    CHECK(find_plan_difference(aimed, aimed) == 0.0);
    // What lacks without a cut that works: all of the longest length, and of the shortest once for each half.
    const CutPlan none = plan(30, 52);
    REQUIRE(none.answer == CutAnswer::no_cut_works);
    CHECK(std::fabs(find_plan_difference(none, plan(30, 52 - little)) - little * inch) < 1e-12);
    const double by_shortest = find_plan_difference(none, plan(30 + little, 52));
    CHECK(by_shortest > 1.3 * little * inch);  // a third of the tube is needed, which grows with what is left
    CHECK(by_shortest < 2.0 * little * inch);
    // Of another kind: all of it.
    CHECK(find_plan_difference(aimed, none) == std::max(aimed.recommended.a, none.overlap_short_by));
    CHECK(find_plan_difference(none, aimed) == find_plan_difference(aimed, none));
    CHECK(find_plan_difference(aimed, plan(44.5, 45)) == aimed.recommended.a);
    // Tubes used up tell no length, but a cut that may work after all is one.
    const CutPlan used_up = plan(12, 40);
    REQUIRE(used_up.obstacle == CutObstacle::tubes_used_up);
    CHECK(find_plan_difference(used_up, aimed) == aimed.recommended.a);
    CHECK(find_plan_difference(used_up, none) == none.overlap_short_by);
    CHECK(find_plan_difference(used_up, used_up) == 0.0);
}

TEST_CASE("cut: what the searches for shortest and longest leave open may lie at neither both bounds nor both lengths attained", "[analytic]") {
    // Equal halves of 500 mm, closed 1 m: the aim asks for 1040 mm less the shortest, the overlap leaves room for half of 1350 mm less the
    // longest. By both bounds 50 mm are all there is room for, by both attained 50 mm are all that is asked; between them it is 51 mm.
    const TelescopingHalves halves{.closed_length = 1.0, .tube_a = 0.5, .tube_b = 0.5};
    CutLimits limits;
    limits.gap_required = 0.025;
    limits.gap_aimed = 0.040;
    limits.overlap_least = 0.150;
    const ShaftTravel bounds{0.98999, 1.24801, 0.0}, attained{0.99001, 1.24799, 0.0};
    const auto cut = [&](double shortest, double longest) { return plan_cut(halves, {shortest, longest, 0.0}, limits, millimetre_mark); };
    const CutPlan plan = cut(bounds.shortest, bounds.longest);
    REQUIRE(plan.recommended.a == Approx(0.050));
    REQUIRE(cut(attained.shortest, attained.longest).recommended.a == Approx(0.050));
    REQUIRE(cut(bounds.shortest, attained.longest).recommended.a == Approx(0.051));
    CHECK(find_plan_error(plan, halves, bounds, attained, limits, millimetre_mark) == Approx(0.001));
    CHECK(find_plan_error(plan, halves, bounds, bounds, limits, millimetre_mark) == 0.0);
    // Lengths drawn between tell of no more.
    std::mt19937 random(20261127);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    for (int i = 0; i < 300; ++i) {
        const ShaftTravel wide{0.98, 1.26, 0.0}, narrow{0.98 + 0.05 * share(random), 1.26 - 0.04 * share(random), 0.0};
        const CutPlan by_bounds = cut(wide.shortest, wide.longest);
        const double error = find_plan_error(by_bounds, halves, wide, narrow, limits, millimetre_mark);
        const double shortest = wide.shortest + share(random) * (narrow.shortest - wide.shortest);
        const double longest = narrow.longest + share(random) * (wide.longest - narrow.longest);
        CAPTURE(narrow.shortest, narrow.longest, shortest, longest);
        CHECK(find_plan_difference(by_bounds, cut(shortest, longest)) <= error + 1e-12);
    }
}

TEST_CASE("cut: inches and millimetres, and halves exchanged, give the same plan", "[metamorphic]") {
    const CutLimits limits{0.025, 0.040, 0.150, 1.0 / 3.0, 0.5};
    const TelescopingHalves halves{0.95, 0.62, 0.54};
    const ShaftTravel travel{0.87, 1.02};
    const CutPlan plan = plan_cut(halves, travel, limits, millimetre_mark);
    const CutPlan swapped = plan_cut({0.95, 0.54, 0.62}, travel, limits, millimetre_mark);
    REQUIRE(plan.answer == swapped.answer);
    CHECK(plan.recommended == CutPair{swapped.recommended.b, swapped.recommended.a});
    CHECK(std::abs(plan.equal_most - swapped.equal_most) < rounding);
    // The same numbers in inches, called metres, with the mark scaled alike.
    const double k = 1.0 / inch;
    const CutPlan scaled = plan_cut({0.95 * k, 0.62 * k, 0.54 * k}, {0.87 * k, 1.02 * k},
                                    {0.025 * k, 0.040 * k, 0.150 * k, 1.0 / 3.0, 0.5}, {0.001 * k});
    REQUIRE(scaled.answer == plan.answer);
    CHECK(std::abs(scaled.recommended.a * inch - plan.recommended.a) < rounding);
    CHECK(std::abs(scaled.recommended.b * inch - plan.recommended.b) < rounding);
    CHECK(std::abs(scaled.equal_most * inch - plan.equal_most) < rounding);
}

TEST_CASE("cut: an aim below the required gap counts as the required gap", "[analytic]") {
    const CutLimits limits{0.076, 0.040, 0.150, 0.0, 0.0};
    const CutPlan plan = plan_cut({0.90, 0.55, 0.55}, {0.95, 1.05}, limits, millimetre_mark);
    REQUIRE(plan.answer == CutAnswer::cut_to_aim);
    CHECK(std::abs(plan.recommended.a - 0.026) < rounding);
    CHECK_FALSE(plan.uncut.gap_aim_reached);  // 50 mm: beyond the aim as typed, short of what is required
    CHECK(plan.after.gap_aim_reached);
}

TEST_CASE("cut: a share of the tube asked for in work binds beside the one over the whole travel", "[analytic]") {
    // Equal halves 0.55, closed 0.90, so O(S) = 1.45 - S - 2 X and the tube is 0.55 - X. Half of it at 1.00 in work:
    // 0.45 - 2 X >= (0.55 - X)/2, X <= 0.35/3. A third at 1.10: 0.35 - 2 X >= (0.55 - X)/3, X <= 0.1. 0.05 m: X <=
    // 0.15.
    CutLimits limits{0.025, 0.040, 0.050, 1.0 / 3.0, 0.0};
    limits.overlap_fraction_in_work = 0.5;
    const TelescopingHalves halves{0.90, 0.55, 0.55};
    CutPlan plan = plan_cut(halves, {0.88, 1.10, 1.00}, limits, millimetre_mark);
    CHECK(std::abs(plan.equal_most - 0.1) < rounding);
    REQUIRE(plan.answer == CutAnswer::cut_to_aim);
    CHECK(std::abs(plan.recommended.a - 0.060) < rounding);
    CHECK(std::abs(plan.after.overlap_in_work - 0.33) < rounding);
    CHECK(std::abs(plan.after.overlap_in_work_needed - 0.245) < rounding);
    // At 1.09 in work half the tube binds: 0.36 - 2 X >= (0.55 - X)/2, X <= 0.085/1.5, short of the 60 mm aimed for.
    plan = plan_cut(halves, {0.88, 1.10, 1.09}, limits, millimetre_mark);
    REQUIRE(plan.answer == CutAnswer::cut_short_of_aim);
    CHECK(std::abs(plan.equal_most - 0.085 / 1.5) < rounding);
    CHECK(std::abs(plan.recommended.a - 0.056) < rounding);
    // 60 mm shorter at the short end: 105 mm must come off, and the overlap in work lacks most: 0.445/2 needed, 0.15
    // left.
    plan = plan_cut(halves, {0.82, 1.10, 1.09}, limits, millimetre_mark);
    REQUIRE(plan.answer == CutAnswer::no_cut_works);
    CHECK(std::abs(plan.overlap_short_by - (0.445 / 2.0 - 0.15)) < rounding);
    // Nothing asked in work, or no working band known: the travel's limits alone.
    CHECK(std::abs(plan_cut(halves, {0.88, 1.10, 0.0}, limits, millimetre_mark).equal_most - 0.1) < rounding);
    limits.overlap_fraction_in_work = 0.0;
    CHECK(std::abs(plan_cut(halves, {0.88, 1.10, 1.09}, limits, millimetre_mark).equal_most - 0.1) < rounding);
}

TEST_CASE("cut: what a student may type is named, never a number", "[analytic]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    const TelescopingHalves halves{0.90, 0.55, 0.55};
    const ShaftTravel travel{0.95, 1.05};
    const CutLimits limits{0.025, 0.040, 0.150, 1.0 / 3.0, 0.5};
    const auto answer = [](const TelescopingHalves& h, const ShaftTravel& t, const CutLimits& l, double step) {
        const CutPlan plan = plan_cut(h, t, l, Mark{step});
        CHECK(plan.recommended == CutPair{});
        return plan.answer;
    };
    const CutPlan bad = plan_cut({0.90, nan, 0.55}, travel, limits, millimetre_mark);
    CHECK(bad.answer == CutAnswer::halves_invalid);
    CHECK(bad.halves_status == HalvesStatus::not_finite);
    for (const ShaftTravel& t : {ShaftTravel{nan, 1.0}, ShaftTravel{0.9, nan}, ShaftTravel{0.9, inf},
                                 ShaftTravel{1.0, 0.9}, ShaftTravel{0.0, 0.9}, ShaftTravel{-1.0, 0.9}}) {
        CHECK(answer(halves, t, limits, 0.001) == CutAnswer::travel_invalid);
    }
    for (const CutLimits& l : {CutLimits{nan, 0.04, 0.15, 0.3, 0.5}, CutLimits{-0.1, 0.04, 0.15, 0.3, 0.5},
                               CutLimits{0.02, inf, 0.15, 0.3, 0.5}, CutLimits{0.02, 0.04, nan, 0.3, 0.5},
                               CutLimits{0.02, 0.04, 0.15, 1.0, 0.5}, CutLimits{0.02, 0.04, 0.15, 0.3, nan},
                               CutLimits{0.02, 0.04, 0.0, 0.0, 0.0}}) {
        CHECK(answer(halves, travel, l, 0.001) == CutAnswer::limits_invalid);
    }
    for (const double in_work : {-0.1, 1.06, nan, inf}) {
        CHECK(answer(halves, {0.95, 1.05, in_work}, limits, 0.001) == CutAnswer::travel_invalid);
    }
    CHECK(answer(halves, travel, {0.02, 0.04, 0.15, 0.3, 0.5, 1.0}, 0.001) == CutAnswer::limits_invalid);
    for (const double step : {0.0, -1.0, nan, inf, 1e-12}) {
        CHECK(answer(halves, travel, limits, step) == CutAnswer::mark_invalid);
    }
    CHECK(answer(halves, {1e300, 1e301}, limits, 0.001) == CutAnswer::no_cut_works);
}
