#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/closable_heights.h"
#include "geometry/linkage_quantities.h"
#include "geometry/mast_closure.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;

namespace {

/// Lower link of 1 about the origin, upper pin straight above at 1: |D|^2 = 2 - 2 h at ball height h.
PlanarLinkage make_unit_linkage(double upper_length, double mast) {
    return {.lower_pivot = Point(0.0, 0.0),
            .lower_length = 1.0,
            .upper_pin = Point(0.0, 1.0),
            .upper_length = upper_length,
            .mast_pin = Point(0.0, mast)};
}

bool is_in_any(const std::vector<HeightRange>& ranges, double height) {
    bool in = false;
    for (const HeightRange& range : ranges) {
        in = in || range.contains(height);
    }
    return in;
}

}  // namespace

TEST_CASE("closable heights: both dead centres bound the range", "[analytic]") {
    // m + e = 1.2: 2 - 2h = 1.44 at h = 0.28; |m - e| = 0.2: 2 - 2h = 0.04 at h = 0.98.
    const PlanarLinkage linkage = make_unit_linkage(0.5, 0.7);
    const std::vector<HeightRange> ranges = find_closable_heights(linkage);
    REQUIRE(ranges.size() == 1);
    CHECK(ranges[0].low == Approx(0.28).epsilon(0).margin(1e-14));
    CHECK(ranges[0].high == Approx(0.98).epsilon(0).margin(1e-14));
    const std::vector<DeadCentre> centres = find_dead_centres(linkage, {-1.0, 1.0});
    REQUIRE(centres.size() == 2);
    CHECK(centres[0].kind == DeadCentreKind::stretched);
    CHECK(centres[0].height == ranges[0].low);
    CHECK(centres[1].kind == DeadCentreKind::folded);
    CHECK(centres[1].height == ranges[0].high);
    CHECK(find_dead_centres(linkage, {0.3, 0.9}).empty());
    CHECK(find_dead_centres(linkage, {0.9, 1.0}).size() == 1);
}

TEST_CASE("closable heights: a linkage that always closes reaches as far as its lower link", "[analytic]") {
    // |D| runs from 0 to 2; m = e = 1 closes for all of it.
    const std::vector<HeightRange> ranges = find_closable_heights(make_unit_linkage(1.0, 1.0));
    REQUIRE(ranges.size() == 1);
    CHECK(ranges[0].low == -1.0);
    CHECK(ranges[0].high == 1.0);
}

TEST_CASE("closable heights: a ball passing the upper pin leaves two ranges", "[analytic]") {
    // Upper pin (0.9, 0): |D| = 0.3 at cos = (1 + 0.81 - 0.09) / 1.8.
    const PlanarLinkage linkage{.lower_pivot = Point(0.0, 0.0),
                                .lower_length = 1.0,
                                .upper_pin = Point(0.9, 0.0),
                                .upper_length = 0.9,
                                .mast_pin = Point(0.0, 1.2)};
    const double cosine = 1.72 / 1.8;
    const double mark = std::sqrt(1.0 - cosine * cosine);
    const std::vector<HeightRange> ranges = find_closable_heights(linkage);
    REQUIRE(ranges.size() == 2);
    CHECK(ranges[0].low == -1.0);
    CHECK(ranges[0].high == Approx(-mark).epsilon(0).margin(1e-14));
    CHECK(ranges[1].low == Approx(mark).epsilon(0).margin(1e-14));
    CHECK(ranges[1].high == 1.0);
    const std::vector<DeadCentre> centres = find_dead_centres(linkage, {-1.0, 1.0});
    REQUIRE(centres.size() == 2);
    CHECK(centres[0].kind == DeadCentreKind::folded);
    CHECK(centres[1].kind == DeadCentreKind::folded);
}

TEST_CASE("closable heights: a link far too short or too long closes nowhere", "[analytic]") {
    CHECK(find_closable_heights(make_unit_linkage(5.0, 0.5)).empty());
    PlanarLinkage far = make_unit_linkage(0.1, 0.2);
    far.upper_pin = Point(0.0, 3.0);
    CHECK(find_closable_heights(far).empty());
    CHECK(find_dead_centres(far, {-1.0, 1.0}).empty());
}

TEST_CASE("closable heights: circles that only touch give one dead centre and no range", "[analytic]") {
    // Upper pin ahead at (-1, 0): |D| = 2 when the ball is straight behind, and nowhere more.
    PlanarLinkage linkage = make_unit_linkage(2.5, 0.5);
    linkage.upper_pin = Point(-1.0, 0.0);
    const std::vector<DeadCentre> centres = find_dead_centres(linkage, {-1.0, 1.0});
    REQUIRE(centres.size() == 1);
    CHECK(centres[0].kind == DeadCentreKind::folded);
    CHECK(std::abs(centres[0].height) < 1e-15);
    CHECK(find_closable_heights(linkage).empty());
}

