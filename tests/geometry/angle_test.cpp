#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "geometry/angle.h"
#include "geometry/point.h"

using namespace hitchwright;

TEST_CASE("angle: degrees and radians convert at the quarter turns", "[analytic]") {
    CHECK(to_radians(180.0) == Approx(pi).epsilon(0).margin(1e-15));
    CHECK(to_degrees(pi / 2.0) == Approx(90.0).epsilon(0).margin(1e-13));
    static_assert(to_degrees(to_radians(0.0)) == 0.0);
    CHECK(to_degrees(to_radians(37.5)) == Approx(37.5).epsilon(0).margin(1e-13));
}

TEST_CASE("angle: the wrap gives the half-open turn with +pi inside", "[analytic]") {
    CHECK(wrap_angle(pi) == pi);
    CHECK(wrap_angle(-pi) == pi);
    CHECK(wrap_angle(0.0) == 0.0);
    CHECK(wrap_angle(1.5 * pi) == Approx(-0.5 * pi).epsilon(0).margin(1e-15));
    CHECK(wrap_angle(-1.5 * pi) == Approx(0.5 * pi).epsilon(0).margin(1e-15));
    for (int turns = -50; turns <= 50; ++turns) {
        CHECK(wrap_angle(0.3 + 2.0 * pi * turns) == Approx(0.3).epsilon(0).margin(1e-13));
    }
}

TEST_CASE("angle: what is not finite is not turned into a direction", "[analytic]") {
    CHECK(std::isnan(wrap_angle(std::numeric_limits<double>::infinity())));
    CHECK(std::isnan(wrap_angle(std::numeric_limits<double>::quiet_NaN())));
}

TEST_CASE("point: turning by a quarter takes rearward to up", "[analytic]") {
    const Point rear(1.0, 0.0);
    const Point turned = rotate(rear, pi / 2.0);
    CHECK(turned.x() == Approx(0.0).epsilon(0).margin(1e-15));
    CHECK(turned.y() == Approx(1.0).epsilon(0).margin(1e-15));
    CHECK(perpendicular(rear) == Point(0.0, 1.0));
    CHECK(cross(rear, perpendicular(rear)) == 1.0);
    CHECK(cross(perpendicular(rear), rear) == -1.0);
}

TEST_CASE("point: unit vectors, directions and turns agree", "[analytic]") {
    for (double angle = -3.1; angle < 3.14; angle += 0.1) {
        CAPTURE(angle);
        const Point v = unit_vector(angle);
        CHECK(direction(v) == Approx(angle).epsilon(0).margin(1e-15));
        const Point turned = rotate(2.5 * v, 0.7);
        CHECK((turned - 2.5 * unit_vector(angle + 0.7)).norm() < 1e-14);
    }
}
