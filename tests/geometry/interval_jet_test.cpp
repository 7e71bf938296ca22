// Interval jets: over every box the derivative enclosures hold the true slopes, and point jets are tight.
//
// A central difference with both points in the box is the slope somewhere in between (mean value theorem), so that it
// must lie in the enclosure over the box but for its own rounding; it is taken in long double.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/interval_jet.h"
#include "geometry/vec.h"

using namespace hitchwright;

namespace {

using Jet = IntervalJet<2>;

inline long double square(long double x) { return x * x; }

/// Functions of two variables that use every operation; positive arguments keep roots and quotients in their domain.
struct TestFunctions {
    template <class T>
    static T of(int which, const T& x, const T& y) {
        using std::sqrt;
        switch (which) {
            case 0: return x * y - x / y;
            case 1: return sqrt(square(x) + square(y));
            case 2: return (x - y) / (x + 2.0 * y) + square(x - y);
            case 3: return -(x * sqrt(y)) + 3.0 - 0.5 * x;
            case 4: return sqrt(1.0 + square(x * y - 1.0)) / (y + 1.0);
            default: return (1.0 - x) * (y * 0.25) / square(x + y) - y;
        }
    }
};
constexpr int functions = 6;

long double value(int which, long double x, long double y) { return TestFunctions::of<long double>(which, x, y); }

}  // namespace

TEST_CASE("interval jet: values and slopes over a box are enclosed", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    constexpr long double rounding = 1e-13L;  // of the differences: 1e-19 over a step of 1e-5 of sides down to 1e-1
    int checked = 0;
    for (int i = 0; i < 3000; ++i) {
        const int which = i % functions;
        const Interval x0(0.2, 0.2), y0(0.3, 0.3);
        const double x = between(0.2, 3.0), y = between(0.3, 3.0);
        const double wide = std::pow(10.0, between(-4.0, -0.3));
        const Interval xs(x, x + wide), ys(y, y + wide);
        const Jet f = TestFunctions::of<Jet>(which, Jet::variable(xs, 0), Jet::variable(ys, 1));
        CAPTURE(which, x, y, wide, f.v.lo, f.v.hi, f.d[0].lo, f.d[0].hi, f.d[1].lo, f.d[1].hi);
        for (int k = 0; k < 5; ++k) {
            const long double step = 0.01L * wide;
            const long double px = x + step + between(0.0, 0.97) * (wide - 2 * step);
            const long double py = y + step + between(0.0, 0.97) * (wide - 2 * step);
            const long double v = value(which, px, py);
            const long double dx = (value(which, px + step, py) - value(which, px - step, py)) / (2 * step);
            const long double dy = (value(which, px, py + step) - value(which, px, py - step)) / (2 * step);
            CHECK((f.v.lo <= v && v <= f.v.hi));
            CHECK((f.d[0].lo - rounding <= dx && dx <= f.d[0].hi + rounding));
            CHECK((f.d[1].lo - rounding <= dy && dy <= f.d[1].hi + rounding));
            ++checked;
        }
    }
    CHECK(checked == 15000);
}

TEST_CASE("interval jet: at a point value and slopes are tight", "[analytic]") {
    // f = sqrt(x^2 + y^2) at (3, 4): 5, slopes 3/5 and 4/5.
    const Jet x = Jet::variable(Interval(3.0), 0), y = Jet::variable(Interval(4.0), 1);
    const Jet f = TestFunctions::of<Jet>(1, x, y);
    CHECK(f.v.contains(5.0));
    CHECK(f.d[0].contains(0.6));
    CHECK(f.d[1].contains(0.8));
    CHECK(f.v.width() < 1e-14);
    CHECK(f.d[0].width() < 1e-14);
    CHECK(f.d[1].width() < 1e-14);
    const Jet q = x / y;  // slopes 1/4 and -3/16
    CHECK((q.d[0].contains(0.25) && q.d[1].contains(-0.1875) && q.d[1].width() < 1e-15));
}

TEST_CASE("interval jet: numbers mix in as constants", "[analytic]") {
    const Jet x = Jet::variable(Interval(1.0, 2.0), 0);
    const auto same = [](const Jet& a, const Jet& b) {
        return std::fabs(a.v.lo - b.v.lo) < 1e-14 && std::fabs(a.v.hi - b.v.hi) < 1e-14 &&
               std::fabs(a.d[0].lo - b.d[0].lo) < 1e-14 && std::fabs(a.d[0].hi - b.d[0].hi) < 1e-14 &&
               std::fabs(a.d[1].lo) < 1e-300 && std::fabs(b.d[1].hi) < 1e-300;
    };
    CHECK(same(2.0 * x, Jet(2.0) * x));
    CHECK(same(x * 2.0, x * Jet(2.0)));
    CHECK(same(x + 2.0, x + Jet(2.0)));
    CHECK(same(2.0 + x, Jet(2.0) + x));
    CHECK(same(x - 2.0, x - Jet(2.0)));
    CHECK(same(2.0 - x, Jet(2.0) - x));
    CHECK((2.0 - x).d[0] == Interval(-1.0));
    CHECK(same(-x, Jet(0.0) - x));
}

TEST_CASE("interval jet: a root that reaches zero has no bounded slope, and says so", "[analytic]") {
    const Jet x = Jet::variable(Interval(0.0, 1.0), 0);
    CHECK(sqrt(x).v.contains(0.0));
    CHECK(sqrt(x).v.contains(1.0));
    CHECK(sqrt(x).d[0] == whole_line());
    CHECK(clamped_sqrt(x).d[0] == whole_line());
    const Jet around = Jet::variable(Interval(-1.0, 1.0), 0);
    CHECK(sqrt(square(around)).d[0] == whole_line());  // |x|: -1 and 1 on the two sides
    CHECK((1.0 + x) .d[0] == Interval(1.0));
    CHECK((Jet(1.0) / x).v == whole_line());
    CHECK((Jet(1.0) / x).d[0] == whole_line());
}

TEST_CASE("interval jet: a square is no product, it does not fall below zero", "[analytic]") {
    const Jet x = Jet::variable(Interval(-1.0, 2.0), 0);
    CHECK(square(x).v.lo == 0.0);
    CHECK((x * x).v.lo < -1.9);
    CHECK((square(x).d[0].contains(-2.0) && square(x).d[0].contains(4.0)));
}
