// Taylor models: what they say of a function holds everywhere, rounding included. The function itself is taken in long double.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <utility>
#include <vector>

#include "geometry/taylor_extreme.h"
#include "geometry/taylor_inside.h"
#include "geometry/wide_angle_taylor.h"
#include "tests/geometry/take_worst.h"

using namespace hitchwright;
using hitchwright::test::take_worst;

namespace {

using Model = TaylorModel<15>;

/// Long doubles as a scalar of the kernels.
struct Exact {
    long double v = 0.0L;
    Exact(long double value) : v(value) {}  // NOLINT
};
Exact operator-(Exact a) { return -a.v; }
Exact operator+(Exact a, Exact b) { return a.v + b.v; }
Exact operator-(Exact a, Exact b) { return a.v - b.v; }
Exact operator*(Exact a, Exact b) { return a.v * b.v; }
Exact operator/(Exact a, Exact b) { return a.v / b.v; }
Exact sqrt(Exact a) { return std::sqrt(a.v); }
Exact square(Exact a) { return a.v * a.v; }

/// The model's polynomial at t, by Horner in long double.
template <std::size_t N>
long double evaluate_exactly(const TaylorModel<N>& f, long double t) {
    long double p = 0.0L;
    for (std::size_t k = N + 1; k-- > 0;) p = p * t + static_cast<long double>(f.c[k]);
    return p;
}

/// Greatest |f - p| over many places, beside the radius.
template <std::size_t N, class F>
void check_encloses(const TaylorModel<N>& model, const F& exact, double middle, double half) {
    if (!model.is_bounded()) return;  // says nothing: callers count those
    long double most = 0.0L;
    for (int i = -400; i <= 400; ++i) {
        const long double t = static_cast<long double>(i) / 400.0L;
        const long double x = static_cast<long double>(middle) + t * static_cast<long double>(half);
        take_worst(most, std::fabs(exact(Exact(x)).v - evaluate_exactly(model, t)));
    }
    CAPTURE(static_cast<double>(most), model.radius, middle, half);
    // Long double has its own rounding: 2^-63 of the values that occur.
    CHECK(most <= static_cast<long double>(model.radius) + 1e-17L);
}

template <std::size_t N = 15, class F>
TaylorModel<N> check_function(const F& f, double low, double high) {
    const double middle = 0.5 * (low + high), half = 0.5 * (high - low);
    const TaylorModel<N> model = f(TaylorModel<N>::variable(middle, half));
    check_encloses(model, f, middle, half);
    return model;
}

const auto wavy = [](const auto& x) {
    using T = std::decay_t<decltype(x)>;
    const T a = (x - T(0.3)) * (x + T(2.0)), b = sqrt(square(x) + T(1.7)), c = T(1.0) / (b + a * T(0.25) + T(1.0));
    return a * c - b / (x + T(4.0)) + square(c) * T(3.0);
};

}  // namespace

TEST_CASE("Taylor model: each operation encloses its function, rounding included", "[analytic]") {
    int bounded = 0, all = 0;
    const auto count = [&](const auto& model) { bounded += model.is_bounded() ? 1 : 0, ++all; };
    for (const double high : {0.001, 0.1, 0.4, 0.9}) {
        CAPTURE(high);
        count(check_function([](const auto& x) { return -(x + x) - x * x; }, -0.2, high));
        count(check_function([](const auto& x) { return square(x) * x; }, -0.2, high));
        count(check_function([](const auto& x) { using T = std::decay_t<decltype(x)>; return T(1.0) / (x + T(3.0)); }, -0.2, high));
        count(check_function([](const auto& x) { using T = std::decay_t<decltype(x)>; return (x - T(2.0)) / (x * x + T(0.9)); }, -0.2, high));
        count(check_function([](const auto& x) { using T = std::decay_t<decltype(x)>; return sqrt(x + T(1.1)); }, -0.2, high));
        count(check_function(wavy, -0.2, high));
        count(check_function<10>(wavy, -0.2, high));
        count(check_function<4>(wavy, -0.2, high));
    }
    CHECK(bounded >= all * 3 / 4);
}

