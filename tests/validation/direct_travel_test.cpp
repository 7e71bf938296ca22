// The curve between direct readings, on random machines by the second route of random_setup.h: how far it is off.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <vector>

#include "geometry/direct_travel.h"
#include "tests/validation/random_setup.h"

using namespace hitchwright;

TEST_CASE("direct travel: three readings give both ends to three sixteenths of an inch for 19 of 20 random machines", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> middle(0.35, 0.65);
    std::vector<double> off;
    constexpr int machines = 400, steps = 400;
    for (int i = 0; i < machines; ++i) {
        const validation::RandomSetup r = validation::make_random_setup(random, {i % 2 == 1, false, false, false});
        const validation::Reference reference(r.setup);
        const double low = r.model.travel.low, range = r.model.travel.high - low, e = r.model.linkage.upper_length;
        const auto length = [&](double share) { return reference.at(low + share * range, e)->length; };
        std::vector<DirectPoint> points;
        for (const double share : {0.0, middle(random), 1.0}) points.push_back({low + share * range, length(share), 0.0, 0.0});
        const DirectTravel t = fit_direct_points(points);
        REQUIRE(t.status == DirectStatus::ok);
        double shortest = length(0.0), longest = shortest;
        for (int k = 1; k <= steps; ++k) {
            shortest = std::min(shortest, length(static_cast<double>(k) / steps));
            longest = std::max(longest, length(static_cast<double>(k) / steps));
        }
        off.push_back(std::max(std::fabs(t.shortest.length - shortest), std::fabs(t.longest.length - longest)));
    }
    std::sort(off.begin(), off.end());
    const auto within = static_cast<std::size_t>(std::count_if(off.begin(), off.end(), [](double x) { return x <= curve_allowance; }));
    std::cout << "direct readings, off at either end: median " << 1e3 * off[off.size() / 2] << " mm, 95 % "
              << 1e3 * off[off.size() * 95 / 100] << " mm, most " << 1e3 * off.back() << " mm" << std::endl;
    CHECK(within >= off.size() * 95 / 100);
}
