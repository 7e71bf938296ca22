#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/circle_circle.h"

using namespace hitchwright;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

double find_residual(const Point& at, const Point& centre, double radius) {
    return std::abs(std::hypot(at.x() - centre.x(), at.y() - centre.y()) - radius);
}

}  // namespace

TEST_CASE("circles: a 3-4-5 triangle has its tip where Pythagoras puts it", "[analytic]") {
    const Point c1(0.0, 0.0);
    const Point c2(5.0, 0.0);
    const CircleIntersection left = find_circle_intersection(c1, 3.0, c2, 4.0, Side::left);
    const CircleIntersection right = find_circle_intersection(c1, 3.0, c2, 4.0, Side::right);
    REQUIRE(left.meet);
    REQUIRE(right.meet);
    CHECK((left.at - Point(1.8, 2.4)).norm() < 1e-14);
    CHECK((right.at - Point(1.8, -2.4)).norm() < 1e-14);
    CHECK(left.miss == Miss::none);
    CHECK(left.shortfall == 0.0);
}

TEST_CASE("circles: tangent ones meet in one point for both sides", "[analytic]") {
    const Point c1(1.0, 2.0);
    const Point outside(4.0, 2.0);
    for (const Side side : {Side::left, Side::right}) {
        const CircleIntersection touching = find_circle_intersection(c1, 1.0, outside, 2.0, side);
        REQUIRE(touching.meet);
        CHECK(touching.at == Point(2.0, 2.0));
        const CircleIntersection within = find_circle_intersection(c1, 5.0, outside, 2.0, side);
        REQUIRE(within.meet);
        CHECK(within.at == Point(6.0, 2.0));
        const CircleIntersection around = find_circle_intersection(c1, 2.0, outside, 5.0, side);
        REQUIRE(around.meet);
        CHECK(around.at == Point(-1.0, 2.0));
    }
}

TEST_CASE("circles: a tangent pair off by rounding only still meets", "[analytic]") {
    // 0.1 + 0.2 > 0.3 in binary, by one unit in the last place.
    const CircleIntersection one = find_circle_intersection({0.0, 0.0}, 0.1, {0.1 + 0.2, 0.0}, 0.2, Side::left);
    const CircleIntersection other = find_circle_intersection({0.0, 0.0}, 0.1, {0.3, 0.0}, 0.2, Side::left);
    CHECK(one.meet);
    CHECK(other.meet);
    CHECK_FALSE(find_circle_intersection({0.0, 0.0}, 0.1, {0.3 + 1e-12, 0.0}, 0.2, Side::left).meet);
}

TEST_CASE("circles: apart and inside are told apart, each with its shortfall", "[analytic]") {
    const CircleIntersection apart = find_circle_intersection({0.0, 0.0}, 1.0, {0.0, 4.0}, 2.5, Side::left);
    CHECK_FALSE(apart.meet);
    CHECK(apart.miss == Miss::apart);
    CHECK(apart.shortfall == Approx(0.5).epsilon(0).margin(1e-15));
    CHECK(apart.at == Point(0.0, 0.0));
    for (const bool swapped : {false, true}) {
        const double r1 = swapped ? 1.0 : 3.0;
        const double r2 = swapped ? 3.0 : 1.0;
        const CircleIntersection inside = find_circle_intersection({0.0, 0.0}, r1, {0.0, 1.75}, r2, Side::right);
        CHECK_FALSE(inside.meet);
        CHECK(inside.miss == Miss::inside);
        CHECK(inside.shortfall == Approx(0.25).epsilon(0).margin(1e-15));
    }
}

TEST_CASE("circles: concentric ones are inside, coincident ones undefined", "[analytic]") {
    const CircleIntersection concentric = find_circle_intersection({1.0, 1.0}, 2.0, {1.0, 1.0}, 0.5, Side::left);
    CHECK(concentric.miss == Miss::inside);
    CHECK(concentric.shortfall == 1.5);
    const CircleIntersection same = find_circle_intersection({1.0, 1.0}, 2.0, {1.0, 1.0}, 2.0, Side::left);
    CHECK(same.miss == Miss::undefined);
    CHECK(same.shortfall == 0.0);
    const CircleIntersection nearly =
        find_circle_intersection({1.0, 1.0}, 2.0, {1.0, 1.0}, std::nextafter(2.0, 3.0), Side::left);
    CHECK(nearly.miss == Miss::undefined);
}

TEST_CASE("circles: a circle of no radius is met only on the other circle", "[analytic]") {
    const CircleIntersection on = find_circle_intersection({0.0, 0.0}, 0.0, {0.0, 2.0}, 2.0, Side::left);
    REQUIRE(on.meet);
    CHECK(on.at == Point(0.0, 0.0));
    CHECK(find_circle_intersection({0.0, 0.0}, 0.0, {0.0, 2.0}, 1.0, Side::left).miss == Miss::apart);
    CHECK(find_circle_intersection({0.0, 0.0}, 0.0, {0.0, 2.0}, 3.0, Side::left).miss == Miss::inside);
}