namespace {

/// A polynomial exactly: terms that fall by `share` from one to the next, the first not small.
Model draw_polynomial(std::mt19937& random, double share) {
    std::uniform_real_distribution<double> draw(-1.0, 1.0);
    Model m(1.5 + 0.5 * draw(random));
    m.is_number = false;
    double size = 0.4;
    for (std::size_t k = 1; k < Model::terms; ++k, size *= share) m.c[k] = size * draw(random);
    return m;
}

}  // namespace

TEST_CASE("Taylor model: one operation on polynomials is off by its radius at most, and somewhere by more than nothing", "[random]") {
    std::mt19937 random(Catch::rngSeed());
    // Terms that fall fast leave roundings alone, slow ones what lies beyond the degree.
    for (const double share : {1e-3, 0.5}) {
        std::array<long double, 7> worst{};  // of |error| for each operation
        for (int round = 0; round < 200; ++round) {
            const Model a = draw_polynomial(random, share), b = draw_polynomial(random, share);
            const double s = a.c[1] + 0.7;
            const std::array<Model, 7> results{a + b, a - b, a * b, a / b, sqrt(a), a * s, a + s};
            for (int i = -60; i <= 60; ++i) {
                const long double t = static_cast<long double>(i) / 60.0L, x = evaluate_exactly(a, t), y = evaluate_exactly(b, t),
                                  z = static_cast<long double>(s);
                const std::array<long double, 7> exact{x + y, x - y, x * y, x / y, std::sqrt(x), x * z, x + z};
                for (std::size_t k = 0; k < 7; ++k) {
                    const long double error = std::fabs(exact[k] - evaluate_exactly(results[k], t));
                    CAPTURE(share, round, k);
                    // 1e-18: long double itself.
                    if (!(error <= static_cast<long double>(results[k].radius) + 1e-18L && results[k].is_bounded())) FAIL("outside the radius");
                    take_worst(worst[k], error);
                }
            }
        }
        for (std::size_t k = 0; k < 7; ++k) CHECK(worst[k] > 1e-17L);
    }
}

TEST_CASE("Taylor model: mixed forms with plain numbers", "[analytic]") {
    const Model x = Model::variable(0.4, 0.1);
    const Model mixed = 0.1 * x + 0.7 - x * 3.0 + (0.2 - x) + (x - 0.9) + (1.5 + x);
    REQUIRE(mixed.is_bounded());
    check_encloses(mixed, [](Exact v) {
        // The doubles that were written, not the decimals.
        return Exact(static_cast<long double>(0.1)) * v + Exact(static_cast<long double>(0.7)) - v * Exact(3.0L) +
               (Exact(static_cast<long double>(0.2)) - v) + (v - Exact(static_cast<long double>(0.9))) + (Exact(1.5L) + v);
    }, 0.4, 0.1);
    CHECK((Model(2.0) * Model(3.5)).c[0] == 7.0);
    CHECK((x * Model(0.0)).radius < 1e-200);
}

TEST_CASE("Taylor model: what is lost in roundings is in the radius, not in luck", "[random]") {
    std::mt19937 random(Catch::rngSeed());
    std::uniform_real_distribution<double> draw(-1.0, 1.0);
    int bounded = 0;
    for (int round = 0; round < 300; ++round) {
        const double a = draw(random), b = draw(random), c = 1.5 + draw(random), half = std::pow(10.0, -8.0 * std::fabs(draw(random)));
        const auto f = [=](const auto& x) {
            using T = std::decay_t<decltype(x)>;
            T y = x * T(a) + T(b);
            for (int i = 0; i < 4; ++i) y = (y * y + x * T(b)) / (square(y) + T(c)) + sqrt(square(x) + square(y) + T(c)) - y * T(a);
            return y;
        };
        const double middle = draw(random);
        bounded += check_function(f, middle - half, middle + half).is_bounded() ? 1 : 0;
    }
    CHECK(bounded > 200);
}

