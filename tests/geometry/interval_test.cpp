// Intervals: the exact result of every operation on points of the operands lies in the result.
//
// Exactness is decided without rounding: the sign of x*y - c and of x - c*y comes from one fused multiply-add, which
// rounds once and so keeps the sign; a sum is compared through its rounding error (Knuth's two-sum).
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/interval.h"

using hitchwright::Interval;
using hitchwright::whole_line;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// Sign of the exact x + y - c.
int sign_of_sum(double x, double y, double c) {
    const double s = x + y;
    const double bb = s - x;
    const double error = (x - (s - bb)) + (y - bb);  // x + y = s + error, exactly
    if (s != c) return s > c ? 1 : -1;
    return error > 0.0 ? 1 : error < 0.0 ? -1 : 0;
}
int sign(double v) { return v > 0.0 ? 1 : v < 0.0 ? -1 : 0; }
/// Sign of the exact x * y - c.
int sign_of_product(double x, double y, double c) { return sign(std::fma(x, y, -c)); }
/// Sign of the exact x / y - c.
int sign_of_quotient(double x, double y, double c) { return sign(std::fma(-c, y, x)) * sign(y); }
/// Sign of the exact root of x less c (c >= 0).
int sign_of_root(double x, double c) { return -sign(std::fma(c, c, -x)); }

bool is_sound(const Interval& a) { return a.lo <= a.hi; }  // false for a NaN

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}

    /// Numbers of all sizes from 1e-9 to 1e9 and both signs, with zeros and ones among them.
    double number() {
        const int kind = std::uniform_int_distribution<int>(0, 9)(random_);
        if (kind == 0) return 0.0;
        if (kind == 1) return 1.0;
        const double size = std::ldexp(std::uniform_real_distribution<double>(0.5, 1.0)(random_),
                                       std::uniform_int_distribution<int>(-30, 30)(random_));
        return kind % 2 == 0 ? size : -size;
    }
    /// Thin, wide, with an end at zero, around zero.
    Interval interval() {
        const double a = number(), b = number();
        if (std::uniform_int_distribution<int>(0, 3)(random_) == 0) return Interval(a);
        return a < b ? Interval(a, b) : Interval(b, a);
    }
    /// Both ends, the middle, and a point between.
    std::array<double, 4> points(const Interval& a) {
        const double share = std::uniform_real_distribution<double>(0.0, 1.0)(random_);
        const double inner = std::min(std::max(a.lo + share * (a.hi - a.lo), a.lo), a.hi);
        return {a.lo, a.hi, a.middle(), inner};
    }

private:
    std::mt19937 random_;
};

}  // namespace

TEST_CASE("interval: sums, differences, products and quotients enclose the exact ones", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    int bad = 0, divided = 0;
    for (int i = 0; i < 20000; ++i) {
        const Interval a = draw.interval(), b = draw.interval();
        const Interval sum = a + b, difference = a - b, product = a * b, quotient = a / b;
        bad += !is_sound(sum) + !is_sound(difference) + !is_sound(product) + !is_sound(quotient);
        for (const double x : draw.points(a)) {
            for (const double y : draw.points(b)) {
                bad += sign_of_sum(x, y, sum.lo) < 0 || sign_of_sum(x, y, sum.hi) > 0;
                bad += sign_of_sum(x, -y, difference.lo) < 0 || sign_of_sum(x, -y, difference.hi) > 0;
                bad += sign_of_product(x, y, product.lo) < 0 || sign_of_product(x, y, product.hi) > 0;
                if (y == 0.0 || quotient == whole_line()) continue;
                bad += sign_of_quotient(x, y, quotient.lo) < 0 || sign_of_quotient(x, y, quotient.hi) > 0;
                ++divided;
            }
        }
    }
    CHECK(bad == 0);
    CHECK(divided > 50000);
}

TEST_CASE("interval: squares and roots enclose the exact ones and do not fall below zero", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    int bad = 0;
    for (int i = 0; i < 20000; ++i) {
        const Interval a = draw.interval();
        const Interval squared = square(a), root = sqrt(a);
        bad += !is_sound(squared) + !is_sound(root) + (squared.lo < 0.0) + (root.lo < 0.0);
        for (const double x : draw.points(a)) {
            bad += sign_of_product(x, x, squared.lo) < 0 || sign_of_product(x, x, squared.hi) > 0;
            if (x >= 0.0) bad += sign_of_root(x, root.lo) < 0 || sign_of_root(x, root.hi) > 0;
        }
    }
    CHECK(bad == 0);
}

TEST_CASE("interval: the exact checks themselves tell one unit in the last place", "[analytic]") {
    const double third = 1.0 / 3.0;
    CHECK(sign_of_quotient(1.0, 3.0, third) == 1);  // the double lies below a third
    CHECK(sign_of_quotient(1.0, 3.0, std::nextafter(third, 1.0)) == -1);
    CHECK(sign_of_quotient(-1.0, -3.0, third) == 1);
    CHECK(sign_of_product(0.1, 10.0, 1.0) == 1);  // the double 0.1 lies above a tenth
    CHECK(sign_of_sum(1.0, 1e-30, 1.0) == 1);
    CHECK(sign_of_sum(1.0, -1e-30, 1.0) == -1);
    CHECK(sign_of_root(2.0, std::sqrt(2.0)) == -1);  // the double root of 2 lies above
}

