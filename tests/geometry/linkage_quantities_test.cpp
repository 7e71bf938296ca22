#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/linkage_quantities.h"
#include "geometry/mast_closure.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;

namespace {

/// Links 1 m long and level, 0.6 m apart, mast upright: everything parallel.
LinkPoints make_parallel() {
    return {.lower_pivot = Point(0.0, 0.5),
            .ball = Point(1.0, 0.5),
            .upper_pin = Point(0.0, 1.1),
            .mast_pin = Point(1.0, 1.1)};
}

LinkPoints solve_points(const PlanarLinkage& linkage, double height) {
    return find_link_points(linkage, solve_pose(linkage, height));
}

LinkPoints mirror(const LinkPoints& points) {
    const auto down = [](const Point& p) { return Point(p.x(), -p.y()); };
    return {down(points.lower_pivot), down(points.ball), down(points.upper_pin), down(points.mast_pin)};
}

/// Height in the middle half of the lower link's reach at which the linkage closes with room to either side.
bool has_room(const PlanarLinkage& linkage, double height) {
    if (!solve_pose(linkage, height).closes) {
        return false;
    }
    const DeadCentreDistance distance = find_dead_centre_distance(solve_points(linkage, height));
    return distance.to_stretched > 0.05 && distance.to_folded > 0.05;
}

}  // namespace

TEST_CASE("virtual hitch point: parallel links have 1/X = 0 and no point", "[analytic]") {
    const std::optional<double> inverse = find_inverse_hitch_distance(make_parallel());
    REQUIRE(inverse);
    CHECK(*inverse == 0.0);
    CHECK_FALSE(find_virtual_hitch_point(make_parallel()));
    CHECK(find_pitch_rate(make_parallel()).value() == 0.0);
    CHECK(find_rise_ratio(make_parallel(), Point(3.0, 2.0)).value() == 1.0);
}

TEST_CASE("virtual hitch point: links meeting ahead or behind, by similar triangles", "[analytic]") {
    LinkPoints points = make_parallel();
    points.upper_pin.y() = 1.0;  // 0.1 m nearer per metre: they meet 6 m ahead of the ball
    CHECK(find_inverse_hitch_distance(points).value() == Approx(1.0 / 6.0).epsilon(0).margin(1e-15));
    CHECK((find_virtual_hitch_point(points).value() - Point(-5.0, 0.5)).norm() < 1e-14);
    points.upper_pin.y() = 1.2;  // they part by 0.1 per metre ahead: they meet 6 m behind
    CHECK(find_inverse_hitch_distance(points).value() == Approx(-1.0 / 6.0).epsilon(0).margin(1e-15));
    CHECK((find_virtual_hitch_point(points).value() - Point(7.0, 0.5)).norm() < 1e-14);
}

TEST_CASE("virtual hitch point: 1/X passes smoothly through parallel links", "[analytic]") {
    double previous = -1.0;
    for (int i = -1000; i <= 1000; ++i) {
        LinkPoints points = make_parallel();
        points.upper_pin.y() = 1.1 - 1e-12 * i;
        const double inverse = find_inverse_hitch_distance(points).value();
        CHECK(inverse > previous);
        CHECK(std::abs(inverse - 1e-12 * i / 0.6) < 1e-15);
        previous = inverse;
    }
}

TEST_CASE("virtual hitch point: lies on both link lines and X ahead of the ball", "[random][residual]") {
    const unsigned seed = 20260110;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int found = 0;
    for (int i = 0; i < 500; ++i) {
        const PlanarLinkage linkage = make_random_linkage(random);
        const double height = linkage.lower_pivot.y() + std::uniform_real_distribution<double>(-0.3, 0.4)(random);
        if (!has_room(linkage, height)) {
            continue;
        }
        const LinkPoints points = solve_points(linkage, height);
        const std::optional<Point> at = find_virtual_hitch_point(points);
        const double inverse = find_inverse_hitch_distance(points).value();
        if (!at || std::abs(inverse) < 1e-3) {
            continue;
        }
        ++found;
        CAPTURE(i, height, inverse);
        const double far = at->norm() + 1.0;
        CHECK(std::abs(cross(*at - points.ball, points.ball - points.lower_pivot)) < 1e-12 * far);
        CHECK(std::abs(cross(*at - points.mast_pin, points.mast_pin - points.upper_pin)) < 1e-12 * far);
        CHECK(inverse * (points.ball.x() - at->x()) == Approx(1.0).epsilon(0).margin(1e-9));
    }
    CHECK(found > 300);
}

