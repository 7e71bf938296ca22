#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/circle_fit.h"

using namespace hitchwright;

namespace {

/// Points of a circle at angles in degrees.
std::vector<CirclePoint> make_arc(const Point& centre, double radius, const std::vector<double>& degrees, double sigma) {
    std::vector<CirclePoint> points;
    for (const double d : degrees) points.push_back({centre + radius * unit_vector(to_radians(d)), sigma, sigma});
    return points;
}

double find_cost(const std::vector<CirclePoint>& points, const Point& centre, double radius) {
    double cost = 0.0;
    for (const CirclePoint& p : points) {
        const double d = ((p.at - centre).norm() - radius) / p.sigma_x;
        cost += d * d;
    }
    return cost;
}

}  // namespace

TEST_CASE("circle fit: points of a circle give the circle, whatever the arc", "[analytic]") {
    for (const double half : {10.0, 25.0, 60.0, 150.0}) {
        CAPTURE(half);
        const CircleFit fit = fit_circle(make_arc({0.1, 0.5}, 0.885, {-half, 0.1 * half, half}, 1e-5));
        REQUIRE(fit.status == CircleFitStatus::ok);
        CHECK((fit.centre - Point(0.1, 0.5)).norm() < 1e-9);
        CHECK(std::fabs(fit.radius - 0.885) < 1e-9);
        CHECK(fit.freedom == 0);
        CHECK_FALSE(fit.checks[1].checked);
    }
    // The points' sector, whatever their order: the whole turn less the greatest empty part.
    CHECK(std::fabs(fit_circle(make_arc({0, 0}, 0.9, {25, -25, 5}, 1e-5)).arc - to_radians(50.0)) < 1e-9);
    CHECK(std::fabs(fit_circle(make_arc({0, 0}, 0.9, {150, -150, 0, 75, -75}, 1e-5)).arc - to_radians(285.0)) < 1e-9);
}

TEST_CASE("circle fit: moved, mirrored and scaled points give the moved, mirrored and scaled circle", "[metamorphic]") {
    std::vector<CirclePoint> points = make_arc({0.1, 0.5}, 0.885, {-30, -10, 5, 20, 35}, 1e-3);
    points[2].at += Point(0.002, -0.001);
    const CircleFit fit = fit_circle(points);
    REQUIRE(fit.status == CircleFitStatus::ok);
    std::vector<CirclePoint> twin = points;
    for (CirclePoint& p : twin) p = {Point(2.0 * (3.0 - p.at.x()), 2.0 * (p.at.y() - 7.0)), 2e-3, 2e-3};
    const CircleFit other = fit_circle(twin);
    REQUIRE(other.status == CircleFitStatus::ok);
    CHECK((other.centre - Point(2.0 * (3.0 - fit.centre.x()), 2.0 * (fit.centre.y() - 7.0))).norm() < 1e-8);
    CHECK(std::fabs(other.radius - 2.0 * fit.radius) < 1e-8);
    CHECK(std::fabs(other.error(2) - 2.0 * fit.error(2)) < 1e-7);
}

TEST_CASE("circle fit: no circle nearby is nearer to the points", "[oracle]") {
    std::mt19937 random(11);
    std::normal_distribution<double> noise(0.0, 1e-3);
    for (int run = 0; run < 20; ++run) {
        CAPTURE(run);
        std::vector<CirclePoint> points = make_arc({0.0, 0.5}, 0.9, {-35, -20, 0, 15, 30}, 1e-3);
        for (CirclePoint& p : points) p.at += Point(noise(random), noise(random));
        const CircleFit fit = fit_circle(points);
        REQUIRE(fit.status == CircleFitStatus::ok);
        // Second route: pattern search down from far off, no derivative and no algebra shared with the fit.
        std::array<double, 3> c{0.05, 0.45, 0.85};
        for (double step = 0.05; step > 1e-9;) {
            bool better = false;
            const double now = find_cost(points, {c[0], c[1]}, c[2]);
            for (const Eigen::Vector3d& d : {Eigen::Vector3d(1, 0, -1), Eigen::Vector3d(1, 0, 0), Eigen::Vector3d(0, 1, 0),
                                             Eigen::Vector3d(0, 0, 1), Eigen::Vector3d(1, 0.1, -1), Eigen::Vector3d(1, -0.1, -1)}) {
                for (const double s : {step, -step}) {
                    const std::array<double, 3> t{c[0] + s * d[0], c[1] + s * d[1], c[2] + s * d[2]};
                    if (find_cost(points, {t[0], t[1]}, t[2]) >= now) continue;
                    c = t;
                    better = true;
                    break;
                }
                if (better) break;
            }
            if (!better) step *= 0.5;
        }
        CHECK(fit.chi_square <= find_cost(points, {c[0], c[1]}, c[2]) + 1e-9);
        CHECK(std::fabs(fit.radius - c[2]) < 1e-5);
        CHECK((fit.centre - Point(c[0], c[1])).norm() < 1e-5);
    }
}

