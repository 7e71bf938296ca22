// Cuts in the order of the trade: their interval against cuts made and judged one by one.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/cut_line.h"

using namespace hitchwright;

namespace {

/// Gap and overlap taken again of the halves as they are after the cut.
bool keeps(const TelescopingHalves& h, const CutPair& cut, const ShaftTravel& travel, const CutLimits& limits) {
    const CutHalves after = cut_halves(h, cut);
    return after.status == CutStatus::ok && keeps_limits(find_margins(after.halves, travel, limits), limits);
}

}  // namespace

TEST_CASE("cut line: the longer half alone first, then both, and the closed length falls by the number", "[analytic]") {
    const TelescopingHalves h{0.80, 0.50, 0.42};
    CHECK(find_cut_at(h, 0.05) == CutPair{0.05, 0.0});
    const CutPair both = find_cut_at(h, 0.10);
    CHECK(both.a == Approx(0.10).margin(1e-12).epsilon(0));
    CHECK(both.b == Approx(0.02).margin(1e-12).epsilon(0));
    const TelescopingHalves other{0.80, 0.42, 0.50};
    CHECK(find_cut_at(other, 0.05) == CutPair{0.0, 0.05});
    for (const double x : {0.0, 0.03, 0.08, 0.2}) {
        CHECK(cut_halves(h, find_cut_at(h, x)).halves.closed_length == Approx(0.80 - x).margin(1e-12).epsilon(0));
        CHECK(find_shortening(find_cut_at(other, x)) == Approx(x).margin(1e-12).epsilon(0));
        CHECK(is_on_cut_line(h, find_cut_at(h, x)));
    }
    CHECK_FALSE(is_on_cut_line(h, {0.05, 0.05}));
}

TEST_CASE("cut line: equal halves by hand", "[analytic]") {
    // Closed 31 in, tubes 19.5 in; shortest 28.9375, longest 30.5 in; 1 in of gap, a third of the tube or 4 in of
    // overlap.
    constexpr double inch = 0.0254;
    const TelescopingHalves h{31.0 * inch, 19.5 * inch, 19.5 * inch};
    const ShaftTravel travel{28.9375 * inch, 30.5 * inch, 0.0};
    CutLimits limits;
    limits.gap_required = inch;
    limits.overlap_least = 4.0 * inch;
    limits.overlap_fraction = 1.0 / 3.0;
    const CutInterval r = find_cut_interval(h, travel, limits);
    REQUIRE(r.any);
    CHECK(r.least == Approx(3.0625 * inch).margin(1e-12).epsilon(0));
    // Overlap 31 + 19.5 - 30.5 = 20 in, less 2 x: at least (19.5 - x)/3, so x at most 13.5 * 3/5 = 8.1 in; 4 in: x at
    // most 8 in.
    CHECK(r.most == Approx(8.0 * inch).margin(1e-12).epsilon(0));
    CHECK(find_cut_place(r, 3.0 * inch) == CutPlace::too_little_gap);
    CHECK(find_cut_place(r, 5.0 * inch) == CutPlace::inside);
    CHECK(find_cut_place(r, 8.1 * inch) == CutPlace::too_little_overlap);
    CHECK(snap_into(r, 0.0, sixteenth_inch_mark) == Approx(3.0625 * inch).margin(1e-12).epsilon(0));
    CHECK(snap_into(r, 5.04 * inch, sixteenth_inch_mark) == Approx(5.0625 * inch).margin(1e-12).epsilon(0));
    CHECK(snap_into(r, 1.0, sixteenth_inch_mark) == Approx(8.0 * inch).margin(1e-12).epsilon(0));
}