TEST_CASE("Taylor model: the radius falls with the 16th power of the range, down to rounding", "[analytic]") {
    const double wide = wavy(Model::variable(0.1, 0.4)).radius, narrow = wavy(Model::variable(0.1, 0.2)).radius;
    CHECK(narrow < 1e-4 * wide);
    CHECK(wavy(Model::variable(0.1, 0.01)).radius < 1e-13);
}

TEST_CASE("Taylor model: what cannot be bounded says so", "[analytic]") {
    const Model x = Model::variable(0.0, 1.0);
    for (const Model& m : {Model(1.0) / x, Model(1.0) / (x + 1.0), sqrt(x), sqrt(x + 1.0), sqrt(x - 3.0), sqrt(Model(0.0)),
                           Model(1.0) / Model(0.0), x * Model(std::numeric_limits<double>::quiet_NaN()),
                           (x * 1e200) * (x * 1e200), Model(1.0) / x + x, Model(std::numeric_limits<double>::quiet_NaN()),
                           Model(std::numeric_limits<double>::infinity())}) {
        CHECK(!m.is_bounded());
        const ModelMinimum least = find_model_minimum(m);
        CHECK(least.bound == -std::numeric_limits<double>::infinity());
        CHECK(least.value == std::numeric_limits<double>::infinity());
    }
}

TEST_CASE("Taylor model: half the bend of a wide-angle joint", "[oracle]") {
    // The other joint on a line past the wide-angle joint, 0.1 m between the crosses.
    for (const double beside : {0.0, 0.05, 0.4}) {
        const auto place = [beside](const auto& x) {
            using T = std::decay_t<decltype(x)>;
            return std::pair<T, T>(x, square(x) + T(beside) * T(beside));
        };
        const double middle = 0.7, half = 0.05;
        const auto [axial, squared] = place(Model::variable(middle, half));
        const Model s = find_wide_angle_half_cosine(axial, squared, 0.1);
        REQUIRE(s.is_bounded());
        CHECK(s.radius < 1e-9);
        for (int i = -50; i <= 50; ++i) {
            const double t = i / 50.0, x = middle + t * half;
            const double exact = find_wide_angle_half_cosine(x, x * x + beside * beside, 0.1);
            CHECK(std::fabs(exact - static_cast<double>(evaluate_exactly(s, static_cast<long double>(t)))) <= s.radius + half_cosine_pad);
        }
    }
    const Model near = Model::variable(0.0, 0.2);
    CHECK(!find_wide_angle_half_cosine(near, square(near) + 0.001, 0.1).is_bounded());
}

TEST_CASE("least value of a model: against samples", "[random]") {
    std::mt19937 random(Catch::rngSeed());
    std::uniform_real_distribution<double> draw(-1.0, 1.0);
    for (int round = 0; round < 500; ++round) {
        Model f;
        f.is_number = false;
        for (std::size_t k = 0; k < Model::terms; ++k) f.c[k] = draw(random) / (round % 3 == 0 ? 1.0 : 1.0 + static_cast<double>(k * k));
        f.radius = round % 2 == 0 ? 0.0 : 1e-9;
        const ModelMinimum m = find_model_minimum(f);
        long double least = 1e9L;
        for (int i = -4000; i <= 4000; ++i) least = std::min(least, evaluate_exactly(f, static_cast<long double>(i) / 4000.0L));
        CAPTURE(Catch::rngSeed(), round, m.at, m.value, m.bound);
        const long double radius = static_cast<long double>(f.radius);
        CHECK(static_cast<long double>(m.bound) <= least - radius);
        CHECK(static_cast<long double>(m.value) >= evaluate_exactly(f, static_cast<long double>(m.at)) + radius);
        CHECK(m.value - m.bound <= 2.0 * f.radius + 1e-11);
        CHECK((m.at >= -1.0 && m.at <= 1.0));
    }
}

