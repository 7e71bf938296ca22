// The pose kernel of the three-point linkage: lengths kept, cases by hand, and twins that must agree.
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "geometry/angle.h"
#include "geometry/closable_heights.h"
#include "geometry/jet_pose.h"
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

TEST_CASE("planar linkage: a lower link that stands nearly upright keeps the digits of its run", "[analytic]") {
    // The rise less than the link by d: run^2 = d (2 c - d). By its sine the run of the last line would be off by a tenth of itself.
    const double length = 0.85;
    for (const double d : {1e-3, 1e-9, 1e-14}) {
        CAPTURE(d);
        const double rise = length - d;
        const long double left = static_cast<long double>(length) - rise;  // d as the doubles have it
        const double run = static_cast<double>(std::sqrt(left * (2.0L * length - left)));
        CHECK(std::fabs(find_other_leg(length, rise) - run) <= 4e-16 * run);
        CHECK(find_other_leg(length, -rise) == find_other_leg(length, rise));
    }
    CHECK(find_other_leg(length, length) == 0.0);
    CHECK(find_other_leg(length, 1.01 * length) == 0.0);
    const PlanarLinkage k{Point(0.125, 0.25), 0.75, Point(0.0, 0.9), 0.6, Point(0.0, 0.6)};
    CHECK(find_ball(k, 1.0) == Point(0.125, 1.0));
    CHECK(find_ball(k, 1.1) == Point(0.125, 1.1));
    CHECK(find_ball(k, 0.25) == Point(0.875, 0.25));
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

namespace {

using Jet = IntervalJet<2>;

/// A pose's numbers in one row, to go over them.
template <class T>
std::array<T, 6> list(const KernelPose<T>& p) {
    return {p.ball.x, p.ball.z, p.mast_arm.x, p.mast_arm.z, p.cos_pitch, p.sin_pitch};
}

/// A random linkage with a box of heights and upper-link lengths that closes at its four corners, hence throughout.
struct PoseBox {
    PlanarLinkage linkage;
    Interval heights, lengths;
    std::array<double, 6> at(double height_share, double length_share) const {
        return list(solve_kernel<double>(linkage, heights.lo + height_share * heights.width(),
                                         lengths.lo + length_share * lengths.width()));
    }
};

PoseBox draw_box(std::mt19937& random) {
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    for (;;) {
        PoseBox b;
        b.linkage = make_random_linkage(random);
        if (between(0.0, 1.0) < 0.2) b.linkage.side = MastSide::below;
        const double h = b.linkage.lower_pivot.y() + between(-0.3, 0.3), wide = std::pow(10.0, between(-6.0, -1.0));
        b.heights = Interval(h, h + wide);
        b.lengths = Interval(b.linkage.upper_length, b.linkage.upper_length + between(0.0, 1.0) * wide);
        bool closes = true;
        for (const double at : {b.heights.lo, b.heights.hi}) {
            for (const double e : {b.lengths.lo, b.lengths.hi}) {
                PlanarLinkage other = b.linkage;
                other.upper_length = e;
                closes = closes && closes_at(other, at);
            }
        }
        if (closes) return b;
    }
}

/// Values of the whole box and the slopes' means over its sides lie in the enclosure.
void check_enclosure(const PoseBox& b, const KernelPose<Jet>& enclosure) {
    const std::array<Jet, 6> jets = list(enclosure);
    constexpr double rounding = 1e-13;
    for (int i = 0; i <= 6; ++i) {
        for (int k = 0; k <= 3; ++k) {
            const std::array<double, 6> p = b.at(i / 6.0, k / 3.0);
            for (std::size_t q = 0; q < 6; ++q) {
                CAPTURE(i, k, q, jets[q].v.lo, jets[q].v.hi, p[q]);
                CHECK((jets[q].v.lo - rounding <= p[q] && p[q] <= jets[q].v.hi + rounding));
            }
        }
    }
    const std::array<double, 6> low = b.at(0.0, 0.3), high = b.at(1.0, 0.3), shorter = b.at(0.6, 0.0), longer = b.at(0.6, 1.0);
    for (std::size_t q = 0; q < 6; ++q) {
        const double by_height = (high[q] - low[q]) / b.heights.width();
        const double by_length = b.lengths.width() > 1e-9 ? (longer[q] - shorter[q]) / b.lengths.width() : jets[q].d[1].middle();
        CAPTURE(q, by_height, jets[q].d[0].lo, jets[q].d[0].hi, by_length, jets[q].d[1].lo, jets[q].d[1].hi);
        const double r0 = rounding / b.heights.width(), r1 = b.lengths.width() > 1e-9 ? rounding / b.lengths.width() : 0.0;
        CHECK((jets[q].d[0].lo - r0 <= by_height && by_height <= jets[q].d[0].hi + r0));
        if (std::isfinite(by_length)) CHECK((jets[q].d[1].lo - r1 <= by_length && by_length <= jets[q].d[1].hi + r1));
    }
}

}  // namespace

TEST_CASE("planar linkage: jets through the kernel and the sharper jet pose both enclose the box and its slopes", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    int sharper = 0;
    for (int i = 0; i < 400; ++i) {
        const PoseBox b = draw_box(random);
        CAPTURE(i, b.heights.lo, b.heights.width(), b.lengths.width());
        const Jet h = Jet::variable(b.heights, 0), e = Jet::variable(b.lengths, 1);
        const KernelPose<Jet> plain = solve_kernel<Jet>(b.linkage, h, e), sharp = solve_jet_pose(b.linkage, h, e);
        check_enclosure(b, plain);
        check_enclosure(b, sharp);
        sharper += sharp.sin_pitch.d[0].width() < 0.5 * plain.sin_pitch.d[0].width();
    }
    CHECK(sharper > 300);
}

TEST_CASE("planar linkage: the jet pose of a box at a dead centre keeps values and gives up slopes", "[analytic]") {
    PlanarLinkage k = make_linkage_a();
    const std::vector<HeightRange> closing = find_closable_heights(k);
    REQUIRE_FALSE(closing.empty());
    const Interval heights(closing[0].high - 1e-3, closing[0].high - 1e-12);
    const KernelPose<Jet> box = solve_jet_pose(k, Jet::variable(heights, 0), Jet(k.upper_length));
    const KernelPose<double> last = solve_kernel<double>(k, heights.hi, k.upper_length);
    CHECK(box.sin_pitch.v.contains(last.sin_pitch));
    CHECK(box.cos_pitch.v.contains(last.cos_pitch));
    CHECK((box.cos_pitch.v.lo >= -1.0 && box.cos_pitch.v.hi <= 1.0));
    CHECK(box.sin_pitch.d[0].width() > 1.0);
    CHECK(box.sin_pitch.d[0].lo <= box.sin_pitch.d[0].hi);
    // And the values alone, as taken at points.
    const auto point = solve_jet_pose(k, IntervalJet<0>(heights.lo), IntervalJet<0>(k.upper_length));
    CHECK(point.sin_pitch.v.contains(solve_kernel<double>(k, heights.lo, k.upper_length).sin_pitch));
    CHECK(point.sin_pitch.v.width() < 1e-10);
}
