// Heights inside a limit: the set of intervals, its ends, and what is left open.
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/inside_intervals.h"
#include "geometry/vec.h"

using namespace hitchwright;

namespace {

constexpr double micrometre = 1e-6;

/// Ends as expected, and on the inside of them.
void check_range(const HeightRange& r, double low, double high) {
    CAPTURE(r.low, r.high, low, high);
    CHECK(std::fabs(r.low - low) < micrometre);
    CHECK(std::fabs(r.high - high) < micrometre);
    CHECK(r.low >= low - 1e-13);
    CHECK(r.high <= high + 1e-13);
}

}  // namespace

TEST_CASE("inside intervals: two ranges of a parabola turned over", "[analytic]") {
    const auto f = [](const auto& x) { return 1.0 - square(x[0]); };
    const auto found = find_inside(f, IntervalBox<1>{Interval(-1.0, 2.0)}, 0.75);
    REQUIRE(found.size() == 2);
    check_range(found[0], -1.0, -0.5);
    check_range(found[1], 0.5, 2.0);
    CHECK(found[0].low == -1.0);  // an end of the whole range stays itself
    CHECK(found[1].high == 2.0);
}

TEST_CASE("inside intervals: three ranges of a wave", "[analytic]") {
    // T5(x) = 16 x^5 - 20 x^3 + 5 x = cos(5 acos x) <= 0.5
    const auto f = [](const auto& x) { return ((16.0 * square(x[0]) - 20.0) * square(x[0]) + 5.0) * x[0]; };
    const auto found = find_inside(f, IntervalBox<1>{Interval(-1.0, 1.0)}, 0.5);
    REQUIRE(found.size() == 3);
    const auto at = [](double degrees) { return std::cos(degrees / 180.0 * 3.14159265358979323846); };
    check_range(found[0], -1.0, at(156.0));
    check_range(found[1], at(132.0), at(84.0));
    check_range(found[2], at(60.0), at(12.0));
}

TEST_CASE("inside intervals: all inside, all outside", "[analytic]") {
    const auto f = [](const auto& x) { return square(x[0]); };
    const auto all = find_inside(f, IntervalBox<1>{Interval(-1.0, 1.0)}, 1.5);
    REQUIRE(all.size() == 1);
    CHECK((all[0].low == -1.0 && all[0].high == 1.0));
    CHECK(find_inside(f, IntervalBox<1>{Interval(-1.0, 1.0)}, -0.5).empty());
    CHECK(find_inside(f, IntervalBox<1>{Interval(1.0, 2.0)}, 0.5).empty());
}

TEST_CASE("inside intervals: a limit that is just not reached leaves no hole", "[analytic]") {
    // Greatest value 1 at 0, limit above it by 1e-9 and less: plain splitting would give up, since the factors forget that
    // one falls as the other rises.
    const auto f = [](const auto& x) { return (1.0 - x[0]) * (x[0] + 1.0); };
    for (const double above : {1e-6, 1e-9, 1e-11}) {
        CAPTURE(above);
        const auto found = find_inside(f, IntervalBox<1>{Interval(-0.7, 0.9)}, 1.0 + above);
        REQUIRE(found.size() == 1);
        CHECK((found[0].low == -0.7 && found[0].high == 0.9));
    }
}

TEST_CASE("inside intervals: a limit that is just touched loses no more than the finest piece", "[analytic]") {
    const auto f = [](const auto& x) { return 1.0 - square(x[0] - 0.123); };
    const auto found = find_inside(f, IntervalBox<1>{Interval(-0.7, 0.9)}, 1.0);
    double covered = 0.0;
    for (const HeightRange& r : found) {
        covered += r.high - r.low;
        CHECK(r.low <= r.high);
    }
    CHECK(covered <= 1.6 + 1e-12);
    CHECK(covered > 1.6 - 3 * finest_piece);
    // Broken by 1e-9 only between 0.123 -+ 3.2e-5: that much is out, and no more.
    const auto broken = find_inside(f, IntervalBox<1>{Interval(-0.7, 0.9)}, 1.0 - 1e-9);
    REQUIRE(broken.size() == 2);
    check_range(broken[0], -0.7, 0.123 - std::sqrt(1e-9));
    check_range(broken[1], 0.123 + std::sqrt(1e-9), 0.9);
    // The limit touched from below at one point: nothing is inside.
    const auto valley = [](const auto& x) { return square(x[0]) + 1.0; };
    for (const HeightRange& r : find_inside(valley, IntervalBox<1>{Interval(-0.5, 0.6)}, 1.0)) {
        CHECK(std::fabs(r.low) < finest_piece);
        CHECK(std::fabs(r.high) < finest_piece);
    }
}

TEST_CASE("inside intervals: a degenerate range is one point", "[analytic]") {
    const auto f = [](const auto& x) { return x[0]; };
    const auto in = find_inside(f, IntervalBox<1>{Interval(2.0)}, 3.0);
    REQUIRE(in.size() == 1);
    CHECK((in[0].low == 2.0 && in[0].high == 2.0));
    CHECK(find_inside(f, IntervalBox<1>{Interval(2.0)}, 1.0).empty());
}

