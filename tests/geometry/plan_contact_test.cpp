// Contact of turning bars with standing rectangles: hand cases, and random ones against marching with another distance.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/plan_contact.h"

using namespace hitchwright;

namespace {

/// Second route: distance of a point from a rectangle in the rectangle's own axes, over points of both outlines.
double point_distance(const Point& p, const PlanRectangle& r) {
    const Point middle = 0.5 * (r.front + r.rear);
    const double angle = std::atan2(r.rear.y() - r.front.y(), r.rear.x() - r.front.x());
    const double c = std::cos(angle), s = std::sin(angle), dx = p.x() - middle.x(), dy = p.y() - middle.y();
    const double half = 0.5 * std::hypot(r.rear.x() - r.front.x(), r.rear.y() - r.front.y());
    return std::hypot(std::max(0.0, std::fabs(c * dx + s * dy) - half), std::max(0.0, std::fabs(c * dy - s * dx) - 0.5 * r.width));
}

double outline_distance(const PlanRectangle& a, const PlanRectangle& b, int points) {
    double least = 1e9;
    for (const auto& [from, to] : {std::pair{a, b}, std::pair{b, a}}) {
        const std::array<Point, 4> c = find_corners(from);
        for (std::size_t i = 0; i < 4; ++i) {
            for (int k = 0; k < points; ++k) {
                const Point p = c[i] + (c[(i + 1) % 4] - c[i]) * (static_cast<double>(k) / points);
                least = std::min(least, point_distance(p, to));
            }
        }
    }
    return least;
}

PlanContact first_contact(const PlanRectangle& bar, const PlanRectangle& standing, const Point& pin, TurnSide side, double gap) {
    return find_first_contact(std::span(&bar, 1), std::span(&standing, 1), pin, side, gap);
}

}  // namespace

TEST_CASE("plan contact: a thin tongue meets the rear inner corner of a tyre", "[analytic]") {
    // Pin at (0.7, 0); tyre corner at (0.7, 0.6) reached square to the tongue, straight up from the pin: 90 deg less half width.
    const Point pin(0.7, 0.0);
    const PlanRectangle tyre{Point(-0.7, 0.8), Point(0.7, 0.8), 0.4};
    const PlanRectangle line{pin, Point(3.0, 0.0), 0.0};
    const PlanContact c = first_contact(line, tyre, pin, TurnSide::right, 0.0);
    REQUIRE(c.found);
    CHECK(std::fabs(c.yaw - 0.5 * pi) < 1e-12);
    // Half width 0.1: the side of the tongue is a line at 0.1 from the pin, and meets the corner asin(0.1/0.6) sooner.
    const PlanRectangle bar{pin, Point(3.0, 0.0), 0.2};
    CHECK(std::fabs(first_contact(bar, tyre, pin, TurnSide::right, 0.0).yaw - (0.5 * pi - std::asin(0.1 / 0.6))) < 1e-12);
    // A gap of 25 mm works as a wider tongue against the corner.
    CHECK(std::fabs(first_contact(bar, tyre, pin, TurnSide::right, 0.025).yaw - (0.5 * pi - std::asin(0.125 / 0.6))) < 1e-12);
    // To the left there is no tyre: half a turn is free.
    CHECK_FALSE(first_contact(bar, tyre, pin, TurnSide::left, 0.0).found);
    const PlanRectangle mirrored{Point(-0.7, -0.8), Point(0.7, -0.8), 0.4};
    CHECK(std::fabs(first_contact(bar, mirrored, pin, TurnSide::left, 0.025).yaw - (0.5 * pi - std::asin(0.125 / 0.6))) < 1e-12);
}

