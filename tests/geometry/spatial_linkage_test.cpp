// The linkage in space against the side view, its own link lengths, its mirror image and a search for the heading by hand.
#include "geometry/spatial_linkage.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <optional>
#include <random>

#include "tests/geometry/random_space.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

struct Places {
    explicit Places(unsigned seed) : random(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); }
    HitchPlace<double> draw(const SpatialLinkage& k, double sway, double tilt) {
        return {k.side_view.lower_pivot.y() + between(-0.5, 0.5) * k.side_view.lower_length, between(-sway, sway), between(-tilt, tilt)};
    }
    std::mt19937 random;
};

Vec3<double> pivot_of(const SpatialLinkage& k, double sign) {
    return {k.side_view.lower_pivot.x(), sign * k.half_spread_at_pivot, k.side_view.lower_pivot.y()};
}
Vec3<double> upper_pin_of(const SpatialLinkage& k) { return {k.side_view.upper_pin.x(), 0.0, k.side_view.upper_pin.y()}; }
Vec3<double> mast_of(const SpatialLinkage& k, const SpatialSolution& s) {
    return s.pose.place({k.side_view.mast_pin.x(), 0.0, k.side_view.mast_pin.y()});
}

/// Error of the left link where the right one is kept, for a heading: nothing where the right one does not reach.
std::optional<double> find_left_error(const SpatialLinkage& k, const HitchPlace<double>& at, double heading) {
    const double cos_tilt = std::sqrt(1.0 - at.tilt_sine * at.tilt_sine), yh = k.half_spread_at_ball;
    const double rx = -std::sin(heading) * cos_tilt * yh, ry = std::cos(heading) * cos_tilt * yh, rz = at.tilt_sine * yh;
    const Vec3<double> right = pivot_of(k, 1.0), left = pivot_of(k, -1.0);
    const double beside = at.sway + ry - right.y, over = at.height + rz - right.z;
    const double run_squared = k.lower_length * k.lower_length - beside * beside - over * over;
    if (run_squared < 0.0) return std::nullopt;
    const double x = right.x + std::sqrt(run_squared) - rx;
    return std::hypot(x - rx - left.x, at.sway - ry - left.y, at.height - rz - left.z) - k.lower_length;
}

/// Whether some heading within 70 deg closes both lower links.
bool closes_by_hand(const SpatialLinkage& k, const HitchPlace<double>& at) {
    std::optional<double> before;
    for (double heading = -1.22; heading <= 1.22; heading += 0.01) {
        const std::optional<double> error = find_left_error(k, at, heading);
        if (error && before && (*error <= 0.0) != (*before <= 0.0)) return true;
        before = error;
    }
    return false;
}

void check_links(const SpatialLinkage& k, const SpatialSolution& s) {
    CHECK(std::fabs(find_distance(s.left_ball, pivot_of(k, -1.0)) - k.lower_length) < 1e-9);
    CHECK(std::fabs(find_distance(s.right_ball, pivot_of(k, 1.0)) - k.lower_length) < 1e-9);
    CHECK(std::fabs(find_distance(s.left_ball, s.right_ball) - 2.0 * k.half_spread_at_ball) < 1e-9);
    CHECK(std::fabs(0.5 * (s.left_ball.z + s.right_ball.z) - s.at.height) < 1e-12);
    CHECK(std::fabs(0.5 * (s.left_ball.y + s.right_ball.y) - s.at.sway) < 1e-12);
    CHECK(std::fabs(s.right_ball.z - s.left_ball.z - 2.0 * k.half_spread_at_ball * s.at.tilt_sine) < 1e-12);
    if (s.closes) CHECK(std::fabs(find_distance(mast_of(k, s), upper_pin_of(k)) - k.side_view.upper_length) < 1e-9);
}

void check_axes(const SpatialPose<double>& p) {
    CHECK(std::fabs(dot(p.rearward, p.rearward) - 1.0) < 1e-12);
    CHECK(std::fabs(dot(p.right, p.right) - 1.0) < 1e-12);
    CHECK(std::fabs(dot(p.upward, p.upward) - 1.0) < 1e-12);
    CHECK(std::fabs(dot(p.rearward, p.right)) < 1e-12);
    CHECK(find_distance(cross(p.rearward, p.right), p.upward) < 1e-12);
}

}  // namespace