TEST_CASE("least value of a model: flat, several equal least values, ends, a fourth power", "[analytic]") {
    const Model x = Model::variable(0.0, 1.0);
    const ModelMinimum flat = find_model_minimum(x * 0.0 + 5.0);
    CHECK((std::fabs(flat.value - 5.0) < 1e-12 && std::fabs(flat.bound - 5.0) < 1e-12 && flat.bound <= 5.0));
    const ModelMinimum twice = find_model_minimum(square(square(x) - 0.25));
    CHECK((std::fabs(std::fabs(twice.at) - 0.5) < 1e-6 && twice.value < 1e-12 && twice.bound <= 0.0 && twice.bound > -1e-12));
    // Two close together left of the middle: halved more than once before the place is found.
    const ModelMinimum aside = find_model_minimum(square(square(x + 0.63) - 0.01));
    CHECK((std::fabs(std::fabs(aside.at + 0.63) - 0.1) < 1e-5 && aside.value < 1e-12));
    const ModelMinimum left = find_model_minimum(x + 0.0), right = find_model_minimum(-x);
    CHECK((left.at == -1.0 && right.at == 1.0 && left.bound <= -1.0 && right.bound <= -1.0));
    const ModelMinimum fourth = find_model_minimum(square(square(x - 0.3)));
    CHECK((fourth.bound <= 0.0 && fourth.bound > -1e-11 && fourth.value < 1e-11));
    const ModelMinimum part = find_model_minimum(restrict_model(square(x), 0.25, 0.75));
    CHECK((part.at == -1.0 && std::fabs(part.value - 0.0625) < 1e-13));
}

namespace {

struct FoundRanges {
    std::vector<std::pair<double, double>> inside, open;
    void add_inside(double a, double b) { inside.push_back({a, b}); }
    void add_open(double a, double b) { open.push_back({a, b}); }
};

bool holds(const std::vector<std::pair<double, double>>& parts, double t) {
    return std::any_of(parts.begin(), parts.end(), [t](const auto& p) { return p.first <= t && t <= p.second; });
}

}  // namespace

TEST_CASE("heights inside a limit from a model: inside, outside and what is left open", "[random]") {
    std::mt19937 random(Catch::rngSeed());
    std::uniform_real_distribution<double> draw(-1.0, 1.0);
    constexpr double width = 1e-8;
    for (int round = 0; round < 300; ++round) {
        Model f;
        f.is_number = false;
        for (std::size_t k = 0; k < Model::terms; ++k) f.c[k] = draw(random) / (1.0 + static_cast<double>(k));
        f.radius = round % 2 == 0 ? 1e-13 : 1e-5;
        const double limit = 0.5 * draw(random);
        FoundRanges parts;
        find_model_inside(f, limit, 1e-6, width, parts);
        const long double radius = static_cast<long double>(f.radius), l = static_cast<long double>(limit);
        CAPTURE(Catch::rngSeed(), round);
        int wrong = 0, missed = 0;
        for (int i = -3000; i <= 3000; ++i) {
            const double t = i / 3000.0;
            const long double p = evaluate_exactly(f, static_cast<long double>(t));
            const bool in = holds(parts.inside, t);
            wrong += in && p + radius > l;
            // Steep to 20 at most: further than this from the limit nothing may be left out.
            missed += !in && !holds(parts.open, t) && p - radius < l - 1e-5L && p + radius < l - 1e-5L;
        }
        CHECK(wrong == 0);
        CHECK(missed == 0);
        for (const auto& [a, b] : parts.inside) {
            CHECK(evaluate_exactly(f, static_cast<long double>(a)) + radius <= l);
            CHECK(evaluate_exactly(f, static_cast<long double>(b)) + radius <= l);
        }
    }
}
