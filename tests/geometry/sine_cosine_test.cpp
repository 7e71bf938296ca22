// Sine and cosine by their series against the C library's in long double (64 bits of mantissa).
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/sine_cosine.h"

using namespace hitchwright;

namespace {

/// Units of the last place between a value and what it should be.
double find_units_off(double value, long double right) {
    const double nearest = static_cast<double>(right);
    const double unit = std::nextafter(std::fabs(nearest), std::numeric_limits<double>::infinity()) - std::fabs(nearest);
    return static_cast<double>(std::fabs(static_cast<long double>(value) - right)) / unit;
}

}  // namespace

TEST_CASE("sine and cosine: the series are within a unit of the last place of the C library's long double", "[oracle]") {
    double worst = 0.0;
    for (int i = -500000; i <= 500000; ++i) {
        const double a = i * 1.0e-6;
        const SineCosine s = find_sine_cosine(a);
        worst = std::max({worst, find_units_off(s.sine, std::sin(static_cast<long double>(a))), find_units_off(s.cosine, std::cos(static_cast<long double>(a)))});
    }
    CHECK(worst < 1.0);
    CHECK(worst > 0.4);  // rounding alone is half a unit
}

TEST_CASE("sine and cosine: tiny angles, the end of the series and what lies beyond it") {
    for (const double a : {0.0, 5e-324, 1e-300, -1e-9}) {
        CHECK(find_sine_cosine(a).sine == a);
        CHECK(find_sine_cosine(a).cosine == 1.0);
    }
    for (const double a : {0.5000001, -1.0, 3.0, 1e6}) {
        CHECK(find_sine_cosine(a).sine == std::sin(a));
        CHECK(find_sine_cosine(a).cosine == std::cos(a));
    }
    for (const double a : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
        CHECK(std::isnan(find_sine_cosine(a).sine));
        CHECK(std::isnan(find_sine_cosine(a).cosine));
    }
}
