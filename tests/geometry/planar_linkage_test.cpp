// The pose kernel of the three-point linkage: lengths kept, cases by hand, and twins that must agree.
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/closable_heights.h"
#include "geometry/interval_jet.h"
#include "geometry/planar_linkage.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;

namespace {

/// Lower link, upper link, mast: what is left of their lengths in a pose, m.
double find_worst_residual(const PlanarLinkage& k, const PlanarPose& p) {
    const double lower = (p.ball - k.lower_pivot).norm() - k.lower_length;
    const double upper = (p.mast_pin - k.upper_pin).norm() - k.upper_length;
    const double mast = (p.mast_pin - p.ball).norm() - k.mast_pin.norm();
    const double height = p.ball.y() - p.ball_height;
    const double frame = (place_point(p, k.mast_pin) - p.mast_pin).norm();  // the pitch turns the frame onto the mast
    double worst = 0.0;
    for (const double r : {lower, upper, mast, height, frame}) worst = std::max(worst, std::fabs(r));
    return worst;
}

/// Lower link 1 m, upper link 1 m above it by 0.6 m: the frame stays level.
PlanarLinkage make_parallelogram() {
    return {.lower_pivot = Point(0.1, 0.5),
            .lower_length = 1.0,
            .upper_pin = Point(0.1, 1.1),
            .upper_length = 1.0,
            .mast_pin = Point(0.0, 0.6)};
}

}  // namespace

TEST_CASE("planar linkage: every link keeps its length at every height that closes, on both sides", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    int poses = 0;
    double worst = 0.0;
    for (int i = 0; i < 500; ++i) {
        PlanarLinkage k = make_random_linkage(random);
        k.side = i % 2 == 0 ? MastSide::above : MastSide::below;
        for (const HeightRange& r : find_closable_heights(k)) {
            for (int step = 0; step <= 40; ++step) {
                const double h = r.low + 1e-12 + (r.high - r.low - 2e-12) * step / 40.0;  // close to the dead centres too
                const PlanarPose p = solve_pose(k, h);
                REQUIRE(p.closes);
                REQUIRE(std::isfinite(p.pitch));
                worst = std::max(worst, find_worst_residual(k, p));
                const double turned = (p.mast_pin - p.ball).x() * (k.upper_pin - p.ball).y() -
                                      (p.mast_pin - p.ball).y() * (k.upper_pin - p.ball).x();
                const bool above = turned > 0.0;  // the mast pin lies clockwise of the upper pin, seen from the ball
                if (std::fabs(turned) > 1e-6) CHECK(above == (k.side == MastSide::above));
                ++poses;
            }
        }
    }
    CAPTURE(poses);
    CHECK(poses > 15000);
    CHECK(worst < 1e-9);   // promised
    CHECK(worst < 1e-12);  // reached
}

TEST_CASE("planar linkage: a parallelogram carries the frame level", "[analytic]") {
    const PlanarLinkage k = make_parallelogram();
    for (const double rise : {-0.6, -0.1, 0.0, 0.3, 0.8}) {
        CAPTURE(rise);
        const PlanarPose p = solve_pose(k, 0.5 + rise);
        REQUIRE(p.closes);
        const double forward = std::sqrt(1.0 - rise * rise);
        CHECK(std::fabs(p.pitch) < 1e-14);
        CHECK((p.ball - Point(0.1 + forward, 0.5 + rise)).norm() < 1e-14);
        CHECK((p.mast_pin - Point(0.1 + forward, 1.1 + rise)).norm() < 1e-14);
        CHECK(p.lower_link_angle == Approx(std::asin(rise)).epsilon(0).margin(1e-14));
        CHECK(p.upper_link_angle == Approx(std::asin(rise)).epsilon(0).margin(1e-14));
    }
    // 3-4-5: a point 1 m behind and 0.2 m above the balls.
    const Point at = place_point(solve_pose(k, 1.1), Point(1.0, 0.2));
    CHECK((at - Point(1.9, 1.3)).norm() < 1e-14);
}

TEST_CASE("planar linkage: a longer upper link lowers the rear, and the pitch follows by hand", "[analytic]") {
    // Links level, upper link so long that the mast leans back by 30 deg: e = |U - (H + R(-30 deg) M)|.
    PlanarLinkage k = make_parallelogram();
    const double lean = to_radians(30.0);
    k.upper_length = std::hypot(1.0 + 0.6 * std::sin(lean), 0.6 - 0.6 * std::cos(lean));
    CHECK(solve_pose(k, 0.5).pitch == Approx(-lean).epsilon(0).margin(1e-14));
    k.mast_pin = 0.6 * Point(std::sin(lean), std::cos(lean));  // the same mast, seen from a frame that is level then
    CHECK(solve_pose(k, 0.5).pitch == Approx(0.0).margin(1e-14));
}

