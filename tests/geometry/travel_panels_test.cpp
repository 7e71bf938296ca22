// Extremes and heights from panels of Taylor models against samples and against the search on interval jets.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/closable_heights.h"
#include "geometry/shaft_kernel.h"
#include "geometry/travel_panels.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Length and cosines of a shaft, and the height of the mast pin.
struct Quantities {
    DrivelineEnds ends;

    template <class T>
    std::array<T, 4> operator()(const KernelPose<T>& pose) const {
        const ShaftState<T> s = find_shaft_state(ends, pose);
        return {s.length, s.cos_tractor_joint, s.cos_implement_joint, pose.ball.z + pose.mast_arm.z};
    }
};

Quantities make_quantities() {
    Quantities q;
    q.ends.tractor_joint = {0.35, 0.02, 0.60};
    q.ends.implement_joint = {0.50, 0.0, 0.25};
    return q;
}

TravelBox make_box(const PlanarLinkage& linkage, const HeightRange& heights) {
    return {heights, {linkage.upper_length, linkage.upper_length}};
}

const PlainCloseness close_enough{1e-7};

double value_at(const PlanarLinkage& linkage, const Quantities& q, std::size_t k, double h) {
    return q(solve_kernel<double>(linkage, h, linkage.upper_length))[k];
}

void check_extremes(const PlanarLinkage& linkage, const Quantities& q, TravelPanels<4, Quantities>& panels,
                    const HeightRange& heights) {
    for (std::size_t k = 0; k < 4; ++k) {
        CAPTURE(k, heights.low, heights.high);
        const TravelExtreme least = panels.find_least(k, heights, close_enough), most = panels.find_greatest(k, heights, close_enough);
        double sampled_least = 1e9, sampled_most = -1e9;
        for (int i = 0; i <= 2000; ++i) {
            const double v = value_at(linkage, q, k, std::min(heights.low + (heights.high - heights.low) * i / 2000.0, heights.high));
            sampled_least = std::min(sampled_least, v);
            sampled_most = std::max(sampled_most, v);
        }
        CHECK((least.converged && most.converged));
        // 1e-8: what the kernel in doubles is off by at a dead centre.
        CHECK((least.bound <= sampled_least + 1e-8 && most.bound >= sampled_most - 1e-8));
        CHECK((least.value - least.bound <= 1e-7 && most.bound - most.value <= 1e-7));
        CHECK((least.value <= sampled_least + 1e-7 && most.value >= sampled_most - 1e-7));
        CHECK((heights.contains(least.height) && heights.contains(most.height)));
        CHECK(std::fabs(least.value - value_at(linkage, q, k, least.height)) < 1e-8);
        CHECK(std::fabs(most.value - value_at(linkage, q, k, most.height)) < 1e-8);
    }
}

}  // namespace

TEST_CASE("panels: an ordinary travel takes three evaluations for all extremes", "[oracle]") {
    const PlanarLinkage linkage = make_linkage_a();
    const Quantities q = make_quantities();
    TravelPanels<4, Quantities> panels(linkage, make_box(linkage, {0.2, 0.85}), q);
    CHECK(panels.find_least(0, {0.2, 0.85}, close_enough).evaluations == 3);
    CHECK(panels.find_greatest(1, {0.3, 0.31}, close_enough).evaluations == 0);
    check_extremes(linkage, q, panels, {0.2, 0.85});
    check_extremes(linkage, q, panels, {0.28, 0.45});
    check_extremes(linkage, q, panels, {0.849999, 0.85});
    check_extremes(linkage, q, panels, {0.4, 0.4});
    TravelPanels<4, Quantities> point(linkage, make_box(linkage, {0.5, 0.5}), q);
    check_extremes(linkage, q, point, {0.5, 0.5});
    CHECK(point.find_not_above(3, 2.0).size() == 1);
    CHECK(point.find_not_below(3, 2.0).empty());
}

TEST_CASE("panels: random linkages, also up to their dead centres", "[random]") {
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    const Quantities q = make_quantities();
    std::uniform_real_distribution<double> share(0.0, 1.0);
    int searched = 0;
    for (int i = 0; i < 60; ++i) {
        const PlanarLinkage linkage = make_random_linkage(random);
        for (const HeightRange& r : find_closable_heights(linkage)) {
            // Some a hair from the dead centre, some 10 mm: the lower link upright is one end of the range too.
            const double margin = i % 3 == 0 ? 1e-9 : i % 3 == 1 ? 1e-3 : 1e-2;
            const HeightRange heights{std::max(r.low, linkage.lower_pivot.y() - 0.8 * linkage.lower_length) + margin,
                                      std::min(r.high, linkage.lower_pivot.y() + 0.8 * linkage.lower_length) - margin};
            if (heights.high - heights.low < 0.05) continue;
            CAPTURE(seed, i, r.low, r.high);
            TravelPanels<4, Quantities> panels(linkage, make_box(linkage, heights), q);
            check_extremes(linkage, q, panels, heights);
            const double a = heights.low + share(random) * (heights.high - heights.low);
            check_extremes(linkage, q, panels, {std::min(a, heights.high), heights.high});
            ++searched;
        }
    }
    CHECK(searched > 40);
}

TEST_CASE("panels: heights inside a limit as the search on jets finds them", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    const Quantities q = make_quantities();
    std::uniform_real_distribution<double> share(-0.1, 1.1);
    int ranges = 0;
    for (int i = 0; i < 40; ++i) {
        const PlanarLinkage linkage = make_random_linkage(random);
        const std::vector<HeightRange> closable = find_closable_heights(linkage);
        if (closable.size() != 1) continue;
        const HeightRange heights{closable[0].low + 0.02, closable[0].high - 0.02};
        const TravelBox box = make_box(linkage, heights);
        TravelPanels<4, Quantities> panels(linkage, box, q);
        for (std::size_t k = 0; k < 4; ++k) {
            const double least = panels.find_least(k, heights, close_enough).value, most = panels.find_greatest(k, heights, close_enough).value;
            const double limit = least + share(random) * (most - least);
            const auto quantity = [&](const auto& pose) { return q(pose)[k]; };
            const std::vector<HeightRange> expected = find_heights_inside(linkage, box, quantity, limit), found = panels.find_not_above(k, limit);
            CAPTURE(seed, i, k, limit);
            REQUIRE(found.size() == expected.size());
            for (std::size_t j = 0; j < found.size(); ++j) {
                CHECK(std::fabs(found[j].low - expected[j].low) < 2e-9);
                CHECK(std::fabs(found[j].high - expected[j].high) < 2e-9);
                ++ranges;
            }
        }
    }
    CHECK(ranges > 40);
}
