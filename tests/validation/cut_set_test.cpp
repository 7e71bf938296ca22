// The set of admissible cuts and the recommended cut by a second method: tubes as intervals on a line, tried on grids.
//
// Here a shaft is two intervals: tube a from root a outwards, tube b from root b back. It is closed when an end meets
// the other root; the overlap is what the intervals share. No formula of shaft_cut.h is used, and the rule is applied
// to the shaft as it would be measured after the cut.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <random>

#include "geometry/shaft_cut.h"

using namespace hitchwright;

namespace {

struct TubesOnALine {
    double root_a = 0.0;  // joint centre a to root a
    double root_b = 0.0;
    double tube_a = 0.0;
    double tube_b = 0.0;
};

double closed_length(const TubesOnALine& s) {
    return std::max(s.root_a + s.tube_a + s.root_b, s.root_b + s.tube_b + s.root_a);
}

// Length shared by [root a, root a + tube a] and [length - root b - tube b, length - root b]; below 0: apart.
double overlap_at(const TubesOnALine& s, double length) {
    const double from = std::max(s.root_a, length - s.root_b - s.tube_b);
    const double to = std::min(s.root_a + s.tube_a, length - s.root_b);
    return to - from;
}

struct Case {
    TubesOnALine shaft;
    ShaftTravel travel;
    CutLimits limits;

    TelescopingHalves halves() const { return {closed_length(shaft), shaft.tube_a, shaft.tube_b}; }

    // How far a cut stays inside the rule, m; below 0: it breaks it. Nothing: a tube is gone.
    std::optional<double> margin(double cut_a, double cut_b, double gap) const {
        TubesOnALine after = shaft;
        after.tube_a -= cut_a;
        after.tube_b -= cut_b;
        if (after.tube_a <= 0.0 || after.tube_b <= 0.0) {
            return std::nullopt;
        }
        const double needed =
            std::max(limits.overlap_least, limits.overlap_fraction * std::max(after.tube_a, after.tube_b));
        double left =
            std::min(travel.shortest - closed_length(after) - gap, overlap_at(after, travel.longest) - needed);
        if (travel.longest_in_work > 0.0) {
            const double share = limits.overlap_fraction_in_work * std::max(after.tube_a, after.tube_b);
            left = std::min(left, overlap_at(after, travel.longest_in_work) - share);
        }
        return left;
    }
    bool allows(double cut_a, double cut_b) const {
        const std::optional<double> m = margin(cut_a, cut_b, limits.gap_required);
        return m && *m >= -cut_tolerance;
    }
};

Case make_random_case(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    Case c;
    c.shaft = {between(0.08, 0.20), between(0.08, 0.20), between(0.30, 0.80), between(0.30, 0.80)};
    const double work = between(0.0, 1.0);
    const double likeness = between(0.0, 1.0);
    if (likeness < 0.6) {  // equal halves, or so like that both are cut
        c.shaft.tube_b = c.shaft.tube_a + (likeness < 0.2 ? 0.0 : between(-0.05, 0.05));
    }
    const double closed = closed_length(c.shaft);
    c.travel.shortest = closed + between(-0.22, 0.06);
    c.travel.longest = c.travel.shortest + between(0.0, 0.22);
    const double gap = between(0.010, 0.050);
    c.limits = {gap, gap + between(0.0, 0.02), between(0.05, 0.20), between(0.0, 1.0) < 0.2 ? 0.0 : between(0.1, 0.5),
                0.5};
    if (between(0.0, 1.0) < 0.5) {  // half of them close to the edge of "no cut works"
        TubesOnALine after = c.shaft;
        const double target = c.travel.shortest - gap - c.shaft.root_a - c.shaft.root_b;
        after.tube_a = std::min(after.tube_a, target);
        after.tube_b = std::min(after.tube_b, target);
        const double needed =
            std::max(c.limits.overlap_least, c.limits.overlap_fraction * std::max(after.tube_a, after.tube_b));
        const double apart = after.root_a + after.tube_a + after.root_b + after.tube_b;
        c.travel.longest = std::max(c.travel.shortest, apart - needed - between(-0.005, 0.030));
    }
    if (work < 0.4) {  // a share of the tube asked for over a working band
        c.travel.longest_in_work = c.travel.shortest + between(0.6, 1.0) * (c.travel.longest - c.travel.shortest);
        c.limits.overlap_fraction_in_work = between(0.3, 0.6);
    }
    return c;
}

// Least signed distance of a point from the edges of a convex polygon given anticlockwise; inside is positive.
double distance_inside(const std::vector<CutPair>& corners, double a, double b) {
    double least = 1e300;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const CutPair& p = corners[i];
        const CutPair& q = corners[(i + 1) % corners.size()];
        const double da = q.a - p.a;
        const double db = q.b - p.b;
        least = std::min(least, (da * (b - p.b) - db * (a - p.a)) / std::hypot(da, db));
    }
    return least;
}