TEST_CASE("linkage in space: level and centred it is the side view", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Places places(seed);
    int poses = 0;
    while (poses < 3000) {
        const SpaceSample sample = make_random_space(places.random);
        const SpatialLinkage& k = sample.linkage;
        const double height = places.draw(k, 0.0, 0.0).height;
        const PlanarPose planar = solve_pose(k.side_view, height);
        const SpatialSolution s = solve_spatial_pose(k, {height, 0.0, 0.0});
        REQUIRE(s.reached);
        REQUIRE(s.closes == planar.closes);
        if (!planar.closes) continue;
        const Vec3<double> mast = mast_of(k, s);
        REQUIRE(std::fabs(s.pose.hitch.x - planar.ball.x()) < 1e-9);
        REQUIRE(std::hypot(mast.x - planar.mast_pin.x(), mast.y, mast.z - planar.mast_pin.y()) < 1e-9);
        REQUIRE(std::fabs(s.attitude.pitch - planar.pitch) < 1e-9);
        REQUIRE(s.attitude.roll == 0.0);
        REQUIRE(s.attitude.yaw == 0.0);
        REQUIRE(s.left_ball.y == -k.half_spread_at_ball);
        const Point behind = place_point(planar, Point(1.0, 0.3));
        const Vec3<double> point = s.pose.place({1.0, 0.2, 0.3});
        REQUIRE(std::hypot(point.x - behind.x(), point.y - 0.2, point.z - behind.y()) < 1e-9);
        ++poses;
    }
}

TEST_CASE("linkage in space: every link has its length, the axes are square", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Places places(seed);
    int closed = 0;
    for (int i = 0; i < 3000; ++i) {
        const SpatialLinkage k = make_random_space(places.random).linkage;
        const SpatialSolution s = solve_spatial_pose(k, places.draw(k, 0.25, 0.3));
        if (!s.reached) continue;
        CAPTURE(s.at.height, s.at.sway, s.at.tilt_sine);
        check_links(k, s);
        check_axes(s.pose);
        if (s.closes) ++closed;
    }
    CHECK(closed > 2000);
}

TEST_CASE("linkage in space: the attitude gives the axes again", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Places places(seed);
    for (int i = 0; i < 1000; ++i) {
        const SpatialLinkage k = make_random_space(places.random).linkage;
        const SpatialSolution s = solve_spatial_pose(k, places.draw(k, 0.2, 0.3));
        if (!s.closes) continue;
        const Eigen::Matrix3d r = make_rotation(s.attitude);
        const Vec3<double> axes[] = {s.pose.rearward, s.pose.right, s.pose.upward};
        for (int c = 0; c < 3; ++c) {
            REQUIRE(std::fabs(r(0, c) - axes[c].x) < 1e-12);
            REQUIRE(std::fabs(r(1, c) - axes[c].y) < 1e-12);
            REQUIRE(std::fabs(r(2, c) - axes[c].z) < 1e-12);
        }
    }
    // Signs by name: the right ball up is a positive roll, the rear swung right a positive yaw.
    const SpatialLinkage k = make_space_a().linkage;
    const SpatialSolution tilted = solve_spatial_pose(k, {0.5, 0.0, 0.1}), swayed = solve_spatial_pose(k, {0.5, 0.05, 0.0});
    CHECK(tilted.attitude.roll > 0.09);
    CHECK(tilted.right_ball.z > tilted.left_ball.z);
    // Links nearer to each other in front lead the hitch round a point ahead of it: swayed right, the rear swings further right.
    CHECK(swayed.attitude.yaw > 0.0);
    CHECK(swayed.pose.place({1.0, 0.0, 0.0}).y > 0.05);
}

TEST_CASE("linkage in space: a mirrored place gives the mirrored pose", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Places places(seed);
    const auto mirror = [](const Vec3<double>& v) { return Vec3<double>{v.x, -v.y, v.z}; };
    for (int i = 0; i < 1000; ++i) {
        const SpatialLinkage k = make_random_space(places.random).linkage;
        const HitchPlace<double> at = places.draw(k, 0.2, 0.3);
        const SpatialSolution a = solve_spatial_pose(k, at), b = solve_spatial_pose(k, {at.height, -at.sway, -at.tilt_sine});
        REQUIRE(a.closes == b.closes);
        if (!a.closes) continue;
        REQUIRE(find_distance(mirror(a.left_ball), b.right_ball) < 1e-12);
        REQUIRE(find_distance(mirror(mast_of(k, a)), mast_of(k, b)) < 1e-11);
        REQUIRE(find_distance(mirror(a.pose.place({0.9, 0.4, 0.2})), b.pose.place({0.9, -0.4, 0.2})) < 1e-11);
        REQUIRE(std::fabs(a.attitude.pitch - b.attitude.pitch) < 1e-11);
        REQUIRE(std::fabs(a.attitude.roll + b.attitude.roll) < 1e-11);
        REQUIRE(std::fabs(a.attitude.yaw + b.attitude.yaw) < 1e-11);
    }
}