TEST_CASE("circle fit: its errors are those that repeated readings scatter by", "[random]") {
    constexpr int draws = 20000;
    const std::vector<CirclePoint> exact = make_arc({0.0, 0.5}, 0.9, {-40, -20, 0, 20, 40}, 1e-3);
    for (const bool taped : {false, true}) {
        CAPTURE(taped);
        std::mt19937 random(7);
        std::normal_distribution<double> normal;
        CirclePriors priors;
        const CircleFit first = fit_circle(exact, taped ? CirclePriors{{}, {}, NormalPrior{0.9, 2e-3}} : priors);
        Eigen::Vector3d squares = Eigen::Vector3d::Zero();
        int doubted = 0;
        for (int i = 0; i < draws; ++i) {
            std::vector<CirclePoint> points = exact;
            for (CirclePoint& p : points) p.at += 1e-3 * Point(normal(random), normal(random));
            if (taped) priors.radius = NormalPrior{0.9 + 2e-3 * normal(random), 2e-3};
            const CircleFit fit = fit_circle(points, priors);
            REQUIRE(fit.status == CircleFitStatus::ok);
            squares += Eigen::Vector3d(fit.centre.x(), fit.centre.y() - 0.5, fit.radius - 0.9).cwiseAbs2();
            if (!find_doubted_points(fit).empty()) ++doubted;
        }
        // 20,000 draws know a spread to 0.5 %; the rest is curvature of the problem.
        for (int m = 0; m < 3; ++m) CHECK(std::fabs(2.0 * std::sqrt(squares[m] / draws) / first.error(m) - 1.0) < 0.05);
        // One sound point in a thousand: five points, most of whose residuals hang together.
        CHECK(doubted < draws * 5 / 1000);
        CHECK(doubted > 0);
    }
}

TEST_CASE("circle fit: a point off the circle is doubted, with how far it is off", "[analytic]") {
    std::vector<CirclePoint> points = make_arc({0.0, 0.5}, 0.9, {-40, -25, -10, 5, 20, 40}, 1e-3);
    points[2].at += 0.020 * unit_vector(to_radians(-10.0));
    const CircleFit fit = fit_circle(points);
    REQUIRE(fit.status == CircleFitStatus::ok);
    const std::vector<std::size_t> doubted = find_doubted_points(fit);
    REQUIRE_FALSE(doubted.empty());
    CHECK(doubted.front() == 2);
    CHECK(std::fabs(fit.checks[2].off - 0.020) < 1e-3);
    CHECK(fit.checks[2].allowed > 2e-3);
    CHECK(fit.checks[2].allowed < 4e-3);
}

TEST_CASE("circle fit: four points tell that one is wrong, not which", "[analytic]") {
    std::vector<CirclePoint> points = make_arc({0.0, 0.5}, 0.9, {-40, -15, 15, 40}, 1e-3);
    points[1].at += Point(0.020, 0.0);
    const CircleFit fit = fit_circle(points);
    REQUIRE(fit.status == CircleFitStatus::ok);
    CHECK(fit.freedom == 1);
    CHECK(find_doubted_points(fit).size() == 4);
}

