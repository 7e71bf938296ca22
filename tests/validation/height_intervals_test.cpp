// Heights inside a limit: the interval sets of 200 random set-ups against sampling by a second route (random_setup.h).
//
// source: none needed, the truth is computed: 1001 heights (201 with slack, where the worst of 31 link lengths is refined by
//   golden section). Every height that keeps the limit by more than 1e-9 must lie in an interval, none that breaks it may.
// tolerance: ends within a micrometre of the crossing.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

#include "geometry/angle.h"
#include "geometry/mounted_extremes.h"
#include "tests/validation/random_setup.h"

using namespace hitchwright;
using validation::RandomSetup;
using validation::Reference;
using validation::ReferencePose;

namespace {

constexpr double clear_margin = 1e-9;  // m, rad
constexpr double micrometre = 1e-6;

using Quantity = std::function<double(const ReferencePose&)>;

/// Greatest value of a quantity over the slack at one height.
class WorstOverSlack {
public:
    WorstOverSlack(const RandomSetup& r, Quantity quantity)
        : reference_(r.setup), lengths_(effective_upper_lengths(r.model)), quantity_(std::move(quantity)) {}

    double at(double height) const {
        if (lengths_.low == lengths_.high) return value(height, lengths_.low);
        constexpr int steps = 30;
        const double step = (lengths_.high - lengths_.low) / steps;
        int best = 0;
        double most = -1e300;
        for (int i = 0; i <= steps; ++i) {
            const double v = value(height, lengths_.low + i * step);
            if (v > most) {
                most = v;
                best = i;
            }
        }
        return std::max(most, refine(height, lengths_.low + std::max(best - 1, 0) * step,
                                     lengths_.low + std::min(best + 1, steps) * step));
    }

private:
    double value(double height, double length) const {
        const auto p = reference_.at(height, std::min(length, lengths_.high));
        if (!p) throw std::runtime_error("no pose in the travel box");
        return quantity_(*p);
    }
    /// Golden section between two lengths.
    double refine(double height, double a, double b) const {
        const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
        double most = -1e300;
        for (int i = 0; i < 45; ++i) {
            const double c = b - golden * (b - a), d = a + golden * (b - a);
            const double vc = value(height, c), vd = value(height, d);
            most = std::max({most, vc, vd});
            (vc > vd ? b : a) = vc > vd ? d : c;
        }
        return most;
    }

    Reference reference_;
    HeightRange lengths_;
    Quantity quantity_;
};

bool contains(const std::vector<HeightRange>& ranges, double h) {
    return std::any_of(ranges.begin(), ranges.end(), [h](const HeightRange& r) { return r.contains(h); });
}

/// A limit somewhere between the least and the greatest value, so that usually both sides occur.
struct Sampled {
    std::vector<double> heights, values;
    double limit = 0.0;
};
Sampled sample(const WorstOverSlack& worst, const HeightRange& travel, int steps, double share) {
    Sampled s;
    for (int i = 0; i <= steps; ++i) {
        s.heights.push_back(std::min(travel.low + (travel.high - travel.low) * i / steps, travel.high));
        s.values.push_back(worst.at(s.heights.back()));
    }
    const auto [least, greatest] = std::minmax_element(s.values.begin(), s.values.end());
    s.limit = *least + share * (*greatest - *least);
    return s;
}

void check_set(const std::vector<HeightRange>& found, const WorstOverSlack& worst, const Sampled& s, const HeightRange& travel) {
    int missed = 0, wrongly_in = 0;
    for (std::size_t i = 0; i < s.heights.size(); ++i) {
        const double margin = s.limit - s.values[i];
        const bool in = contains(found, s.heights[i]);
        missed += margin > clear_margin && !in;
        wrongly_in += margin < -clear_margin && in;
    }
    CHECK(missed == 0);
    CHECK(wrongly_in == 0);
    for (const HeightRange& r : found) {
        CAPTURE(r.low, r.high, s.limit);
        CHECK((travel.low <= r.low && r.low <= r.high && r.high <= travel.high));
        CHECK(worst.at(r.low) <= s.limit + clear_margin);
        CHECK(worst.at(r.high) <= s.limit + clear_margin);
        if (r.low - micrometre > travel.low) CHECK(worst.at(r.low - micrometre) > s.limit - clear_margin);
        if (r.high + micrometre < travel.high) CHECK(worst.at(r.high + micrometre) > s.limit - clear_margin);
    }
}

}  // namespace

TEST_CASE("height intervals: 200 random set-ups against sampling, joint angles and lengths", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed + 1);
    std::uniform_real_distribution<double> share(0.05, 0.95);
    std::size_t index = 0;
    int ranges = 0, several = 0;
    for (const RandomSetup& r : validation::make_random_setups(seed, 200)) {
        CAPTURE(index++, r.features.beside, r.features.wide_angle, r.features.slack, r.features.dead_centre);
        const TravelBox box = make_travel_box(r.model);
        const int steps = r.features.slack ? 200 : 1000;
        const auto check = [&](const Quantity& quantity, const std::function<std::vector<HeightRange>(double)>& search) {
            const WorstOverSlack worst(r, quantity);
            const Sampled s = sample(worst, box.heights, steps, share(random));
            const std::vector<HeightRange> found = search(s.limit);
            check_set(found, worst, s, box.heights);
            ranges += static_cast<int>(found.size());
            several += found.size() > 1;
        };
        check([](const ReferencePose& p) { return p.tractor_angle; },
              [&](double limit) { return find_heights_within_angle(r.model, box, JointEnd::tractor, limit); });
        check([](const ReferencePose& p) { return p.implement_angle; },
              [&](double limit) { return find_heights_within_angle(r.model, box, JointEnd::implement, limit); });
        check([](const ReferencePose& p) { return p.length; },
              [&](double limit) { return find_heights_shorter_than(r.model, box, limit); });
        check([](const ReferencePose& p) { return -p.length; },
              [&](double limit) { return find_heights_longer_than(r.model, box, -limit); });
    }
    CHECK(ranges > 500);
    CHECK(several > 15);
}

TEST_CASE("height intervals: limits nothing reaches and limits nothing keeps", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    for (const RandomSetup& r : validation::make_random_setups(seed, 20)) {
        const TravelBox box = make_travel_box(r.model);
        const ShaftExtremes e = find_shaft_extremes(r.model, box);
        const auto whole = find_heights_within_angle(r.model, box, JointEnd::tractor, e.tractor_angle.bound + 1e-6);
        REQUIRE(whole.size() == 1);
        CHECK(whole[0] == box.heights);
        CHECK(find_heights_shorter_than(r.model, box, e.shortest.bound - 1e-6).empty());
        CHECK(find_heights_longer_than(r.model, box, e.longest.bound + 1e-6).empty());
        REQUIRE(find_heights_longer_than(r.model, box, e.shortest.bound - 1e-6).size() == 1);
    }
}
