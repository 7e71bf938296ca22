// Bounded extremes and height intervals of 200 random set-ups against brute force by a second route (random_setup.h).
//
// source: none needed, the truth is computed: 20001 heights (2-D grid of 401 x 51 with slack), the best refined by golden
//   section (pattern search with slack); refined values are good to about 1e-12 m and 1e-8 rad.
// tolerance: a bound must not lie inside the sampled extreme, and within 0.01 mm and 0.001 deg of the refined one, as
//   promised; interval ends within a micrometre.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <iostream>

#include "geometry/angle.h"
#include "geometry/mounted_extremes.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/random_setup.h"

using namespace hitchwright;
using validation::RandomSetup;
using validation::Reference;
using validation::ReferencePose;

namespace {

constexpr int setups = 200;
constexpr double length_promise = 1e-5;                 // m
constexpr double angle_promise = 0.001 / 180.0 * pi;    // rad
constexpr double ripple_promise = 1.1e-4;               // of a speed ratio; the search asks for 1e-4
/// Rounding of the two routes against each other: lengths; angles near 0 come from a cosine in the kernel.
constexpr double length_rounding = 1e-11, angle_rounding = 1e-7;

using Quantity = double ReferencePose::*;
constexpr std::array<Quantity, 5> quantities{&ReferencePose::pitch, &ReferencePose::length, &ReferencePose::tractor_angle,
                                             &ReferencePose::implement_angle, &ReferencePose::non_uniformity};

struct Best {
    double value = 1e300;
    double height = 0.0, upper_length = 0.0;
};

/// Greatest (sign -1) and least (sign +1) of all quantities over a travel box.
class BruteForce {
public:
    BruteForce(const RandomSetup& r) : reference_(r.setup), box_(make_travel_box(r.model)) {
        const bool slack = box_.upper_lengths.low < box_.upper_lengths.high;
        const int rows = slack ? 400 : 20000, columns = slack ? 50 : 0;
        height_step_ = (box_.heights.high - box_.heights.low) / rows;
        length_step_ = slack ? (box_.upper_lengths.high - box_.upper_lengths.low) / columns : 0.0;
        for (int i = 0; i <= rows; ++i) {
            for (int k = 0; k <= columns; ++k) take(box_.heights.low + height_step_ * i, box_.upper_lengths.low + length_step_ * k);
        }
        sampled = best_;
        for (std::size_t q = 0; q < quantities.size(); ++q) {
            refine(q, 0);
            refine(q, 1);
        }
        refined = best_;
    }

    using Table = std::array<std::array<Best, 2>, quantities.size()>;  // [quantity][0 least, 1 greatest]; greatest negated
    Table sampled, refined;

private:
    void take(double h, double e) {
        h = std::clamp(h, box_.heights.low, box_.heights.high);
        e = std::clamp(e, box_.upper_lengths.low, box_.upper_lengths.high);
        const auto p = reference_.at(h, e);
        if (!p) throw std::runtime_error("no pose in the travel box");
        for (std::size_t q = 0; q < quantities.size(); ++q) {
            for (int sign = 0; sign < 2; ++sign) {
                const double v = (sign == 0 ? 1.0 : -1.0) * (*p).*quantities[q];
                Best& best = best_[q][static_cast<std::size_t>(sign)];
                if (v < best.value) best = {v, h, e};
            }
        }
    }

    /// Pattern search around the best node: steps of the grid, halved when nothing is better.
    void refine(std::size_t q, std::size_t sign) {
        Best& best = best_[q][sign];
        double dh = height_step_, de = length_step_;
        while (dh > 1e-10 || de > 1e-10) {
            const double before = best.value;
            const Best at = best;
            for (const double i : {-1.0, 0.0, 1.0}) {
                for (const double k : {-1.0, 0.0, 1.0}) {
                    if (de == 0.0 && k != 0.0) continue;
                    take(at.height + i * dh, at.upper_length + k * de);
                }
            }
            if (best.value < before) continue;
            dh *= 0.5;
            de *= 0.5;
        }
    }

    Reference reference_;
    TravelBox box_;
    double height_step_ = 0.0, length_step_ = 0.0;
    Table best_{};
};

/// A reported least: bound at or below what was sampled, near the refined; value attained where it says.
struct Promise {
    double promise, rounding;
};

class Judge {
public:
    void check(const TravelExtreme& e, double sampled, double refined, const Promise& p, bool greatest) {
        const double sign = greatest ? -1.0 : 1.0;
        const double bound = sign * e.bound, value = sign * e.value;
        CAPTURE(greatest, e.bound, e.value, sign * sampled, sign * refined, e.height, e.upper_length, e.evaluations);
        CHECK(e.converged);
        CHECK(bound <= sampled + p.rounding);
        CHECK(bound <= refined + p.rounding);
        CHECK(refined - bound < p.promise);
        CHECK(value >= bound);
        CHECK(value >= refined - p.rounding);
        if (p.promise != ripple_promise) widest = std::max(widest, (refined - bound) / p.promise);
        evaluations.push_back(e.evaluations);
    }
    double widest = 0.0;  ///< share of the promise used, lengths and angles
    std::vector<int> evaluations;
};

std::string summary(std::vector<int> counts) {
    std::sort(counts.begin(), counts.end());
    return "median " + std::to_string(counts[counts.size() / 2]) + ", most " + std::to_string(counts.back());
}

}  // namespace

