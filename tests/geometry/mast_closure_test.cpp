#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/mast_closure.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("mast: a square frame stands level", "[analytic]") {
    const MastPose pose = solve_mast(Point(1.0, 0.0), Point(0.0, 1.0), 1.0, Point(0.0, 1.0));
    REQUIRE(pose.closure.closes());
    CHECK(std::abs(pose.pitch) < 1e-15);
    CHECK(std::abs(pose.upper_link_angle) < 1e-15);
    CHECK((pose.mast_pin - Point(1.0, 1.0)).norm() < 1e-15);
    // The other side of the line ball -> upper pin: mast pin at the origin, folded forward by a quarter turn.
    const MastPose below = solve_mast(Point(1.0, 0.0), Point(0.0, 1.0), 1.0, Point(0.0, 1.0), MastSide::below);
    REQUIRE(below.closure.closes());
    CHECK(below.pitch == Approx(pi / 2.0).epsilon(0).margin(1e-15));
}

TEST_CASE("mast: an offset mast pin only shifts the pitch by its own angle", "[analytic]") {
    const MastPose pose = solve_mast(Point(1.0, 0.0), Point(0.0, 1.0), 1.0, unit_vector(to_radians(80.0)));
    REQUIRE(pose.closure.closes());
    CHECK(to_degrees(pose.pitch) == Approx(10.0).epsilon(0).margin(1e-13));
}

TEST_CASE("mast: a longer upper link lowers the rear", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const Point ball(0.885, 0.5);
    double previous = 10.0;
    for (double length = 0.5; length < 0.9; length += 0.02) {
        const MastPose pose = solve_mast(ball, a.upper_pin, length, a.mast_pin);
        REQUIRE(pose.closure.closes());
        CHECK(pose.pitch < previous);
        previous = pose.pitch;
    }
}

TEST_CASE("mast: both bars keep their length and agree with the pose kernel", "[random][residual][oracle]") {
    const unsigned seed = 20260107;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int solved = 0;
    for (int i = 0; i < 500; ++i) {
        PlanarLinkage linkage = make_random_linkage(random);
        linkage.side = i % 3 == 0 ? MastSide::below : MastSide::above;
        const double height = linkage.lower_pivot.y() + std::uniform_real_distribution<double>(-0.4, 0.5)(random);
        const PlanarPose pose = solve_pose(linkage, height);
        CHECK(pose.closes == find_pose_closure(linkage, height).closes());
        if (!pose.closes) {
            continue;
        }
        ++solved;
        const MastPose mast =
            solve_mast(pose.ball, linkage.upper_pin, linkage.upper_length, linkage.mast_pin, linkage.side);
        REQUIRE(mast.closure.closes());
        CHECK(std::abs((mast.mast_pin - linkage.upper_pin).norm() - linkage.upper_length) < 1e-12);
        CHECK((pose.ball + rotate(linkage.mast_pin, mast.pitch) - mast.mast_pin).norm() < 1e-12);
        CHECK(std::abs(wrap_angle(mast.pitch - pose.pitch)) < 1e-9);
        CHECK(std::abs(wrap_angle(mast.upper_link_angle - pose.upper_link_angle)) < 1e-9);
    }
    CHECK(solved > 400);
}

TEST_CASE("mast: a pose that cannot close names the upper link, short or long, and the shortfall", "[analytic]") {
    const Point ball(1.0, 0.0);
    const Point upper_pin(0.0, 0.0);
    CHECK(solve_mast(ball, upper_pin, 0.25, Point(0.0, 0.5)).closure ==
          Closure{LinkagePart::upper_link, Misfit::too_short, 0.25});
    CHECK(solve_mast(ball, upper_pin, 1.75, Point(0.0, 0.5)).closure ==
          Closure{LinkagePart::upper_link, Misfit::too_long, 0.25});
    // The mast reaches past the upper pin: a link too short again, from the inside.
    CHECK(solve_mast(ball, upper_pin, 0.25, Point(0.0, 1.5)).closure ==
          Closure{LinkagePart::upper_link, Misfit::too_short, 0.25});
}

TEST_CASE("mast: dead centres close, stretched and folded", "[analytic]") {
    const MastPose stretched = solve_mast(Point(1.0, 0.0), Point(0.0, 0.0), 0.5, Point(0.0, 0.5));
    REQUIRE(stretched.closure.closes());
    CHECK((stretched.mast_pin - Point(0.5, 0.0)).norm() < 1e-15);
    const MastPose folded = solve_mast(Point(1.0, 0.0), Point(0.0, 0.0), 1.5, Point(0.0, 0.5));
    REQUIRE(folded.closure.closes());
    CHECK((folded.mast_pin - Point(1.5, 0.0)).norm() < 1e-15);
}

TEST_CASE("mast: no mast, or numbers that are none, are undefined", "[analytic]") {
    const Point ball(1.0, 0.0);
    const Point upper_pin(0.0, 1.0);
    CHECK(solve_mast(ball, upper_pin, 1.0, Point(0.0, 0.0)).closure ==
          Closure{LinkagePart::mast, Misfit::undefined, 0.0});
    CHECK(solve_mast(ball, upper_pin, 1.0, Point(0.0, not_a_number)).closure.misfit == Misfit::undefined);
    CHECK(solve_mast(ball, upper_pin, not_a_number, Point(0.0, 1.0)).closure.misfit == Misfit::undefined);
    CHECK(solve_mast(Point(not_a_number, 0.0), upper_pin, 1.0, Point(0.0, 1.0)).closure.misfit == Misfit::undefined);
    CHECK(solve_mast(upper_pin, upper_pin, 1.0, Point(0.0, 1.0)).closure.misfit == Misfit::undefined);
}

TEST_CASE("pose closure: the lower link is named before the upper link", "[analytic]") {
    PlanarLinkage linkage = make_linkage_a();
    CHECK(find_pose_closure(linkage, 0.5).closes());
    const Closure high = find_pose_closure(linkage, 1.5);
    CHECK(high.part == LinkagePart::lower_link);
    CHECK(high.misfit == Misfit::too_short);
    CHECK(high.shortfall == Approx(0.115).epsilon(0).margin(1e-14));
    linkage.upper_length = 0.1;
    const Closure short_link = find_pose_closure(linkage, 0.5);
    CHECK(short_link.part == LinkagePart::upper_link);
    CHECK(short_link.misfit == Misfit::too_short);
    CHECK(short_link.shortfall == Approx(std::hypot(0.645, 0.46) - 0.61 - 0.1).epsilon(0).margin(1e-14));
}

TEST_CASE("mast: moved, scaled and mirrored twins give the twin pitch", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const Point ball(0.86, 0.7);
    const double pitch = solve_mast(ball, a.upper_pin, 0.66, a.mast_pin).pitch;
    const Point shift(-2.0, 5.0);
    CHECK(solve_mast(ball + shift, a.upper_pin + shift, 0.66, a.mast_pin).pitch ==
          Approx(pitch).epsilon(0).margin(1e-14));
    const double k = 1000.0 / 25.4;
    CHECK(solve_mast(k * ball, k * a.upper_pin, k * 0.66, k * a.mast_pin).pitch ==
          Approx(pitch).epsilon(0).margin(1e-14));
    const auto mirror = [](const Point& p) { return Point(p.x(), -p.y()); };
    CHECK(solve_mast(mirror(ball), mirror(a.upper_pin), 0.66, mirror(a.mast_pin), MastSide::below).pitch ==
          Approx(-pitch).epsilon(0).margin(1e-14));
}