TEST_CASE("interval: results are no wider than two units in the last place beyond the exact ones", "[analytic]") {
    const auto units = [](double from, double to) {
        int n = 0;
        while (from < to && n < 100) {
            from = std::nextafter(from, infinity);
            ++n;
        }
        return n;
    };
    const Interval third = Interval(1.0) / Interval(3.0);
    CHECK(units(third.lo, third.hi) <= 4);
    const Interval root = sqrt(Interval(2.0));
    CHECK(units(root.lo, root.hi) <= 4);
    CHECK((Interval(1.0, 2.0) * Interval(-3.0, 4.0)).width() < 14.0 + 1e-14);
    CHECK(square(Interval(-2.0, 1.0)).hi < 4.0 + 1e-14);  // the product would reach down to -2
    CHECK(square(Interval(-2.0, 1.0)).lo == 0.0);
}

TEST_CASE("interval: division by an interval that holds zero knows nothing", "[analytic]") {
    for (const Interval& by : {Interval(-1.0, 1.0), Interval(0.0, 1.0), Interval(-1.0, 0.0), Interval(0.0)}) {
        CHECK(Interval(1.0, 2.0) / by == whole_line());
        CHECK(Interval(0.0) / by == whole_line());
    }
}

TEST_CASE("interval: the root starts at zero and drops what lies below", "[analytic]") {
    CHECK(sqrt(Interval(0.0)).lo == 0.0);
    CHECK(sqrt(Interval(0.0)).hi < 1e-300);
    CHECK(sqrt(Interval(-1.0, 4.0)).lo == 0.0);
    CHECK(sqrt(Interval(-1.0, 4.0)).contains(2.0));
    CHECK(sqrt(Interval(-2.0, -1.0)).hi < 1e-300);
    CHECK(sqrt(whole_line()) == Interval(0.0, infinity));
}

TEST_CASE("interval: infinite ends give enclosures and never a NaN", "[analytic]") {
    const std::array<Interval, 12> some{Interval(0.0),       Interval(-1.0, 0.0),       Interval(0.0, 1.0),
                                        Interval(-1.0, 1.0), Interval(1.0, 2.0),        Interval(-infinity, -1.0),
                                        Interval(1.0, infinity), Interval(-infinity, 0.0), Interval(0.0, infinity),
                                        Interval(-infinity, 1.0), Interval(-1.0, infinity), whole_line()};
    const auto points = [](const Interval& a) {
        // Finite members: an end that is finite, and numbers far out towards an infinite one.
        std::vector<double> inside;
        for (const double x : {a.lo, a.hi, 0.0, -1.0, 1.0, -1e6, 1e6, -1e-6, 1e-6}) {
            if (std::isfinite(x) && a.contains(x)) inside.push_back(x);
        }
        return inside;
    };
    int checked = 0;
    for (const Interval& a : some) {
        for (const Interval& b : some) {
            CAPTURE(a.lo, a.hi, b.lo, b.hi);
            const Interval sum = a + b, difference = a - b, product = a * b, quotient = a / b;
            CHECK((is_sound(sum) && is_sound(difference) && is_sound(product) && is_sound(quotient)));
            for (const double x : points(a)) {
                for (const double y : points(b)) {
                    CAPTURE(x, y);
                    CHECK((sum.contains(x + y) && difference.contains(x - y) && product.contains(x * y)));
                    if (y != 0.0) CHECK(quotient.contains(x / y));
                    ++checked;
                }
            }
        }
    }
    CHECK(checked > 1000);
}

TEST_CASE("interval: the ends of the number range are stepped outward too", "[analytic]") {
    const double least = std::numeric_limits<double>::denorm_min();
    const double most = std::numeric_limits<double>::max();
    CHECK((Interval(least) * Interval(0.25)).lo <= 0.0);
    CHECK((Interval(least) * Interval(0.25)).hi > 0.0);
    CHECK((Interval(-least) * Interval(0.25)).lo < 0.0);
    CHECK(is_sound(Interval(most) + Interval(most)));
    CHECK((Interval(most) + Interval(most)).hi == infinity);
    CHECK((Interval(most) * Interval(most)).contains(most));
    CHECK((Interval(1e-200) * Interval(1e-200)).hi > 0.0);
    CHECK((Interval(1.0) / Interval(least)).hi == infinity);
    for (const double c : {0.0, least, -least, 1.0, -1.0, 0x1p-1022, 0x1p52, 1e300}) {
        CAPTURE(c);
        CHECK(hitchwright::outward::below(c) <= std::nextafter(c, -infinity));
        CHECK(hitchwright::outward::above(c) >= std::nextafter(c, infinity));
    }
}