TEST_CASE("plan contact: a corner of a wide frame meets the tread of a tyre", "[analytic]") {
    // Frame corner at (1.5, 1.2) from the pin; it meets the line x = 0.1 behind the pin's plane within the tyre's width.
    const Point pin(0.0, 0.0);
    const PlanRectangle tyre{Point(-1.0, 1.7), Point(0.1, 1.7), 1.2};  // y from 1.1 to 2.3
    const PlanRectangle frame{Point(1.5, 0.0), Point(2.0, 0.0), 2.4};
    const double radius = std::hypot(1.5, 1.2);
    const double expected = std::acos(0.1 / radius) - std::atan2(1.2, 1.5);
    CHECK(std::fabs(first_contact(frame, tyre, pin, TurnSide::right, 0.0).yaw - expected) < 1e-12);
}

TEST_CASE("plan contact: already within the gap when straight is a contact at no turn", "[analytic]") {
    const PlanRectangle tyre{Point(-0.7, 0.3), Point(0.7, 0.3), 0.4};
    const PlanRectangle bar{Point(0.5, 0.0), Point(3.0, 0.0), 0.2};  // overlaps by nothing: touches at y = 0.1
    const PlanContact c = first_contact(bar, tyre, Point(0.6, 0.0), TurnSide::left, 0.0);
    CHECK((c.found && c.yaw == 0.0));
}

TEST_CASE("plan contact: distances of rectangles by hand", "[analytic]") {
    const PlanRectangle a{Point(0.0, 0.0), Point(2.0, 0.0), 1.0};
    CHECK(std::fabs(find_distance(a, {Point(3.0, 0.0), Point(4.0, 0.0), 1.0}) - 1.0) < 1e-14);
    CHECK(std::fabs(find_distance(a, {Point(5.0, 4.9), Point(6.0, 4.9), 0.8}) - 5.0) < 1e-14);  // 3-4-5 corner to corner
    CHECK(find_distance(a, {Point(1.0, -3.0), Point(1.0, 3.0), 0.2}) == 0.0);  // a cross: no corner inside
    CHECK(find_distance(a, {Point(0.9, 0.0), Point(1.1, 0.0), 0.1}) == 0.0);   // one inside the other
}

TEST_CASE("plan contact: 400 random turns against marching with another distance", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int met = 0, free = 0, at_once = 0;
    for (int i = 0; i < 400; ++i) {
        const Point pin(between(0.3, 1.2), 0.0);
        const PlanRectangle tyre{Point(-between(0.3, 0.9), between(0.5, 1.2)), Point(between(0.3, 0.9), between(0.5, 1.2)), between(0.2, 0.6)};
        const PlanRectangle bar{pin + Point(between(-0.2, 1.5), between(-0.3, 0.3)), pin + Point(between(1.6, 4.0), between(-0.5, 0.5)),
                                between(0.0, 1.5)};
        const double gap = i % 2 ? between(0.0, 0.1) : 0.0;
        const TurnSide side = i % 4 < 2 ? TurnSide::right : TurnSide::left;
        const double sense = side == TurnSide::right ? 1.0 : -1.0;
        const PlanContact c = first_contact(bar, tyre, pin, side, gap);
        CAPTURE(i, gap, c.found, c.yaw);
        const auto distance = [&](double yaw, int points) { return outline_distance(turn_about(bar, pin, sense * yaw), tyre, points); };
        const double end = c.found ? c.yaw : pi;
        // Nothing comes within the gap before; a corner may at most graze between the steps.
        for (double yaw = 0.0; yaw < end - 1e-6; yaw += 0.02) CHECK(distance(yaw, 20) > gap - 1e-9);
        if (c.found) {
            CHECK(distance(c.yaw, 400) < gap + 1e-2);
            CHECK(std::fabs(std::max(gap, find_distance(turn_about(bar, pin, sense * c.yaw), tyre)) - gap) < 1e-9);
            if (c.yaw > 1e-3) CHECK(distance(c.yaw - 1e-3, 400) > gap);
        }
        met += c.found && c.yaw > 0.0;
        at_once += c.found && c.yaw == 0.0;
        free += !c.found;
    }
    CHECK((met > 100 && free > 20 && at_once > 0));
}