TEST_CASE("linkage in space: a place is reached just when some heading closes both lower links", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Places places(seed);
    int reached = 0, beyond = 0;
    for (int i = 0; i < 2000; ++i) {
        const SpatialLinkage k = make_random_space(places.random).linkage;
        // Far beyond what a hitch sways or tilts a search may give up; up to here it must not.
        HitchPlace<double> at = places.draw(k, 0.25, 0.25);
        at.height = k.side_view.lower_pivot.y() + places.between(-1.1, 1.1) * k.lower_length;
        const bool by_hand = closes_by_hand(k, at);
        CAPTURE(i, at.height - k.side_view.lower_pivot.y(), at.sway, at.tilt_sine, k.lower_length, k.half_spread_at_pivot, k.half_spread_at_ball);
        const SpatialSolution s = solve_spatial_pose(k, at);
        if (by_hand) CHECK(s.reached);
        if (s.reached) check_links(k, s);
        ++(s.reached ? reached : beyond);
    }
    CHECK(reached > 1000);
    CHECK(beyond > 50);
}

TEST_CASE("linkage in space: beyond reach and without sense it says so", "[analytic]") {
    SpatialLinkage k = make_space_a().linkage;
    CHECK_FALSE(solve_spatial_pose(k, {0.5 + 0.95, 0.0, 0.0}).reached);
    CHECK_FALSE(solve_spatial_pose(k, {0.5 - 0.95, 0.0, 0.0}).reached);
    CHECK_FALSE(solve_spatial_pose(k, {0.5, 1.5, 0.0}).reached);
    CHECK_FALSE(solve_spatial_pose(k, {0.5, 0.0, 1.0}).reached);
    CHECK_FALSE(solve_spatial_pose(k, {0.5, 0.0, -1.0}).reached);
    for (const double bad : {not_a_number, infinite, -infinite}) {
        CHECK_FALSE(solve_spatial_pose(k, {bad, 0.0, 0.0}).reached);
        CHECK_FALSE(solve_spatial_pose(k, {0.5, bad, 0.0}).reached);
        CHECK_FALSE(solve_spatial_pose(k, {0.5, 0.0, bad}).reached);
        CHECK_FALSE(find_upper_length(k, {bad, 0.0, 0.0}, 0.0));
        SpatialLinkage broken = k;
        broken.lower_length = bad;
        CHECK_FALSE(solve_spatial_pose(broken, {0.5, 0.0, 0.0}).reached);
        broken = k;
        broken.side_view.upper_length = bad;
        CHECK_FALSE(solve_spatial_pose(broken, {0.5, 0.05, 0.05}).closes);
        broken = k;
        broken.half_spread_at_pivot = bad;
        CHECK_FALSE(solve_spatial_pose(broken, {0.5, 0.05, 0.05}).reached);
    }
    // The lower links reach, the upper link does not: no turn about the pins is made up.
    k.side_view.upper_length = 0.10;
    const SpatialSolution open = solve_spatial_pose(k, {0.5, 0.03, 0.05});
    CHECK(open.reached);
    CHECK_FALSE(open.closes);
    CHECK(std::fabs(open.pose.rearward.z) < 1e-15);
    check_links(k, open);
    // Swayed so far that the link is shorter than its pin lies beside the mast's plane.
    CHECK_FALSE(solve_spatial_pose(k, {0.5, 0.25, 0.0}).closes);
}

TEST_CASE("linkage in space: the upper link for a wanted turn gives that turn", "[random][inverse]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Places places(seed);
    int turned = 0;
    for (int i = 0; i < 500; ++i) {
        SpatialLinkage k = make_random_space(places.random).linkage;
        const HitchPlace<double> at = places.draw(k, 0.1, 0.2);
        const double turn = places.between(-0.15, 0.15);
        const std::optional<double> length = find_upper_length(k, at, turn);
        if (!length) continue;
        k.side_view.upper_length = *length;
        const SpatialSolution s = solve_spatial_pose(k, at);
        REQUIRE(s.closes);
        const double level = std::hypot(s.pose.right.x, s.pose.right.y);
        const Vec3<double> rearward{s.pose.right.y / level, -s.pose.right.x / level, 0.0};
        const double found = std::atan2(dot(cross(rearward, s.pose.right), s.pose.rearward), dot(rearward, s.pose.rearward));
        if (std::fabs(found - turn) > 0.2) continue;  // wanted beyond the dead centre: the same length stands for another turn
        CHECK(std::fabs(found - turn) < 1e-8);
        ++turned;
    }
    CHECK(turned > 400);
}
