// Extremes and heights from panels of Taylor models against samples and against the search on interval jets.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
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

/// Long doubles as a scalar of the pose kernel.
struct Exact {
    long double v;
    Exact(long double value) : v(value) {}  // NOLINT
};
Exact operator+(Exact a, Exact b) { return a.v + b.v; }
Exact operator-(Exact a) { return -a.v; }
Exact operator-(Exact a, Exact b) { return a.v - b.v; }
Exact operator*(Exact a, Exact b) { return a.v * b.v; }
Exact operator/(Exact a, Exact b) { return a.v / b.v; }
Exact sqrt(Exact a) { return std::sqrt(a.v); }
Exact square(Exact a) { return a.v * a.v; }
Exact clamped_sqrt(Exact a) { return std::sqrt(std::max(a.v, 0.0L)); }

/// The quantities of plain joints.
std::array<long double, 4> solve_exactly(const PlanarLinkage& linkage, const Quantities& q, double h) {
    const KernelPose<Exact> pose = solve_kernel<Exact>(linkage, static_cast<long double>(h), static_cast<long double>(linkage.upper_length));
    const Vec3<Exact> v = detail::place_in_space(pose, q.ends.implement_joint) - detail::lift<Exact>(q.ends.tractor_joint);
    const Exact length = sqrt(square(v.x) + square(v.y) + square(v.z));
    return {length.v, (dot(detail::lift<Exact>(q.ends.stub_axis), v) / length).v,
            (dot(detail::turn_in_space(pose, q.ends.input_axis), v) / length).v, (pose.ball.z + pose.mast_arm.z).v};
}