TEST_CASE("planar linkage: moved, scaled and mirrored linkages give the same pose moved, scaled and mirrored",
          "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    int checked = 0;
    for (int i = 0; i < 300; ++i) {
        const PlanarLinkage k = make_random_linkage(random);
        const double h = k.lower_pivot.y() + std::uniform_real_distribution<double>(-0.3, 0.3)(random);
        const PlanarPose p = solve_pose(k, h);
        if (!p.closes) continue;
        CAPTURE(i, h);
        const Point shift(0.7, -1.3);
        PlanarLinkage moved = k;
        moved.lower_pivot += shift;
        moved.upper_pin += shift;
        const PlanarPose m = solve_pose(moved, h + shift.y());
        CHECK(m.pitch == Approx(p.pitch).epsilon(0).margin(1e-12));
        CHECK((m.mast_pin - p.mast_pin - shift).norm() < 1e-12);

        const double factor = 3.7;
        PlanarLinkage scaled = k;
        scaled.lower_pivot *= factor;
        scaled.upper_pin *= factor;
        scaled.mast_pin *= factor;
        scaled.lower_length *= factor;
        scaled.upper_length *= factor;
        const PlanarPose s = solve_pose(scaled, h * factor);
        CHECK(s.pitch == Approx(p.pitch).epsilon(0).margin(1e-12));
        CHECK((s.mast_pin - factor * p.mast_pin).norm() < 1e-11);

        PlanarLinkage upside = k;  // z -> -z
        upside.lower_pivot.y() = -k.lower_pivot.y();
        upside.upper_pin.y() = -k.upper_pin.y();
        upside.mast_pin.y() = -k.mast_pin.y();
        upside.side = MastSide::below;
        const PlanarPose u = solve_pose(upside, -h);
        CHECK(u.pitch == Approx(-p.pitch).epsilon(0).margin(1e-12));
        CHECK(u.upper_link_angle == Approx(-p.upper_link_angle).epsilon(0).margin(1e-12));
        ++checked;
    }
    CHECK(checked > 250);
}

TEST_CASE("planar linkage: what does not close says so and what lies at the very end is a number", "[analytic]") {
    const PlanarLinkage k = make_parallelogram();
    const double not_a_number = std::numeric_limits<double>::quiet_NaN();
    for (const double h : {1.6, -0.6, 1e300, not_a_number, std::numeric_limits<double>::infinity()}) {
        CAPTURE(h);
        CHECK_FALSE(closes_at(k, h));
        CHECK_FALSE(solve_pose(k, h).closes);
        CHECK(solve_pose(k, h).pitch == 0.0);
    }
    PlanarLinkage torn = k;
    torn.upper_length = 0.2;
    CHECK_FALSE(solve_pose(torn, 0.5).closes);
    PlanarLinkage bad = k;
    bad.upper_length = not_a_number;
    CHECK_FALSE(solve_pose(bad, 0.5).closes);
    // The kernel asked for the last height that closes, and for one a rounding beyond it.
    std::mt19937 random(Catch::rngSeed());
    int ends = 0;
    for (int i = 0; i < 2000; ++i) {
        const PlanarLinkage r = make_random_linkage(random);
        for (const HeightRange& range : find_closable_heights(r)) {
            for (const double end : {range.low, range.high}) {
                for (const double h : {std::nextafter(end, -9.0), end, std::nextafter(end, 9.0)}) {
                    const KernelPose<double> pose = solve_kernel<double>(r, h, r.upper_length);
                    REQUIRE(std::isfinite(pose.cos_pitch));
                    REQUIRE(std::isfinite(pose.sin_pitch));
                    ++ends;
                }
            }
        }
    }
    CHECK(ends > 10000);
}

TEST_CASE("planar linkage: the interval kernel encloses the poses of its box", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    using Jet = IntervalJet<2>;
    int checked = 0;
    for (int i = 0; i < 500; ++i) {
        const PlanarLinkage k = make_random_linkage(random);
        const double h = k.lower_pivot.y() + std::uniform_real_distribution<double>(-0.25, 0.2)(random);
        const double wide = std::pow(10.0, std::uniform_real_distribution<double>(-6.0, -2.0)(random));
        const Interval heights(h, h + wide), lengths(k.upper_length, k.upper_length + 0.5 * wide);
        bool closes = true;
        for (const double at : {heights.lo, heights.hi}) {
            for (const double e : {lengths.lo, lengths.hi}) {
                PlanarLinkage other = k;
                other.upper_length = e;
                closes = closes && closes_at(other, at);
            }
        }
        if (!closes) continue;
        const KernelPose<Jet> box = solve_kernel<Jet>(k, Jet::variable(heights, 0), Jet::variable(lengths, 1));
        const auto encloses = [](const Jet& j, double v) { return j.v.lo - 1e-14 <= v && v <= j.v.hi + 1e-14; };
        for (int n = 0; n < 10; ++n) {
            const double share = n / 9.0, other = 1.0 - share * share;
            const KernelPose<double> p = solve_kernel<double>(k, h + share * wide, k.upper_length + other * 0.5 * wide);
            CAPTURE(i, n, wide);
            CHECK((encloses(box.ball.x, p.ball.x) && encloses(box.ball.z, p.ball.z)));
            CHECK((encloses(box.mast_arm.x, p.mast_arm.x) && encloses(box.mast_arm.z, p.mast_arm.z)));
            CHECK((encloses(box.cos_pitch, p.cos_pitch) && encloses(box.sin_pitch, p.sin_pitch)));
            ++checked;
        }
    }
    CHECK(checked > 4000);
}