TEST_CASE("mounted extremes: bounds of 200 random set-ups against brute force, both signs", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Judge rigid, slack;
    int wide = 0, dead = 0;
    std::size_t index = 0;
    for (const RandomSetup& r : validation::make_random_setups(seed, setups)) {
        CAPTURE(index++, r.features.beside, r.features.wide_angle, r.features.slack, r.features.dead_centre);
        const BruteForce brute(r);
        Judge& judge = r.features.slack ? slack : rigid;
        const TravelBox box = make_travel_box(r.model);
        const PitchExtremes pitch = find_pitch_extremes(r.model, box);
        const ShaftExtremes shaft = find_shaft_extremes(r.model, box);
        const auto check = [&](const TravelExtreme& e, std::size_t q, bool greatest, const Promise& p) {
            judge.check(e, brute.sampled[q][greatest].value, brute.refined[q][greatest].value, p, greatest);
        };
        const Promise length{length_promise, length_rounding}, angle{angle_promise, angle_rounding};
        check(pitch.least, 0, false, angle);
        check(pitch.greatest, 0, true, angle);
        check(shaft.shortest, 1, false, length);
        check(shaft.longest, 1, true, length);
        check(shaft.tractor_angle, 2, true, angle);
        check(shaft.implement_angle, 3, true, angle);
        check(shaft.non_uniformity, 4, true, {ripple_promise, 1e-9});
        wide += r.features.wide_angle;
        dead += r.features.dead_centre;
    }
    CHECK((wide > 30 && dead > 20 && slack.evaluations.size() > 200));
    std::cout << "bounded extremes, evaluations: rigid " << summary(rigid.evaluations) << "; slack "
              << summary(slack.evaluations) << "; share of the promised error used: rigid " << rigid.widest << ", slack "
              << slack.widest << std::endl;
}

TEST_CASE("mounted extremes: a parallelogram with parallel shafts, by hand", "[analytic]") {
    // Links of 1 m, 0.6 m apart, pivot at (0, 0.5): the implement stays level and the ripple of the Z shaft vanishes.
    Setup s = hitchwright::test::make_setup_a();
    s.tractor.lower_link = hitchwright::test::make_lower_link(0.0, 0.5, 1.0, 0.3, 0.3);
    s.tractor.upper_link_pins = {{"1", hitchwright::test::known(0.0), hitchwright::test::known(1.1)}};
    s.implement.mast_pins = {{"1", hitchwright::test::known(0.6), hitchwright::test::known(0.0)}};
    s.tractor.travel = {hitchwright::test::known(0.2), hitchwright::test::known(0.9)};
    s.choices.upper_link_length = hitchwright::test::known(1.0);
    const MountedModelResult built = make_mounted_model(s);
    REQUIRE(built.linkage_obstacles.empty());
    const TravelBox box = make_travel_box(built.model);
    const PitchExtremes pitch = find_pitch_extremes(built.model, box);
    CHECK((pitch.least.converged && pitch.greatest.converged));
    CHECK((pitch.least.bound <= 1e-14 && pitch.least.bound > -angle_promise));
    CHECK((pitch.greatest.bound >= -1e-14 && pitch.greatest.bound < angle_promise));
    const ShaftExtremes e = find_shaft_extremes(built.model, box);
    // Joint centres (0.38, 0.6) and ball + (0.47, 0.25): the distance grows with the ball all the way.
    const double shortest = std::hypot(std::sqrt(0.91) + 0.09, -0.3 + 0.15), longest = std::hypot(std::sqrt(0.84) + 0.09, 0.4 + 0.15);
    CHECK(std::fabs(e.shortest.bound - shortest) < length_promise);
    CHECK(e.shortest.bound <= shortest + 1e-15);
    CHECK(std::fabs(e.longest.bound - longest) < length_promise);
    CHECK(e.longest.bound >= longest - 1e-15);
    const double angle = std::atan2(0.55, std::sqrt(0.84) + 0.09);
    CHECK(std::fabs(e.tractor_angle.bound - angle) < angle_promise);
    CHECK(std::fabs(e.implement_angle.bound - angle) < angle_promise);
    CHECK(e.tractor_angle.height == 0.9);
    CHECK(e.non_uniformity.converged);
    CHECK(e.non_uniformity.bound < ripple_promise);
    CHECK(e.non_uniformity.evaluations < 5000);
}