TEST_CASE("circle fit: points on a line, and a short arc, are refused with what is needed", "[analytic]") {
    const std::vector<CirclePoint> line{{{0.8, 0.2}, 1e-3, 1e-3}, {{0.8, 0.5}, 1e-3, 1e-3}, {{0.8, 0.8}, 1e-3, 1e-3}};
    const CircleFit straight = fit_circle(line);
    CHECK(straight.status == CircleFitStatus::too_straight);
    CHECK(straight.departure < 1e-12);
    // Middle of three against the line of the others: sigma sqrt(3/2), twice that over the doubt allowed.
    CHECK(std::fabs(straight.departure_needed - 2.0 * std::sqrt(1.5) * 1e-3 / radius_doubt_most) < 1e-12);
    const CircleFit brief = fit_circle(make_arc({0.0, 0.5}, 0.9, {-5, 0, 5}, 1e-3));
    CHECK(brief.status == CircleFitStatus::too_straight);
    CHECK(std::fabs(brief.arc - to_radians(10.0)) < 1e-3);
    CHECK(brief.arc_needed > to_radians(10.0));
    const CircleFit enough = fit_circle(make_arc({0.0, 0.5}, 0.9, {-20, 0, 20}, 1e-3));
    CHECK(enough.status == CircleFitStatus::ok);
    CHECK(fit_circle(line, {NormalPrior{-0.1, 1e-3}, NormalPrior{0.5, 1e-3}, NormalPrior{0.9, 1e-3}}).converged);
}

TEST_CASE("circle fit: two points, one place read thrice and rubbish are refused", "[analytic]") {
    const CirclePoint a{{0.8, 0.2}, 1e-3, 1e-3}, b{{0.9, 0.5}, 1e-3, 1e-3};
    CHECK(fit_circle({}).status == CircleFitStatus::too_few);
    CHECK(fit_circle({a, b}).status == CircleFitStatus::too_few);
    CHECK(fit_circle({a, b, a, b}).status == CircleFitStatus::coincident);
    CHECK(fit_circle({a, a, a}).status == CircleFitStatus::coincident);
    CirclePoint bad = a;
    bad.at.x() = std::numeric_limits<double>::quiet_NaN();
    CHECK(fit_circle({a, b, bad}).status == CircleFitStatus::not_finite);
    bad = a;
    bad.sigma_x = 0.0;
    CHECK(fit_circle({a, b, bad}).status == CircleFitStatus::not_finite);
    CHECK(fit_circle({a, b, a}, {{}, {}, NormalPrior{-1.0, 1e-3}}).status == CircleFitStatus::not_finite);
}

TEST_CASE("circle fit: a reading taken twice counts twice", "[metamorphic]") {
    std::vector<CirclePoint> once = make_arc({0.0, 0.5}, 0.9, {-40, -10, 15, 40}, 1e-3);
    once[1].at += Point(0.003, 0.0);
    std::vector<CirclePoint> twice = once;
    twice.push_back(once[1]);
    std::vector<CirclePoint> closer = once;
    closer[1].sigma_x = closer[1].sigma_z = 1e-3 / std::sqrt(2.0);
    const CircleFit a = fit_circle(twice), b = fit_circle(closer);
    REQUIRE(a.status == CircleFitStatus::ok);
    CHECK((a.centre - b.centre).norm() < 1e-9);
    CHECK(std::fabs(a.error(2) - b.error(2)) < 1e-9);
}

TEST_CASE("circle fit: points on a line through the middle of a taped circle give no circle", "[edge]") {
    // Taped radius half the chord: the start lies on the line, and nothing tells it sideways.
    const CircleFit fit = fit_circle({{{0.0, 0.0}, 1e-3, 1e-3}, {{0.0, 1.0}, 1e-3, 1e-3}, {{0.0, 0.9}, 1e-3, 1e-3}}, {{}, {}, NormalPrior{0.5, 0.001}});
    CHECK(fit.status == CircleFitStatus::too_straight);
    CHECK_FALSE(fit.converged);
}