TEST_CASE("pitch rate: the velocity loop, 1/X and central differences agree", "[random][analytic]") {
    const unsigned seed = 20260111;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const double step = 1e-5;
    int checked = 0;
    for (int i = 0; i < 400; ++i) {
        const PlanarLinkage linkage = make_random_linkage(random);
        const double height = linkage.lower_pivot.y() + std::uniform_real_distribution<double>(-0.3, 0.4)(random);
        if (!has_room(linkage, height)) {
            continue;
        }
        ++checked;
        CAPTURE(i, height);
        const LinkPoints points = solve_points(linkage, height);
        const double rate = find_pitch_rate(points).value();
        CHECK(rate == Approx(find_inverse_hitch_distance(points).value()).epsilon(0).margin(1e-12));
        const double difference =
            (solve_pose(linkage, height + step).pitch - solve_pose(linkage, height - step).pitch) / (2.0 * step);
        CHECK(rate == Approx(difference).epsilon(0).margin(1e-6));
        // Rise of a load 0.61 behind and 0.3 above the ball.
        const Point load(0.61, 0.3);
        const auto load_height = [&](double h) { return place_point(solve_pose(linkage, h), load).y(); };
        const double ratio = find_rise_ratio(points, place_point(solve_pose(linkage, height), load)).value();
        CHECK(ratio ==
              Approx((load_height(height + step) - load_height(height - step)) / (2.0 * step)).epsilon(0).margin(1e-6));
    }
    CHECK(checked > 300);
}

TEST_CASE("pitch per length: -1/(mast cos(upper-link angle - pitch)) for a square mast", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    for (double height = 0.2; height <= 0.95; height += 0.05) {
        const PlanarPose pose = solve_pose(a, height);
        REQUIRE(pose.closes);
        const double rate = find_pitch_per_length(find_link_points(a, pose)).value();
        CHECK(rate == Approx(-1.0 / (0.61 * std::cos(pose.upper_link_angle - pose.pitch))).epsilon(0).margin(1e-12));
    }
}

TEST_CASE("pitch per length: central differences agree, offset masts included", "[random][analytic]") {
    const unsigned seed = 20260112;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const double step = 1e-5;
    int checked = 0;
    for (int i = 0; i < 400; ++i) {
        const PlanarLinkage linkage = make_random_linkage(random);
        const double height = linkage.lower_pivot.y() + std::uniform_real_distribution<double>(-0.3, 0.4)(random);
        if (!has_room(linkage, height)) {
            continue;
        }
        ++checked;
        const LinkPoints points = solve_points(linkage, height);
        const auto pitch = [&](double length) {
            return solve_mast(points.ball, linkage.upper_pin, length, linkage.mast_pin).pitch;
        };
        const double difference =
            (pitch(linkage.upper_length + step) - pitch(linkage.upper_length - step)) / (2.0 * step);
        CHECK(find_pitch_per_length(points).value() == Approx(difference).epsilon(0).margin(1e-6));
        CHECK(find_pitch_per_turn(points, 0.004).value() == Approx(0.004 * difference).epsilon(0).margin(1e-8));
    }
    CHECK(checked > 300);
}

TEST_CASE("pitch per turn: one turn of 1 mm on a 1 m level rig is 1/0.6 milliradian down", "[analytic]") {
    CHECK(find_pitch_per_turn(make_parallel(), 0.001).value() == Approx(-0.001 / 0.6).epsilon(0).margin(1e-15));
}

TEST_CASE("dead centre: upper link in line with the mast has no rates, and the ball as hitch point", "[analytic]") {
    LinkPoints points = make_parallel();
    points.mast_pin = Point(0.5, 0.8);  // half way from the upper pin to the ball
    CHECK_FALSE(find_inverse_hitch_distance(points));
    CHECK_FALSE(find_pitch_rate(points));
    CHECK_FALSE(find_pitch_per_length(points));
    CHECK_FALSE(find_pitch_per_turn(points, 0.004));
    CHECK_FALSE(find_rise_ratio(points, Point(2.0, 1.0)));
    CHECK((find_virtual_hitch_point(points).value() - points.ball).norm() < 1e-15);
    const DeadCentreDistance distance = find_dead_centre_distance(points);
    CHECK(std::abs(distance.sine) < 1e-15);
    CHECK(std::abs(distance.to_stretched) < 1e-15);
    points.mast_pin = Point(-0.5, 1.4);  // beyond the upper pin: folded
    CHECK(std::abs(find_dead_centre_distance(points).to_folded) < 1e-15);
    CHECK_FALSE(find_pitch_rate(points));
}

TEST_CASE("dead centre: the sine is that of the angle between mast and link", "[analytic]") {
    const DeadCentreDistance square = find_dead_centre_distance(make_parallel());
    CHECK(square.sine == Approx(1.0).epsilon(0).margin(1e-15));
    const double apart = std::hypot(1.0, 0.6);
    CHECK(square.to_stretched == Approx(1.6 - apart).epsilon(0).margin(1e-15));
    CHECK(square.to_folded == Approx(apart - 0.4).epsilon(0).margin(1e-15));
    LinkPoints leaning = make_parallel();
    leaning.mast_pin = leaning.ball + 0.5 * unit_vector(to_radians(60.0));
    leaning.upper_pin = leaning.mast_pin - Point(1.0, 0.0);
    CHECK(find_dead_centre_distance(leaning).sine == Approx(std::sin(to_radians(60.0))).epsilon(0).margin(1e-14));
}

