// Bounded extremes on functions whose extremes are known in closed form.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/bounded_extreme.h"
#include "geometry/vec.h"

using namespace hitchwright;

namespace {

constexpr double closeness = 1e-7;
const PlainCloseness near_enough{closeness};

/// The bound lies on the far side of the true extreme, the value on the near side, both close.
template <std::size_t N>
void check_minimum(const BoundedExtreme<N>& e, double truth, int most_evaluations) {
    constexpr double rounding = 1e-14;  // of the closed form the test states
    CAPTURE(e.value, e.bound, truth, e.evaluations);
    CHECK(e.converged);
    CHECK(e.bound <= truth + rounding);
    CHECK(e.value >= truth - rounding);
    CHECK(e.value - e.bound <= closeness);
    CHECK(e.evaluations >= 1);
    CHECK(e.evaluations <= most_evaluations);
}

template <std::size_t N>
void check_maximum(BoundedExtreme<N> e, double truth, int most_evaluations) {
    e.value = -e.value;
    e.bound = -e.bound;
    check_minimum(e, -truth, most_evaluations);
}

}  // namespace

TEST_CASE("bounded extreme: inside, of a parabola and of a cubic", "[analytic]") {
    const auto parabola = [](const auto& x) { return square(x[0] - 0.3) + 2.0; };
    const auto least = find_minimum<1>(parabola, {Interval(-1.0, 1.0)}, near_enough);
    check_minimum(least, 2.0, 100);
    CHECK(std::fabs(least.at[0] - 0.3) < 1e-3);
    check_maximum(find_maximum<1>(parabola, {Interval(-1.0, 1.0)}, near_enough), 1.3 * 1.3 + 2.0, 20);
    // x^3 - x: least and greatest -+ 2/(3 sqrt 3) at +- 1/sqrt 3
    const auto cubic = [](const auto& x) { return x[0] * square(x[0]) - x[0]; };
    const double turn = 2.0 / (3.0 * std::sqrt(3.0));
    check_minimum(find_minimum<1>(cubic, {Interval(-1.1, 1.1)}, near_enough), -turn, 200);
    check_maximum(find_maximum<1>(cubic, {Interval(-1.1, 1.1)}, near_enough), turn, 200);
}

TEST_CASE("bounded extreme: at an end of the range, found with few evaluations and attained exactly there", "[analytic]") {
    const auto rising = [](const auto& x) { return x[0] * (x[0] + 2.0); };
    const auto least = find_minimum<1>(rising, {Interval(0.5, 4.0)}, near_enough);
    check_minimum(least, 1.25, 10);
    CHECK(least.at[0] == 0.5);
    const auto most = find_maximum<1>(rising, {Interval(0.5, 4.0)}, near_enough);
    check_maximum(most, 24.0, 10);
    CHECK(most.at[0] == 4.0);
}

TEST_CASE("bounded extreme: several equal minima", "[analytic]") {
    // ((x^2 - 1)(x^2 - 4))^2 is zero at -2, -1, 1, 2.
    const auto wells = [](const auto& x) { return square((square(x[0]) - 1.0) * (square(x[0]) - 4.0)) + 1.0; };
    const auto least = find_minimum<1>(wells, {Interval(-3.0, 3.0)}, near_enough);
    check_minimum(least, 1.0, 1000);
    const double well = std::fabs(least.at[0]);
    CHECK((std::fabs(well - 1.0) < 1e-3 || std::fabs(well - 2.0) < 1e-3));
}

TEST_CASE("bounded extreme: a kink, where the slope jumps", "[analytic]") {
    const auto kink = [](const auto& x) { return sqrt(square(x[0] - 0.1)) + 0.25 * x[0]; };
    check_minimum(find_minimum<1>(kink, {Interval(-1.0, 1.0)}, near_enough), 0.025, 1000);
    check_maximum(find_maximum<1>(kink, {Interval(-1.0, 1.0)}, near_enough), 1.15, 1000);
}

