// How far lift rods tilt the hitch over heights and sways: against samples and against the search on interval jets.
#include "geometry/rod_tilt_range.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/bounded_extreme.h"
#include "geometry/dual.h"
#include "tests/geometry/random_space.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Samples over heights and sways; nothing where the rods do not reach one of them.
std::optional<HeightRange> sample(const SpaceSample& s, const HeightRange& heights, const HeightRange& sways) {
    constexpr int places = 60;
    HeightRange found{1.0, -1.0};
    for (int i = 0; i <= places; ++i) {
        for (int j = 0; j <= 4; ++j) {
            const double h = heights.low + (heights.high - heights.low) * i / places, y = sways.low + (sways.high - sways.low) * j / 4.0;
            const RodPose p = solve_on_rods(s.linkage, s.rods, h, y);
            if (!p.closes) return std::nullopt;
            found = {std::min(found.low, p.hitch.at.tilt_sine), std::max(found.high, p.hitch.at.tilt_sine)};
        }
    }
    return found;
}

}  // namespace

TEST_CASE("rod tilt range: random rods over heights and sways against samples", "[random]") {
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    constexpr double closeness = 3e-5;
    int looked = 0, found = 0;
    for (int i = 0; i < 400 && looked < 60; ++i) {
        CAPTURE(seed, i);
        SpaceSample s = make_random_space(random);
        s.rods.left_length += between(-0.02, 0.02);
        s.rods.right_length += between(-0.02, 0.02);
        const double z = s.linkage.side_view.lower_pivot.y(), low = z + between(-0.2, 0.0), wide = i % 3 == 0 ? 0.0 : between(0.005, 0.04);
        const HeightRange heights{low, low + between(0.1, 0.3)}, sways{-wide, wide};
        const std::optional<HeightRange> sampled = sample(s, heights, sways);
        if (!sampled) continue;
        ++looked;
        const std::optional<HeightRange> range = find_rod_tilt_range(s.linkage, s.rods, heights, sways, closeness);
        if (!range) continue;
        ++found;
        CAPTURE(range->low, range->high, sampled->low, sampled->high);
        CHECK(range->low <= sampled->low + 1e-12);
        CHECK(range->high >= sampled->high - 1e-12);
        // Of 60 heights one lies near the extreme: what the samples miss is far below the closeness.
        CHECK(sampled->low - range->low <= 2.0 * closeness);
        CHECK(range->high - sampled->high <= 2.0 * closeness);
    }
    CHECK(looked == 60);
    CHECK(found > 40);
}

TEST_CASE("rod tilt range: as the search on interval jets", "[oracle]") {
    SpaceSample s = make_space_a();
    s.rods.right_length += 0.03;
    const double z = s.linkage.side_view.lower_pivot.y();
    const HeightRange heights{z - 0.15, z + 0.2}, sways{-0.01, 0.02};
    constexpr double closeness = 1e-4;
    const std::optional<HeightRange> range = find_rod_tilt_range(s.linkage, s.rods, heights, sways, closeness);
    REQUIRE(range);
    const auto tilt = [&](const auto& x) {
        const SpatialJet f = enclose_rod_tilt(s.linkage, s.rods, {x[0].v, x[1].v, Interval(0.0), Interval(1.0)});
        std::decay_t<decltype(x[0])> r(f.v);
        for (std::size_t i = 0; i < r.d.size(); ++i) r.d[i] = f.d[i];
        return r;
    };
    const IntervalBox<2> box{Interval(heights.low, heights.high), Interval(sways.low, sways.high)};
    const auto least = find_minimum<2>(tilt, box, PlainCloseness{closeness}), most = find_maximum<2>(tilt, box, PlainCloseness{closeness});
    REQUIRE((least.converged && most.converged));
    CAPTURE(range->low, range->high, least.value, least.bound, most.value, most.bound);
    CHECK((range->low <= least.value && range->low >= least.bound - closeness));
    CHECK((range->high >= most.value && range->high <= most.bound + closeness));
}

TEST_CASE("rod tilt range: where rods do not reach, or nothing moves, nothing is said", "[analytic]") {
    const SpaceSample s = make_space_a();
    const double z = s.linkage.side_view.lower_pivot.y();
    CHECK_FALSE(find_rod_tilt_range(s.linkage, s.rods, {z - 0.9, z + 0.9}, {0.0, 0.0}, 1e-5));
    CHECK_FALSE(find_rod_tilt_range(s.linkage, s.rods, {z, z}, {0.0, 0.0}, 1e-5));
    const std::optional<HeightRange> level = find_rod_tilt_range(s.linkage, s.rods, {z - 0.1, z + 0.1}, {0.0, 0.0}, 1e-6);
    REQUIRE(level);
    CHECK((level->low <= 0.0 && level->low > -1e-6 && level->high >= 0.0 && level->high < 1e-6));
}

TEST_CASE("dual numbers: derivatives against differences", "[oracle]") {
    const auto f = [](const auto& x, const auto& y) {
        using std::sqrt;
        return 3.0 * x * y - square(x) / (y + 2.0) + sqrt(square(x) + 1.0) * (1.0 - y) - (x - 0.5) * 2.0 + clamped_sqrt(4.0 + x) - (-y);
    };
    constexpr double x = 0.7, y = -0.3, step = 1e-6;
    const Dual<double> by_x = f(Dual<double>(x, 1.0), Dual<double>(y, 0.0)), by_y = f(Dual<double>(x, 0.0), Dual<double>(y, 1.0));
    CHECK(by_x.v == Approx(f(x, y)).epsilon(1e-15));
    CHECK(by_x.d == Approx((f(x + step, y) - f(x - step, y)) / (2.0 * step)).epsilon(1e-8));
    CHECK(by_y.d == Approx((f(x, y + step) - f(x, y - step)) / (2.0 * step)).epsilon(1e-8));
}