TEST_CASE("cut line: the interval ends where a cut made stops keeping gap and overlap, with equal halves as plan_cut",
          "[random]") {
    std::mt19937 random(20261126);
    const auto draw = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int with = 0, without = 0;
    for (int i = 0; i < 400; ++i) {
        const double root = draw(0.15, 0.4), a = draw(0.3, 0.8), b = i % 3 == 0 ? a : draw(0.3, 0.8);
        const TelescopingHalves h{root + std::max(a, b), a, b};
        const double shortest = h.closed_length + draw(-0.15, 0.05);
        const ShaftTravel travel{shortest, shortest + draw(0.02, 0.5), 0.0};
        CutLimits limits;
        limits.gap_required = draw(0.01, 0.05);
        limits.overlap_least = draw(0.05, 0.15);
        limits.overlap_fraction = draw(0.0, 0.5);
        const CutInterval r = find_cut_interval(h, travel, limits);
        INFO("case " << i << " tubes " << a << " " << b << " interval " << r.least << " to " << r.most);
        constexpr double step = 1e-4;
        for (double x = 0.0; x < std::max(a, b) - step; x += 0.0037) {
            const bool inside = r.any && x >= r.least && x <= r.most;
            const bool near_end = std::fabs(x - r.least) < step || std::fabs(x - r.most) < step;
            if (!near_end) CHECK(keeps(h, find_cut_at(h, x), travel, limits) == inside);
        }
        r.any ? ++with : ++without;
        if (!r.any || a != b) continue;
        const CutPlan plan = plan_cut(h, travel, limits, millimetre_mark);
        REQUIRE(plan.equal_possible);
        CHECK(r.least == Approx(plan.equal_least).margin(1e-9).epsilon(0));
        CHECK(r.most == Approx(plan.equal_most).margin(1e-9).epsilon(0));
    }
    CHECK(with > 50);
    CHECK(without > 50);
}

TEST_CASE("cut line: a share of the tube in work ends the interval where cuts made stop keeping it", "[random]") {
    std::mt19937 random(20261127);
    const auto draw = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int binds = 0, with = 0, without = 0;
    for (int i = 0; i < 400; ++i) {
        const double root = draw(0.15, 0.4), a = draw(0.3, 0.8), b = i % 3 == 0 ? a : draw(0.3, 0.8);
        const TelescopingHalves h{root + std::max(a, b), a, b};
        const double shortest = h.closed_length + draw(-0.15, 0.02);
        ShaftTravel travel{shortest, shortest + draw(0.05, 0.4), 0.0};
        travel.longest_in_work = draw(travel.shortest, travel.longest);
        CutLimits limits;
        limits.gap_required = draw(0.01, 0.05);
        limits.overlap_fraction = draw(0.1, 0.35);
        limits.overlap_fraction_in_work = draw(limits.overlap_fraction, 0.7);
        const CutInterval r = find_cut_interval(h, travel, limits);
        CutLimits not_in_work = limits;
        not_in_work.overlap_fraction_in_work = 0.0;
        if (find_cut_interval(h, travel, not_in_work).most > r.most + 1e-3) ++binds;
        INFO("case " << i << " tubes " << a << " " << b << " interval " << r.least << " to " << r.most);
        constexpr double step = 1e-4;
        for (double x = 0.0; x < std::max(a, b) - step; x += 0.0037) {
            // By hand, from the halves left: overlap at a length L is S_0 + t_short - L there.
            const CutPair cut = find_cut_at(h, x);
            const double left_a = a - cut.a, left_b = b - cut.b, longer = std::max(left_a, left_b);
            const double closed = root + longer, reach = closed + std::min(left_a, left_b);
            const bool kept = left_a > 0.0 && left_b > 0.0 && travel.shortest - closed >= limits.gap_required &&
                              reach - travel.longest >= limits.overlap_fraction * longer &&
                              reach - travel.longest_in_work >= limits.overlap_fraction_in_work * longer;
            const bool near_end = std::fabs(x - r.least) < step || std::fabs(x - r.most) < step;
            if (near_end) continue;
            CHECK(kept == (r.any && x >= r.least && x <= r.most));
            CHECK(keeps(h, cut, travel, limits) == kept);
        }
        r.any ? ++with : ++without;
    }
    CHECK(binds > 50);
    CHECK(with > 50);
    CHECK(without > 50);
}

TEST_CASE("cut line: a cut undone gives the halves before it", "[metamorphic]") {
    const TelescopingHalves h{0.80, 0.50, 0.42};
    for (const CutPair cut : {CutPair{0.05, 0.0}, CutPair{0.1, 0.02}, CutPair{0.0, 0.2}, CutPair{0.3, 0.3}}) {
        const TelescopingHalves back = undo_cut(cut_halves(h, cut).halves, cut);
        CHECK(back.closed_length == Approx(h.closed_length).margin(1e-12).epsilon(0));
        CHECK(back.tube_a == Approx(h.tube_a).margin(1e-12).epsilon(0));
        CHECK(back.tube_b == Approx(h.tube_b).margin(1e-12).epsilon(0));
    }
}