TEST_CASE("bounded extreme: a root whose slope is infinite at an end", "[analytic]") {
    // x - sqrt(x): least -1/4 at 1/4; greatest 0 at both ends.
    const auto falls_then_rises = [](const auto& x) { return x[0] - sqrt(x[0]); };
    const auto least = find_minimum<1>(falls_then_rises, {Interval(0.0, 1.0)}, near_enough);
    check_minimum(least, -0.25, 500);
    check_maximum(find_maximum<1>(falls_then_rises, {Interval(0.0, 1.0)}, near_enough), 0.0, 2000);
    // The extreme itself at the singular end, from either side.
    const auto root = [](const auto& x) { return sqrt(x[0]); };
    check_minimum(find_minimum<1>(root, {Interval(0.0, 1.0)}, near_enough), 0.0, 200);
    const auto near_full = [](const auto& x) { return sqrt((1.0 - x[0]) * (1.0 + x[0])) + x[0]; };
    check_minimum(find_minimum<1>(near_full, {Interval(-0.5, 1.0)}, near_enough), std::sqrt(0.75) - 0.5, 500);
    check_maximum(find_maximum<1>(near_full, {Interval(-0.5, 1.0)}, near_enough), std::sqrt(2.0), 500);
}

TEST_CASE("bounded extreme: a constant needs no search", "[analytic]") {
    const auto constant = [](const auto& x) { return (x[0] - x[0]) + 7.0; };
    check_minimum(find_minimum<1>(constant, {Interval(0.0, 1.0)}, near_enough), 7.0, 1000);
    const auto plain = [](const auto& x) { return std::decay_t<decltype(x[0])>(7.0); };
    check_maximum(find_maximum<1>(plain, {Interval(0.0, 1.0)}, near_enough), 7.0, 3);
}

TEST_CASE("bounded extreme: a degenerate box is one point", "[analytic]") {
    const auto f = [](const auto& x) { return x[0] * x[1]; };
    const auto least = find_minimum<2>(f, {Interval(2.0), Interval(3.0)}, near_enough);
    check_minimum(least, 6.0, 1);
    CHECK((least.at[0] == 2.0 && least.at[1] == 3.0));
    check_minimum(find_minimum<2>(f, {Interval(2.0), Interval(-1.0, 3.0)}, near_enough), -2.0, 20);
    // A value that is no double lies between bound and value, also at a single point.
    const auto third = find_minimum<1>([](const auto& x) { return x[0] / decltype(x[0] + x[0])(3.0); }, {Interval(1.0)}, near_enough);
    CHECK(std::fma(third.bound, 3.0, -1.0) < 0.0);
    CHECK(std::fma(third.value, 3.0, -1.0) > 0.0);
    check_maximum(find_maximum<2>(f, {Interval(-2.0, 1.0), Interval(3.0)}, near_enough), 3.0, 20);
}

TEST_CASE("bounded extreme: two variables, inside, on an edge, in a corner", "[analytic]") {
    const auto bowl = [](const auto& x) { return square(x[0] - 0.2) + square(x[1] + 0.1) + 0.5 * x[0] * x[1]; };
    // Inside: 2(x - 0.2) + y/2 = 0, 2(y + 0.1) + x/2 = 0  ->  x = 0.24, y = -0.16.
    const double inside = 0.04 * 0.04 + 0.06 * 0.06 - 0.5 * 0.24 * 0.16;
    check_minimum(find_minimum<2>(bowl, {Interval(-1.0, 1.0), Interval(-1.0, 1.0)}, near_enough), inside, 3000);
    // On the edge y = 0.5: 2(x - 0.2) + 0.25 = 0  ->  x = 0.075.
    const double edge = 0.125 * 0.125 + 0.36 + 0.5 * 0.075 * 0.5;
    check_minimum(find_minimum<2>(bowl, {Interval(-1.0, 1.0), Interval(0.5, 1.0)}, near_enough), edge, 300);
    // In the corner (0.5, 0.5).
    check_minimum(find_minimum<2>(bowl, {Interval(0.5, 1.0), Interval(0.5, 1.0)}, near_enough), 0.09 + 0.36 + 0.125, 30);
    check_maximum(find_maximum<2>(bowl, {Interval(-1.0, 1.0), Interval(-1.0, 1.0)}, near_enough), 1.44 + 0.81 + 0.5, 300);
}