/// `slack`: what the reference itself is off by: a last digit, and more of them at a dead centre.
void check_extremes(const PlanarLinkage& linkage, const Quantities& q, TravelPanels<4, Quantities>& panels,
                    const HeightRange& heights, long double slack = 1e-17L) {
    std::array<long double, 4> sampled_least, sampled_most;
    sampled_least.fill(1e9L), sampled_most.fill(-1e9L);
    for (int i = 0; i <= 2000; ++i) {
        const std::array<long double, 4> v = solve_exactly(linkage, q, std::min(heights.low + (heights.high - heights.low) * i / 2000.0, heights.high));
        for (std::size_t k = 0; k < 4; ++k) {
            REQUIRE(std::isfinite(v[k]));
            sampled_least[k] = std::min(sampled_least[k], v[k]);
            sampled_most[k] = std::max(sampled_most[k], v[k]);
        }
    }
    for (std::size_t k = 0; k < 4; ++k) {
        CAPTURE(k, heights.low, heights.high);
        const TravelExtreme least = panels.find_least(k, heights, close_enough), most = panels.find_greatest(k, heights, close_enough);
        CHECK((least.converged && most.converged));
        const long double over = static_cast<long double>(least.bound) - sampled_least[k], under = sampled_most[k] - static_cast<long double>(most.bound);
        CAPTURE(static_cast<double>(over), static_cast<double>(under));
        CHECK((over <= slack && under <= slack));
        CHECK((least.value - least.bound <= 1e-7 && most.bound - most.value <= 1e-7));
        CHECK((static_cast<double>(sampled_least[k]) >= least.value - 1e-7 && static_cast<double>(sampled_most[k]) <= most.value + 1e-7));
        CHECK((heights.contains(least.height) && heights.contains(most.height)));
        CHECK(std::fabs(static_cast<long double>(least.value) - solve_exactly(linkage, q, least.height)[k]) < 1e-8L);
        CHECK(std::fabs(static_cast<long double>(most.value) - solve_exactly(linkage, q, most.height)[k]) < 1e-8L);
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
            const long double slack = margin < 1e-6 ? 1e-13L : 1e-16L;
            check_extremes(linkage, q, panels, heights, slack);
            const double a = heights.low + share(random) * (heights.high - heights.low);
            check_extremes(linkage, q, panels, {std::min(a, heights.high), heights.high}, slack);
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

namespace {

/// Every question at once: no answer but that there is none, and soon.
void check_unknown(const PlanarLinkage& linkage, const Quantities& q, const HeightRange& travel, const HeightRange& asked) {
    constexpr double infinite = std::numeric_limits<double>::infinity();
    TravelPanels<4, Quantities> panels(linkage, make_box(linkage, travel), q);
    for (const std::size_t k : {0u, 1u, 2u}) {
        CAPTURE(k);
        const TravelExtreme least = panels.find_least(k, asked, close_enough);
        CHECK((least.value == infinite && least.bound == -infinite && !least.converged));
        const TravelExtreme most = panels.find_greatest(k, asked, close_enough);
        // That a shaft is as long as it is high may still show.
        CHECK((most.bound == infinite && !most.converged));
        CHECK(std::max(least.evaluations, most.evaluations) <= evaluation_limit + 10);
        CHECK(panels.find_not_above(k, 0.9).empty());
        CHECK(panels.find_not_below(k, 0.9).empty());
        // Two sets of heights and an extreme; a search on jets that has begun is brought to its end.
        CHECK(panels.find_least(k, asked, close_enough).evaluations <= 5 * evaluation_limit);
    }
}

}  // namespace

TEST_CASE("panels: of what is not a number nothing is known, and that soon", "[analytic]") {
    constexpr double none = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();
    const HeightRange travel{0.2, 0.85};
    const PlanarLinkage sound = make_linkage_a();
    SECTION("a joint of the implement") {
        Quantities q = make_quantities();
        for (const double x : {none, infinite}) {
            q.ends.implement_joint.x = x;
            check_unknown(sound, q, travel, travel);
            check_unknown(sound, q, travel, {0.3, 0.3});
        }
        q.ends.wide_angle = WideAngleEnd::implement, q.ends.spacing = 0.09;
        CHECK_FALSE(TravelPanels<4, Quantities>(sound, make_box(sound, travel), q).find_least(0, travel, close_enough).converged);
    }
    SECTION("a length or a point of the linkage") {
        for (double PlanarLinkage::*member : {&PlanarLinkage::upper_length, &PlanarLinkage::lower_length}) {
            PlanarLinkage k = sound;
            k.*member = none;
            check_unknown(k, make_quantities(), travel, travel);
        }
        for (Point PlanarLinkage::*member : {&PlanarLinkage::lower_pivot, &PlanarLinkage::upper_pin, &PlanarLinkage::mast_pin}) {
            PlanarLinkage k = sound;
            (k.*member).x() = none;
            check_unknown(k, make_quantities(), travel, travel);
        }
    }
    SECTION("the travel, or the heights asked for") {
        check_unknown(sound, make_quantities(), {0.2, infinite}, {0.2, infinite});
        check_unknown(sound, make_quantities(), {0.2, infinite}, {0.3, 0.5});
        check_unknown(sound, make_quantities(), {none, 0.8}, {none, 0.8});
        const Quantities q = make_quantities();
        TravelPanels<4, Quantities> panels(sound, make_box(sound, travel), q);
        CHECK_FALSE(panels.find_least(0, {0.3, none}, close_enough).converged);
    }
}

TEST_CASE("panels: a question that is never close enough is given up with a bound that holds", "[analytic]") {
    const PlanarLinkage linkage = make_linkage_a();
    const Quantities q = make_quantities();
    const HeightRange travel{0.2, 0.85};
    TravelPanels<4, Quantities> panels(linkage, make_box(linkage, travel), q);
    const TravelExtreme exact = panels.find_least(0, travel, close_enough);
    const TravelExtreme e = panels.find_least(0, travel, [](double, double) { return false; });
    CHECK_FALSE(e.converged);
    CHECK(e.evaluations <= evaluation_limit + 10);
    CHECK((e.bound <= exact.value && e.bound >= exact.bound - 1e-9 && e.value <= exact.value + 1e-9));
}