TEST_CASE("quantities: an upright lower link has no rate per ball height", "[analytic]") {
    LinkPoints points = make_parallel();
    points.lower_pivot = Point(1.0, -0.5);
    CHECK_FALSE(find_pitch_rate(points));
    CHECK_FALSE(find_inverse_hitch_distance(points));
    CHECK(find_pitch_per_length(points));
}

TEST_CASE("quantities: pins that coincide give nothing, not a number out of thin air", "[analytic]") {
    LinkPoints no_link = make_parallel();
    no_link.upper_pin = no_link.mast_pin;
    CHECK(find_mast_lever(no_link) == 0.0);
    CHECK_FALSE(find_inverse_hitch_distance(no_link));
    CHECK_FALSE(find_virtual_hitch_point(no_link));
    LinkPoints no_lower = make_parallel();
    no_lower.lower_pivot = no_lower.ball;
    CHECK_FALSE(find_inverse_hitch_distance(no_lower));
    CHECK_FALSE(find_pitch_rate(no_lower));
    CHECK_FALSE(find_virtual_hitch_point(no_lower));
    LinkPoints no_mast = make_parallel();
    no_mast.mast_pin = no_mast.ball;
    CHECK(find_dead_centre_distance(no_mast).sine == 0.0);
    CHECK_FALSE(find_pitch_per_length(no_mast));
    LinkPoints not_finite = make_parallel();
    not_finite.ball.y() = std::nan("");
    CHECK_FALSE(find_inverse_hitch_distance(not_finite));
    CHECK_FALSE(find_pitch_rate(not_finite));
    CHECK_FALSE(find_pitch_per_length(not_finite));
    CHECK_FALSE(find_virtual_hitch_point(not_finite));
}

TEST_CASE("vertical convergence: read with the lower links level, nothing if they cannot be", "[analytic]") {
    PlanarLinkage linkage{.lower_pivot = Point(0.0, 0.5),
                          .lower_length = 1.0,
                          .upper_pin = Point(0.0, 1.0),
                          .upper_length = std::hypot(1.0, 0.1),
                          .mast_pin = Point(0.0, 0.6)};
    CHECK(find_inverse_vertical_convergence(linkage).value() == Approx(1.0 / 6.0).epsilon(0).margin(1e-14));
    linkage.upper_length = 0.2;
    CHECK_FALSE(find_inverse_vertical_convergence(linkage));
}

TEST_CASE("horizontal convergence: parallel links never meet, spreading ones meet behind", "[analytic]") {
    CHECK(find_inverse_horizontal_convergence(0.4, 0.4, 0.9).value() == 0.0);
    CHECK(find_inverse_horizontal_convergence(0.2, 0.4, 0.9).value() == Approx(1.0 / 1.8).epsilon(0).margin(1e-15));
    CHECK(find_inverse_horizontal_convergence(0.6, 0.4, 0.9).value() == Approx(-1.0 / 1.8).epsilon(0).margin(1e-15));
    CHECK_FALSE(find_inverse_horizontal_convergence(0.2, 0.0, 0.9));
    CHECK_FALSE(find_inverse_horizontal_convergence(0.2, 0.4, 0.0));
    CHECK_FALSE(find_inverse_horizontal_convergence(std::nan(""), 0.4, 0.9));
}

TEST_CASE("quantities: moved, scaled and mirrored twins keep their meaning", "[metamorphic]") {
    const LinkPoints points = solve_points(make_linkage_a(), 0.7);
    const double inverse = find_inverse_hitch_distance(points).value();
    const Point shift(4.0, -2.0);
    const LinkPoints moved{points.lower_pivot + shift, points.ball + shift, points.upper_pin + shift,
                           points.mast_pin + shift};
    CHECK(find_inverse_hitch_distance(moved).value() == Approx(inverse).epsilon(0).margin(1e-13));
    const double k = 1.0 / 0.0254;  // inches
    const LinkPoints inches{k * points.lower_pivot, k * points.ball, k * points.upper_pin, k * points.mast_pin};
    CHECK(find_inverse_hitch_distance(inches).value() == Approx(inverse / k).epsilon(0).margin(1e-14));
    CHECK(find_dead_centre_distance(inches).sine ==
          Approx(find_dead_centre_distance(points).sine).epsilon(0).margin(1e-14));
    // Upside down the hitch point stays ahead; the lever and the pitch it gives change sign.
    CHECK(find_inverse_hitch_distance(mirror(points)).value() == Approx(inverse).epsilon(0).margin(1e-14));
    CHECK(find_mast_lever(mirror(points)) == Approx(-find_mast_lever(points)).epsilon(0).margin(1e-15));
    CHECK(find_pitch_per_length(mirror(points)).value() ==
          Approx(-find_pitch_per_length(points).value()).epsilon(0).margin(1e-14));
}