TEST_CASE("closable heights: measures that are none give none", "[analytic]") {
    const double not_a_number = std::numeric_limits<double>::quiet_NaN();
    for (const double bad : {0.0, -0.5, not_a_number, std::numeric_limits<double>::infinity()}) {
        CAPTURE(bad);
        CHECK(find_closable_heights(make_unit_linkage(bad, 0.7)).empty());
        CHECK(find_dead_centres(make_unit_linkage(bad, 0.7), {-1.0, 1.0}).empty());
        PlanarLinkage linkage = make_unit_linkage(0.5, 0.7);
        linkage.lower_length = bad;
        CHECK(find_closable_heights(linkage).empty());
    }
    CHECK(find_closable_heights(make_unit_linkage(0.5, 0.0)).empty());
    CHECK(find_closable_heights(make_unit_linkage(0.5, not_a_number)).empty());
}

TEST_CASE("closable heights: the ranges are where the pose kernel closes", "[random][oracle]") {
    const unsigned seed = 20260108;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int partial = 0;
    int split = 0;
    for (int i = 0; i < 300; ++i) {
        PlanarLinkage linkage = make_random_linkage(random);
        linkage.upper_pin += Point(between(-0.4, 0.8), between(-0.6, 0.3));
        linkage.upper_length = between(0.1, 1.2);
        const std::vector<HeightRange> ranges = find_closable_heights(linkage);
        split += ranges.size() > 1 ? 1 : 0;
        const double bottom = linkage.lower_pivot.y() - linkage.lower_length;
        int closing = 0;
        for (int k = 1; k < 1000; ++k) {
            const double height = bottom + 2.0 * linkage.lower_length * k / 1000.0;
            const bool closes = solve_pose(linkage, height).closes;
            closing += closes ? 1 : 0;
            if (closes != is_in_any(ranges, height)) {
                CAPTURE(i, k, height);
                CHECK(closes == is_in_any(ranges, height));
            }
        }
        partial += closing > 0 && closing < 999 ? 1 : 0;
    }
    CHECK(partial > 100);
    CHECK(split > 5);
}

TEST_CASE("closable heights: just inside a range the pose closes, just outside the upper link is named", "[random]") {
    const unsigned seed = 20260109;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int ends = 0;
    for (int i = 0; i < 200; ++i) {
        PlanarLinkage linkage = make_random_linkage(random);
        linkage.upper_length = std::uniform_real_distribution<double>(0.2, 1.0)(random);
        for (const DeadCentre& centre : find_dead_centres(linkage, {-10.0, 10.0})) {
            ++ends;
            CAPTURE(i, centre.height);
            const bool above = find_pose_closure(linkage, centre.height + 1e-9).closes();
            const bool below = find_pose_closure(linkage, centre.height - 1e-9).closes();
            CHECK(above != below);
            CHECK(find_pose_closure(linkage, centre.height + (above ? -1e-6 : 1e-6)).part == LinkagePart::upper_link);
            // On it: the sine of mast and link vanishes with the root of the distance.
            const PlanarPose pose = solve_pose(linkage, centre.height + (above ? 1e-12 : -1e-12));
            REQUIRE(pose.closes);
            const DeadCentreDistance distance = find_dead_centre_distance(find_link_points(linkage, pose));
            CHECK(std::abs(distance.sine) < 1e-4);
            const double left = centre.kind == DeadCentreKind::stretched ? distance.to_stretched : distance.to_folded;
            CHECK(std::abs(left) < 1e-10);
        }
    }
    CHECK(ends > 100);
}

TEST_CASE("closable heights: linkage A keeps clear of its dead centres over its travel", "[golden]") {
    const std::vector<HeightRange> ranges = find_closable_heights(make_linkage_a());
    bool covered = false;
    for (const HeightRange& range : ranges) {
        covered = covered || (range.contains(0.2) && range.contains(0.95));
    }
    CHECK(covered);
    CHECK(find_dead_centres(make_linkage_a(), {0.2, 0.95}).empty());
}

TEST_CASE("closable heights: moved and scaled twins move and scale their ranges", "[metamorphic]") {
    const PlanarLinkage linkage = make_unit_linkage(0.5, 0.7);
    PlanarLinkage moved = linkage;
    moved.lower_pivot += Point(3.0, 0.5);
    moved.upper_pin += Point(3.0, 0.5);
    CHECK(find_closable_heights(moved)[0].low ==
          Approx(find_closable_heights(linkage)[0].low + 0.5).epsilon(0).margin(1e-14));
    const double k = 1.0 / 0.0254;
    const PlanarLinkage inches{.lower_pivot = k * linkage.lower_pivot,
                               .lower_length = k * linkage.lower_length,
                               .upper_pin = k * linkage.upper_pin,
                               .upper_length = k * linkage.upper_length,
                               .mast_pin = k * linkage.mast_pin};
    CHECK(find_closable_heights(inches)[0].high ==
          Approx(k * find_closable_heights(linkage)[0].high).epsilon(0).margin(1e-12));
}
