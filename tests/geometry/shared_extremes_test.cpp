// Several extremes in one search, and several limits in one pass: functions whose answers are known.
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/inside_intervals.h"
#include "geometry/shared_extremes.h"
#include "geometry/shared_inside.h"
#include "geometry/vec.h"

using namespace hitchwright;

namespace {

constexpr std::size_t count = 4;
constexpr double tolerance = 1e-7;

/// A parabola with its least value inside, a falling line, a curve with two equal least values, a constant.
struct Known {
    template <class T>
    static std::array<T, count> evaluate(const T& x) {
        return {square(x - 0.3) + 2.0, 1.0 - x, square(square(x) - 0.25), T(5.0)};
    }
    static PointValues<count> at_point(double x, const FunctionMarks<count>&) { return evaluate(IntervalJet<0>(x)); }
    static PieceValues<count> over_piece(const Interval& x, const FunctionMarks<count>&) {
        return {evaluate(IntervalJet<1>::variable(x, 0)), evaluate(IntervalJet<0>(x.middle()))};
    }
};

const auto close_enough = [](std::size_t, double value, double bound) { return std::fabs(value - bound) <= tolerance; };
constexpr FunctionMarks<count> all{true, true, true, true};

void check(const BoundedExtreme<1>& e, double least) {
    CAPTURE(e.value, e.bound, least);
    CHECK(e.converged);
    CHECK(e.bound <= least + 1e-15);
    CHECK(e.value >= least - 1e-15);
    CHECK(e.value - e.bound <= tolerance);
}

}  // namespace

TEST_CASE("shared search: least values of four functions at once", "[analytic]") {
    const auto e = find_minima_together<count>(Known{}, Interval(-1.0, 2.0), close_enough, all);
    check(e[0], 2.0);
    CHECK(std::fabs(e[0].at[0] - 0.3) < 1e-3);
    check(e[1], -1.0);
    CHECK(e[1].at[0] == 2.0);
    check(e[2], 0.0);
    CHECK(std::fabs(std::fabs(e[2].at[0]) - 0.5) < 1e-3);
    check(e[3], 5.0);
}

TEST_CASE("shared search: at the ends, on a point, and what is not asked", "[analytic]") {
    const auto left = find_minima_together<count>(Known{}, Interval(0.4, 2.0), close_enough, all);
    check(left[0], 2.01);
    CHECK(left[0].at[0] == 0.4);
    const auto right = find_minima_together<count>(Known{}, Interval(-1.0, 0.2), close_enough, all);
    check(right[0], 2.01);
    CHECK(right[0].at[0] == 0.2);
    const auto point = find_minima_together<count>(Known{}, Interval(1.5, 1.5), close_enough, all);
    check(point[0], 3.44);
    check(point[2], 4.0);
    const auto some = find_minima_together<count>(Known{}, Interval(-1.0, 2.0), close_enough, {false, true, false, false});
    check(some[1], -1.0);
    CHECK((some[0].evaluations == 0 && !some[0].converged));
    const auto whole = find_minima_together<count>(Known{}, Interval(-1.0, 2.0), close_enough, all);
    CHECK(some[1].evaluations < whole[1].evaluations);
}

TEST_CASE("shared search: the same as one search each", "[oracle]") {
    const auto together = find_minima_together<count>(Known{}, Interval(-0.9, 0.7), close_enough, all);
    for (std::size_t k = 0; k < count; ++k) {
        const auto alone = find_minimum<1>([k](const auto& x) { return Known::evaluate(x[0])[k]; },
                                           IntervalBox<1>{Interval(-0.9, 0.7)}, PlainCloseness{tolerance});
        CAPTURE(k, alone.value, together[k].value);
        CHECK(std::fabs(alone.value - together[k].value) <= tolerance);
    }
}

TEST_CASE("shared limits: the same ranges as one pass each, and by hand", "[analytic][oracle]") {
    const std::array<double, count> limits{2.25, 0.5, 0.01, 4.0};
    const auto together = find_inside_together<count>(Known{}, limits, Interval(-1.0, 2.0), all);
    for (std::size_t k = 0; k < count; ++k) {
        const auto alone = find_inside([k](const auto& x) { return Known::evaluate(x[0])[k]; },
                                       IntervalBox<1>{Interval(-1.0, 2.0)}, limits[k]);
        REQUIRE(together[k].size() == alone.size());
        for (std::size_t i = 0; i < alone.size(); ++i) {
            CHECK(std::fabs(together[k][i].low - alone[i].low) < 2e-9);
            CHECK(std::fabs(together[k][i].high - alone[i].high) < 2e-9);
        }
    }
    REQUIRE(together[0].size() == 1);
    CHECK((std::fabs(together[0][0].low + 0.2) < 1e-8 && std::fabs(together[0][0].high - 0.8) < 1e-8));
    CHECK((together[0][0].low >= -0.2 - 1e-15 && together[0][0].high <= 0.8 + 1e-15));  // rounded inward
    REQUIRE(together[1].size() == 1);
    CHECK((std::fabs(together[1][0].low - 0.5) < 1e-8 && together[1][0].high == 2.0));
    REQUIRE(together[2].size() == 2);
    CHECK(std::fabs(together[2][1].high - std::sqrt(0.35)) < 1e-8);
    CHECK(together[3].empty());
    const auto point = find_inside_together<count>(Known{}, limits, Interval(0.7, 0.7), {true, true, false, true});
    CHECK((point[0].size() == 1 && point[1].size() == 1 && point[2].empty() && point[3].empty()));
}