struct Tally {
    int inside = 0;
    int outside = 0;
    int empty_sets = 0;
};

// Grid over all cuts there are. A point within 1e-8 m of an edge may fall on either side.
void check_set_on_grid(const Case& c, const CutPlan& plan, Tally& tally) {
    constexpr int steps = 60;
    int wrong = 0;
    for (int i = 0; i < steps; ++i) {
        for (int j = 0; j < steps; ++j) {
            const double a = c.shaft.tube_a * i / steps;
            const double b = c.shaft.tube_b * j / steps;
            const bool simulated = c.allows(a, b);
            const double inside = plan.admissible.size() < 3 ? -1.0 : distance_inside(plan.admissible, a, b);
            if (std::abs(inside) > 1e-8 && simulated != (inside > 0.0)) {
                ++wrong;
            }
            ++(simulated ? tally.inside : tally.outside);
        }
    }
    CHECK(wrong == 0);
}

struct MarkedBest {
    bool any = false;  // some marked cut is admissible
    bool reaches_aim = false;
    CutPair least_for_aim{1e300, 1e300};  // componentwise least of those that reach the aim
    double greatest_gap = -1e300;         // gap of the best of all
};

MarkedBest try_all_marks(const Case& c, double step) {
    MarkedBest best;
    const double shortest = c.travel.shortest;
    for (int i = 0; i * step < c.shaft.tube_a; ++i) {
        for (int j = 0; j * step < c.shaft.tube_b; ++j) {
            const double a = i * step;
            const double b = j * step;
            if (!c.allows(a, b)) {
                continue;
            }
            best.any = true;
            const double gap = shortest - std::max(c.shaft.root_a + c.shaft.tube_a - a + c.shaft.root_b,
                                                   c.shaft.root_b + c.shaft.tube_b - b + c.shaft.root_a);
            best.greatest_gap = std::max(best.greatest_gap, gap);
            if (gap >= c.limits.gap_aimed - cut_tolerance) {
                best.reaches_aim = true;
                best.least_for_aim = {std::min(best.least_for_aim.a, a), std::min(best.least_for_aim.b, b)};
            }
        }
    }
    return best;
}

void check_recommended(const Case& c, const CutPlan& plan, double step) {
    if (plan.answer == CutAnswer::no_cut_works) {
        CHECK(plan.admissible.empty());
        return;
    }
    REQUIRE(c.allows(plan.recommended.a, plan.recommended.b));
    const MarkedBest best = try_all_marks(c, step);
    switch (plan.answer) {
        case CutAnswer::no_cut_needed:
            CHECK(c.allows(0.0, 0.0));
            CHECK(plan.recommended == CutPair{});
            break;
        case CutAnswer::cut_to_aim:
            CHECK_FALSE(c.allows(0.0, 0.0));
            CHECK(best.reaches_aim);
            CHECK(std::abs(plan.recommended.a - best.least_for_aim.a) < cut_tolerance);
            CHECK(std::abs(plan.recommended.b - best.least_for_aim.b) < cut_tolerance);
            break;
        case CutAnswer::cut_short_of_aim:
            CHECK(best.any);
            CHECK_FALSE(best.reaches_aim);
            CHECK(std::abs(plan.after.gap - best.greatest_gap) < cut_tolerance);
            break;
        case CutAnswer::cut_between_marks:
            CHECK_FALSE(best.any);
            break;
        default:
            FAIL("input taken as invalid");
    }
}