TEST_CASE("inside intervals: a constant at the limit, or a limit that is no number, ends and is outside", "[analytic]") {
    const auto f = [](const auto& x) { return (x[0] - x[0]) + 1.0; };
    CHECK(find_inside(f, IntervalBox<1>{Interval(0.0, 1.0)}, 1.0).empty());
    const auto fine = find_inside(f, IntervalBox<1>{Interval(0.0, 1.0)}, 1.1);
    REQUIRE(fine.size() == 1);
    CHECK(find_inside(f, IntervalBox<1>{Interval(0.0, 1.0)}, std::numeric_limits<double>::quiet_NaN()).empty());
    CHECK(find_inside(f, IntervalBox<1>{Interval(0.0, 1.0)}, std::numeric_limits<double>::infinity()).empty());
    CHECK(find_inside(f, IntervalBox<1>{whole_line()}, 1.1).empty());
}

TEST_CASE("inside intervals: a root with infinite slope at the end of the range", "[analytic]") {
    const auto f = [](const auto& x) { return 1.0 - sqrt(x[0]); };
    const auto found = find_inside(f, IntervalBox<1>{Interval(0.0, 1.0)}, 0.9);
    REQUIRE(found.size() == 1);
    check_range(found[0], 0.01, 1.0);
    const auto rising = [](const auto& x) { return sqrt(x[0]); };
    const auto low = find_inside(rising, IntervalBox<1>{Interval(0.0, 1.0)}, 0.1);
    REQUIRE(low.size() == 1);
    check_range(low[0], 0.0, 0.01);
}

TEST_CASE("inside intervals: whatever the second variable, ends are as sharp as with one", "[analytic]") {
    // x e <= 1 for all e in [1, 2]: x <= 1/2.
    const auto product = [](const auto& x) { return x[0] * x[1]; };
    const auto half = find_inside(product, IntervalBox<2>{Interval(0.0, 3.0), Interval(1.0, 2.0)}, 1.0);
    REQUIRE(half.size() == 1);
    check_range(half[0], 0.0, 0.5);
    // x - (e - 0.3)^2 <= 0.5: the worst e lies inside, at 0.3: x <= 1/2. Then with the worst at an end: e = 1.
    const auto hill = [](const auto& x) { return x[0] - square(x[1] - 0.3); };
    const auto inner = find_inside(hill, IntervalBox<2>{Interval(0.0, 3.0), Interval(-1.0, 1.0)}, 0.5);
    REQUIRE(inner.size() == 1);
    check_range(inner[0], 0.0, 0.5);
    const auto bowl = [](const auto& x) { return x[0] + square(x[1] - 0.3); };
    const auto end = find_inside(bowl, IntervalBox<2>{Interval(-3.0, 3.0), Interval(-1.0, 1.0)}, 0.5);
    REQUIRE(end.size() == 1);
    check_range(end[0], -3.0, 0.5 - 1.69);
}

TEST_CASE("inside intervals: whatever the second variable, around a turning point", "[analytic]") {
    // |x - e/10| seen through its square: inside where even the farther end is near enough.
    const auto f = [](const auto& x) { return square(x[0] - 0.1 * x[1]); };
    const auto found = find_inside(f, IntervalBox<2>{Interval(-1.0, 1.0), Interval(-1.0, 2.0)}, 0.09);
    REQUIRE(found.size() == 1);
    check_range(found[0], 0.2 - 0.3, -0.1 + 0.3);
    const auto turned = [](const auto& x) { return 1.0 - square(x[0] - 0.1 * x[1]); };
    const auto outer = find_inside(turned, IntervalBox<2>{Interval(-1.0, 1.0), Interval(-1.0, 2.0)}, 0.91);
    REQUIRE(outer.size() == 2);
    check_range(outer[0], -1.0, -0.1 - 0.3);
    check_range(outer[1], 0.2 + 0.3, 1.0);
}

TEST_CASE("inside intervals: random polynomials against sampling", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> coefficient(-1.0, 1.0);
    int several = 0;
    for (int i = 0; i < 200; ++i) {
        std::array<double, 5> c{};
        for (double& each : c) each = coefficient(random);
        const auto polynomial = [&c](const auto& x) { return (((c[4] * x + c[3]) * x + c[2]) * x + c[1]) * x + c[0]; };
        const double limit = 0.5 * coefficient(random);
        const auto found = find_inside([&](const auto& x) { return polynomial(x[0]); }, IntervalBox<1>{Interval(-2.0, 1.5)}, limit);
        several += found.size() > 1;
        int wrong = 0;
        for (int k = 0; k <= 5000; ++k) {
            const double x = -2.0 + 3.5 * k / 5000.0;
            bool in = false;
            for (const HeightRange& r : found) in = in || r.contains(x);
            const double margin = limit - polynomial(x);
            wrong += (in && margin < -1e-13) || (!in && margin > 1e-6);
        }
        CAPTURE(i, limit);
        CHECK(wrong == 0);
    }
    CHECK(several > 20);
}
