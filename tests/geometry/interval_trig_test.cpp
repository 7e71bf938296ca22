// Sine and cosine of intervals and jets: the true values, taken in long double, lie inside; the ends are tight.
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/interval_trig.h"

using namespace hitchwright;

namespace {

bool holds(const Interval& a, long double x) { return a.lo <= x && x <= a.hi; }

}  // namespace

TEST_CASE("interval sine and cosine: every value inside is enclosed, ends are tight", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int bad = 0, loose = 0, turning = 0;
    for (int i = 0; i < 20000; ++i) {
        // Every third interval begins or ends close to a quarter turn.
        const double quarter = 0.5 * pi * std::floor(between(-9.0, 9.0));
        const double from = i % 3 == 0 ? quarter + std::pow(10.0, between(-17.0, -1.0)) : between(-12.0, 12.0);
        const double wide = i % 7 == 0 ? 0.0 : std::pow(10.0, between(-15.0, 0.9));
        const Interval a = i % 2 == 0 ? Interval(from, from + wide) : Interval(-from - wide, -from);
        const Interval c = cos(a), s = sin(a);
        long double least = 2.0L, most = -2.0L;
        for (int k = 0; k <= 20; ++k) {
            const double x = std::min(a.hi, a.lo + (a.hi - a.lo) * k / 20.0);
            bad += !holds(c, std::cos(static_cast<long double>(x))) + !holds(s, std::sin(static_cast<long double>(x)));
            least = std::min(least, std::cos(static_cast<long double>(x)));
            most = std::max(most, std::cos(static_cast<long double>(x)));
        }
        bad += c.lo < -1.0 || c.hi > 1.0 || s.lo < -1.0 || s.hi > 1.0;
        turning += c.hi == 1.0 || c.lo == -1.0;
        // Between samples the cosine moves by less than half the step.
        const double step = a.width() / 40.0;
        loose += static_cast<double>(least) - c.lo > step + 1e-14 || c.hi - static_cast<double>(most) > step + 1e-14;
    }
    CHECK(bad == 0);
    CHECK(loose == 0);
    CHECK(turning > 2000);
}

TEST_CASE("interval sine and cosine: quarter turns, wide and hostile intervals", "[analytic]") {
    CHECK(cos(Interval(-0.1, 0.2)).hi == 1.0);
    CHECK(std::fabs(cos(Interval(-0.1, 0.2)).lo - std::cos(0.2)) < 1e-15);
    CHECK(sin(Interval(1.0, 2.0)).hi == 1.0);
    CHECK(sin(Interval(-2.0, -1.0)).lo == -1.0);
    CHECK(cos(Interval(3.0, 3.3)).lo == -1.0);
    CHECK(cos(Interval(0.5, 0.6)).hi < 0.88);
    CHECK(cos(Interval(0.0, 7.0)) == Interval(-1.0, 1.0));
    CHECK(sin(Interval(0.0)).contains(0.0));
    const double infinity = std::numeric_limits<double>::infinity();
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const Interval& a : {whole_line(), Interval(1.0e7, 1.0e7 + 1.0), Interval(-infinity, 0.0), Interval(nan, nan)}) {
        CHECK(sin(a) == Interval(-1.0, 1.0));
        CHECK(cos(a) == Interval(-1.0, 1.0));
    }
}

TEST_CASE("jets of sine and cosine: slopes are each other", "[analytic]") {
    using Jet = IntervalJet<2>;
    const Jet x = Jet::variable(Interval(0.3, 0.4), 1);
    const Jet s = sin(2.0 * x), c = cos(2.0 * x);
    for (const double p : {0.3, 0.33, 0.4}) {
        CHECK(s.d[1].contains(2.0 * std::cos(2.0 * p)));
        CHECK(c.d[1].contains(-2.0 * std::sin(2.0 * p)));
        CHECK((s.v.contains(std::sin(2.0 * p)) && c.v.contains(std::cos(2.0 * p))));
    }
    CHECK(s.d[1].width() < 2.0 * (std::cos(0.6) - std::cos(0.8)) + 1e-14);
    CHECK((std::fabs(s.d[0].lo) < 1e-300 && std::fabs(s.d[0].hi) < 1e-300));
}