// Greatest and least equal cut by bisection on the simulated shaft.
void check_equal_cuts(const Case& c, const CutPlan& plan) {
    bool any = false;
    double least = 0.0;
    double most = 0.0;
    constexpr int steps = 20000;
    const double top = std::min(c.shaft.tube_a, c.shaft.tube_b);
    for (int i = 0; i < steps; ++i) {
        const double x = top * i / steps;
        if (c.allows(x, x)) {
            least = any ? least : x;
            most = x;
            any = true;
        }
    }
    const double grid = top / steps;
    if (any) {
        CHECK(plan.equal_possible);
        CHECK(plan.equal_least <= least + cut_tolerance);
        CHECK(plan.equal_least > least - grid);
        CHECK(plan.equal_most >= most - cut_tolerance);
        CHECK(plan.equal_most < most + grid);
    } else {
        // An interval narrower than the grid may be missed by it, never the other way round.
        CHECK((!plan.equal_possible || plan.equal_most - plan.equal_least < grid));
    }
}

}  // namespace

TEST_CASE("cut: the admissible set of 60 random shafts is what cutting and measuring gives, point by point",
          "[oracle][random]") {
    constexpr unsigned seed = 730u;
    std::mt19937 random(seed);
    Tally tally;
    for (int i = 0; i < 60; ++i) {
        const Case c = make_random_case(random);
        const CutPlan plan = plan_cut(c.halves(), c.travel, c.limits, millimetre_mark);
        CAPTURE(seed, i, static_cast<int>(plan.answer), c.shaft.tube_a, c.shaft.tube_b);
        tally.empty_sets += plan.admissible.empty() ? 1 : 0;
        check_set_on_grid(c, plan, tally);
        check_equal_cuts(c, plan);
        if (!plan.admissible.empty()) {
            CHECK(std::abs(plan.least_total - plan.least_cut.a - plan.least_cut.b) < 1e-12);
            for (const CutPair& corner : plan.admissible) {
                CHECK(corner.a + corner.b >= plan.least_total - cut_tolerance);
                CHECK(c.margin(corner.a, corner.b, c.limits.gap_required).value_or(-1.0) > -1e-8);
            }
        }
    }
    // The sample must hold both kinds of points and both kinds of sets.
    CHECK(tally.inside > 2000);
    CHECK(tally.outside > 2000);
    CHECK(tally.empty_sets > 5);
    CHECK(tally.empty_sets < 50);
}

TEST_CASE("cut: the recommended cut of 1000 random shafts is the best of all marked cuts", "[oracle][random]") {
    constexpr unsigned seed = 731u;
    std::mt19937 random(seed);
    std::map<CutAnswer, int> answers;
    for (int i = 0; i < 1000; ++i) {
        const Case c = make_random_case(random);
        // Coarse marks make the cases between marks frequent.
        const double step = i % 3 == 0 ? 0.020 : (i % 3 == 1 ? 0.0254 / 4.0 : 0.013);
        const CutPlan plan = plan_cut(c.halves(), c.travel, c.limits, Mark{step});
        CAPTURE(seed, i, step, static_cast<int>(plan.answer), plan.recommended.a, plan.recommended.b);
        ++answers[plan.answer];
        check_recommended(c, plan, step);
    }
    for (const CutAnswer answer : {CutAnswer::no_cut_needed, CutAnswer::cut_to_aim, CutAnswer::cut_short_of_aim,
                                   CutAnswer::cut_between_marks, CutAnswer::no_cut_works}) {
        CAPTURE(static_cast<int>(answer));
        CHECK(answers[answer] >= 20);
    }
}