TEST_CASE("bounded extreme: a valley of equal minima in two variables", "[analytic]") {
    // Zero all along a circle of radius 0.47.
    const auto moat = [](const auto& x) {
        return square(square(x[0] - 0.137) + square(x[1] + 0.211) - 0.47 * 0.47) + 3.0;
    };
    check_minimum(find_minimum<2>(moat, {Interval(-1.0, 1.0), Interval(-1.0, 1.0)}, near_enough), 3.0, 2000);
}

TEST_CASE("bounded extreme: random polynomials against dense sampling", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> coefficient(-1.0, 1.0);
    for (int i = 0; i < 100; ++i) {
        std::array<double, 5> c{};
        for (double& each : c) each = coefficient(random);
        const auto polynomial = [&c](const auto& x) { return (((c[4] * x + c[3]) * x + c[2]) * x + c[1]) * x + c[0]; };
        const auto f = [&](const auto& x) { return polynomial(x[0]); };
        const auto e = find_minimum<1>(f, {Interval(-2.0, 1.5)}, near_enough);
        double sampled = 1e9;
        for (int k = 0; k <= 20000; ++k) sampled = std::min(sampled, polynomial(-2.0 + 3.5 * k / 20000.0));
        CAPTURE(i, e.value, e.bound, sampled, e.evaluations);
        CHECK(e.converged);
        CHECK(e.bound <= sampled + 1e-13);
        CHECK(e.value - sampled <= closeness);
        CHECK(sampled - e.bound <= closeness + 2e-7);  // the grid's own error: f'' / 2 (1.75e-4 / 2)^2
        CHECK(std::fabs(polynomial(e.at[0]) - e.value) < 1e-13);
    }
}

TEST_CASE("bounded extreme: what cannot be resolved ends, unconverged, with a bound that holds", "[analytic]") {
    // 1/x over a range with zero: no least value.
    const auto pole = [](const auto& x) { return std::decay_t<decltype(x[0])>(1.0) / x[0]; };
    const auto e = find_minimum<1>(pole, {Interval(-1.0, 1.0)}, near_enough);
    CHECK_FALSE(e.converged);
    CHECK(e.bound == -std::numeric_limits<double>::infinity());
    CHECK(e.evaluations <= evaluation_limit + 10);
    // A difference of equal roots, which intervals cannot see to cancel below rounding.
    const auto hard = [](const auto& x) { return sqrt(square(x[0])) - sqrt(square(x[0])); };
    const auto h = find_minimum<1>(hard, {Interval(-1.0, 1.0)}, PlainCloseness{0.0});
    CHECK(h.bound <= 0.0);
    CHECK(h.value >= 0.0);
    CHECK_FALSE(h.converged);
}

TEST_CASE("bounded extreme: closeness may be measured in a function of the value", "[analytic]") {
    // Angle through its cosine: least angle 0.001 rad, where the cosine alone is flat.
    const auto cosine = [](const auto& x) { return 1.0 - 0.5 * square(x[0]); };
    const auto angle_close = [](double value, double bound) {
        return std::fabs(std::acos(std::clamp(-value, -1.0, 1.0)) - std::acos(std::clamp(-bound, -1.0, 1.0))) <= 1e-6;
    };
    const auto negated = [&](const auto& x) { return -cosine(x); };
    const auto e = find_minimum<1>(negated, {Interval(0.001, 0.002)}, angle_close);
    CHECK(e.converged);
    CHECK(std::fabs(std::acos(-e.bound) - std::acos(1.0 - 0.5e-6)) <= 2e-6);
}