TEST_CASE("circles: negative radii and numbers that are not finite are undefined", "[analytic]") {
    for (const double bad : {-1.0, not_a_number, infinity, -infinity}) {
        CAPTURE(bad);
        CHECK(find_circle_intersection({0.0, 0.0}, bad, {1.0, 0.0}, 1.0, Side::left).miss == Miss::undefined);
        CHECK(find_circle_intersection({0.0, 0.0}, 1.0, {1.0, 0.0}, bad, Side::left).miss == Miss::undefined);
    }
    for (const double bad : {not_a_number, infinity}) {
        CHECK(find_circle_intersection({bad, 0.0}, 1.0, {1.0, 0.0}, 1.0, Side::left).miss == Miss::undefined);
        CHECK(find_circle_intersection({0.0, 0.0}, 1.0, {1.0, bad}, 1.0, Side::left).miss == Miss::undefined);
    }
    CHECK_FALSE(find_circle_intersection({1e308, 0.0}, 1.0, {-1e308, 0.0}, 1.0, Side::left).meet);
}

TEST_CASE("circles: radii are met near tangency, however thin the triangle", "[residual]") {
    for (int exponent = 1; exponent <= 16; ++exponent) {
        const double gap = std::pow(10.0, -exponent);
        CAPTURE(gap);
        const Point c1(0.24, 0.96);
        const Point c2 = c1 + (1.27 - gap) * Point(0.6, -0.8);
        for (const Side side : {Side::left, Side::right}) {
            const CircleIntersection outer = find_circle_intersection(c1, 0.66, c2, 0.61, side);
            REQUIRE(outer.meet);
            CHECK(find_residual(outer.at, c1, 0.66) < 4e-15);
            CHECK(find_residual(outer.at, c2, 0.61) < 4e-15);
        }
        const Point c3 = c1 + (0.05 + gap) * Point(0.6, -0.8);
        const CircleIntersection inner = find_circle_intersection(c1, 0.66, c3, 0.61, Side::left);
        REQUIRE(inner.meet);
        CHECK(find_residual(inner.at, c1, 0.66) < 1e-14);
        CHECK(find_residual(inner.at, c3, 0.61) < 1e-14);
    }
}

TEST_CASE("circles: half height of a thin triangle keeps its digits", "[analytic]") {
    // Equal radii 1, distance 2 - g: half height sqrt(g - g^2/4) exactly.
    for (const double gap : {0x1p-20, 0x1p-30, 0x1p-40}) {
        const CircleIntersection thin = find_circle_intersection({0.0, 0.0}, 1.0, {2.0 - gap, 0.0}, 1.0, Side::left);
        REQUIRE(thin.meet);
        const double exact = std::sqrt(gap - 0.25 * gap * gap);
        CHECK(std::abs(thin.at.y() / exact - 1.0) < 8e-16);
    }
}

TEST_CASE("circles: random pairs meet both radii on the side asked for, or report what is missing",
          "[random][residual]") {
    const unsigned seed = 20260101;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> coordinate(-2.0, 2.0);
    std::uniform_real_distribution<double> radius(0.01, 2.0);
    int met = 0;
    for (int i = 0; i < 4000; ++i) {
        const Point c1(coordinate(random), coordinate(random));
        const Point c2(coordinate(random), coordinate(random));
        const double r1 = radius(random);
        const double r2 = radius(random);
        const double d = (c2 - c1).norm();
        const Side side = i % 2 == 0 ? Side::left : Side::right;
        const CircleIntersection result = find_circle_intersection(c1, r1, c2, r2, side);
        CAPTURE(i, d, r1, r2);
        if (result.meet) {
            ++met;
            CHECK(find_residual(result.at, c1, r1) < 1e-12);
            CHECK(find_residual(result.at, c2, r2) < 1e-12);
            CHECK((cross(c2 - c1, result.at - c1) >= 0.0) == (side == Side::left));
        } else if (result.miss == Miss::apart) {
            CHECK(std::abs(result.shortfall - (d - r1 - r2)) < 1e-14);
            CHECK(result.shortfall > 0.0);
        } else {
            REQUIRE(result.miss == Miss::inside);
            CHECK(std::abs(result.shortfall - (std::abs(r1 - r2) - d)) < 1e-14);
            CHECK(result.shortfall > 0.0);
        }
    }
    CHECK(met > 1000);
    CHECK(met < 3500);
}

TEST_CASE("circles: moved, turned, scaled and mirrored twins meet in the twin point", "[metamorphic]") {
    const Point c1(0.24, 0.96);
    const Point c2(0.885, 0.50);
    const Point at = find_circle_intersection(c1, 0.66, c2, 0.61, Side::left).at;
    const Point shift(3.0, -1.5);
    CHECK((find_circle_intersection(c1 + shift, 0.66, c2 + shift, 0.61, Side::left).at - at - shift).norm() < 1e-14);
    const Point turned = find_circle_intersection(rotate(c1, 2.1), 0.66, rotate(c2, 2.1), 0.61, Side::left).at;
    CHECK((turned - rotate(at, 2.1)).norm() < 1e-14);
    // Millimetres to inches.
    const double k = 1.0 / 0.0254;
    CHECK((find_circle_intersection(k * c1, k * 0.66, k * c2, k * 0.61, Side::left).at - k * at).norm() < 1e-12);
    const auto mirror = [](const Point& p) { return Point(p.x(), -p.y()); };
    const Point mirrored = find_circle_intersection(mirror(c1), 0.66, mirror(c2), 0.61, Side::right).at;
    CHECK((mirrored - mirror(at)).norm() < 1e-15);
    // The other way round, the other side.
    CHECK((find_circle_intersection(c2, 0.61, c1, 0.66, Side::right).at - at).norm() < 1e-14);
}
