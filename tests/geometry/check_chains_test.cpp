// Check chains against a search along the sway with the chain's length taken from the places of the pins.
#include "geometry/check_chains.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <utility>

#include "geometry/space_study.h"
#include "tests/geometry/random_space.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// How much longer the straight way between a chain's pins is than the chain; nothing beyond the links' reach.
std::optional<double> find_lack(const SpaceSample& s, TractorSide side, double height, double sway, double tilt) {
    const SpatialSolution p = solve_spatial_pose(s.linkage, {height, sway, tilt});
    if (!p.reached) return std::nullopt;
    const bool right = side == TractorSide::right;
    const double sign = right ? 1.0 : -1.0, share = s.chains.pin_along / s.linkage.lower_length;
    const Vec3<double> pivot{s.linkage.side_view.lower_pivot.x(), sign * s.linkage.half_spread_at_pivot, s.linkage.side_view.lower_pivot.y()};
    const Vec3<double>& ball = right ? p.right_ball : p.left_ball;
    const Vec3<double> pin{(1.0 - share) * pivot.x + share * ball.x, (1.0 - share) * pivot.y + share * ball.y, (1.0 - share) * pivot.z + share * ball.z};
    return find_distance(pin, {s.chains.anchor_x, sign * s.chains.anchor_half_spread, s.chains.anchor_z}) - (right ? s.chains.right_length : s.chains.left_length);
}

/// The sway nearest to the middle at which a chain comes taut on the way to one side, by steps of 1 mm and halving.
std::optional<double> find_limit_by_hand(const SpaceSample& s, TractorSide side, double towards, double height, double tilt, double most = 0.5) {
    double slack_at = 0.0;
    const std::optional<double> centred = find_lack(s, side, height, 0.0, tilt);
    if (!centred) return std::nullopt;
    const double way = *centred > 0.0 ? -towards : towards;  // taut before it is centred: the limit lies on the other side
    for (double d = 0.001; d < most; d += 0.001) {
        const std::optional<double> lack = find_lack(s, side, height, way * d, tilt);
        if (!lack) return std::nullopt;
        if ((*lack > 0.0) == (*centred > 0.0)) {
            slack_at = way * d;
            continue;
        }
        double a = slack_at, b = way * d;
        for (int i = 0; i < 60; ++i) {
            const double middle = 0.5 * (a + b);
            ((*find_lack(s, side, height, middle, tilt) > 0.0) == (*centred > 0.0) ? a : b) = middle;
        }
        return 0.5 * (a + b);
    }
    return std::nullopt;
}

void check_limit(const std::optional<double>& found, const std::optional<double>& by_hand) {
    CAPTURE(found.value_or(99.0), by_hand.value_or(99.0));
    CHECK(found.has_value() == by_hand.has_value());
    if (found && by_hand) CHECK(std::fabs(*found - *by_hand) < 1e-9);
}

/// Linkage A as a set-up with chains that come taut at a sway, level at a height.
Setup make_chained_setup(double height, double sway) {
    Setup s = make_setup_a();
    const SpaceSample a = make_space_a();
    const double length = find_taut_length(a.linkage, a.chains, height, sway, TractorSide::right);
    s.tractor.check_chain = {known(a.chains.anchor_x), known(a.chains.anchor_half_spread), known(a.chains.anchor_z), known(a.chains.pin_along), known(length)};
    return s;
}

MountedModel model_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    for (const ModelObstacle& o : r.linkage_obstacles) UNSCOPED_INFO(o.key);
    REQUIRE(r.linkage_ok);
    return r.model;
}

}  // namespace

TEST_CASE("check chains: limits of random linkages by a search along the sway", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int limits = 0, wrong_side = 0;
    for (int i = 0; i < 300; ++i) {
        const SpaceSample s = make_random_space(random);
        const double h = s.linkage.side_view.lower_pivot.y() + between(-0.35, 0.35), tilt = i % 2 == 0 ? 0.0 : between(-0.1, 0.1);
        const SwayLimits l = find_sway_limits(s.linkage, s.chains, h, tilt);
        CAPTURE(i, h, tilt);
        REQUIRE(find_limiting_chain(s.linkage, s.chains, h, TractorSide::right) == TractorSide::right);
        REQUIRE(find_limiting_chain(s.linkage, s.chains, h, TractorSide::left) == TractorSide::left);
        check_limit(l.right, find_limit_by_hand(s, TractorSide::right, 1.0, h, tilt));
        check_limit(l.left, find_limit_by_hand(s, TractorSide::left, -1.0, h, tilt));
        if (l.right) ++limits;
        if (l.right && *l.right < 0.0) ++wrong_side;
        // The other way round.
        CheckChains mirrored = s.chains;
        std::swap(mirrored.left_length, mirrored.right_length);
        const SwayLimits m = find_sway_limits(s.linkage, mirrored, h, -tilt);
        REQUIRE(m.left.has_value() == l.right.has_value());
        if (l.right) CHECK(std::fabs(*m.left + *l.right) < 1e-11);
        if (l.left && m.right) CHECK(std::fabs(*m.right + *l.left) < 1e-11);
    }
    CHECK(limits > 250);
    CHECK(wrong_side > 5);
}

TEST_CASE("check chains: anchored outside the links each tightens as the hitch leaves it", "[oracle]") {
    SpaceSample s = make_space_a();
    s.chains = {0.30, 0.55, 0.45, 0.70, 0.0, 0.0};
    s.chains.left_length = find_taut_length(s.linkage, s.chains, 0.5, 0.03, TractorSide::left);
    s.chains.right_length = find_taut_length(s.linkage, s.chains, 0.5, -0.04, TractorSide::right);
    CHECK(find_limiting_chain(s.linkage, s.chains, 0.5, TractorSide::right) == TractorSide::left);
    CHECK(find_limiting_chain(s.linkage, s.chains, 0.5, TractorSide::left) == TractorSide::right);
    const SwayLimits l = find_sway_limits(s.linkage, s.chains, 0.5, 0.0);
    CHECK(l.right.value() == Approx(0.03).margin(1e-10));
    CHECK(l.left.value() == Approx(-0.04).margin(1e-10));
    for (const double h : {0.2, 0.4, 0.7, 0.9}) {
        const SwayLimits at = find_sway_limits(s.linkage, s.chains, h, 0.05);
        check_limit(at.right, find_limit_by_hand(s, TractorSide::left, 1.0, h, 0.05));
        check_limit(at.left, find_limit_by_hand(s, TractorSide::right, -1.0, h, 0.05));
    }
}

TEST_CASE("check chains: one that never comes taut sets no limit", "[analytic]") {
    SpaceSample s = make_space_a();
    for (const double length : {1.0, 1.5, 3.0, 10.0}) {
        CAPTURE(length);
        s.chains.left_length = s.chains.right_length = length;
        for (const double h : {0.25, 0.5, 0.8}) {
            // Longer than any distance between its pins.
            const SwayLimits l = find_sway_limits(s.linkage, s.chains, h, 0.0);
            CAPTURE(h, l.left.value_or(99.0), l.right.value_or(99.0));
            CHECK_FALSE(l.left);
            CHECK_FALSE(l.right);
        }
    }
    // Pinned at the link's pivot it keeps its length.
    s.chains.pin_along = 0.0;
    s.chains.left_length = s.chains.right_length = 0.2;
    CHECK_FALSE(find_limiting_chain(s.linkage, s.chains, 0.5, TractorSide::right));
    CHECK_FALSE(find_sway_limits(s.linkage, s.chains, 0.5, 0.0).left);
    // Out of reach, and without sense.
    s = make_space_a();
    s.chains.left_length = s.chains.right_length = 0.65;
    CHECK_FALSE(find_sway_limits(s.linkage, s.chains, 2.0, 0.0).right);
    CHECK_FALSE(find_sway_limits(s.linkage, s.chains, std::numeric_limits<double>::quiet_NaN(), 0.0).right);
    CHECK_FALSE(find_sway_limits(s.linkage, s.chains, 0.5, std::numeric_limits<double>::infinity()).right);
    s.chains.right_length = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(find_sway_limits(s.linkage, s.chains, 0.5, 0.0).right);
}

TEST_CASE("check chains: a limit found is one where the chain is taut", "[random][residual]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    for (int i = 0; i < 500; ++i) {
        SpaceSample s = make_random_space(random);
        s.chains.right_length *= between(0.7, 1.6);
        const double h = s.linkage.side_view.lower_pivot.y() + between(-0.3, 0.3);
        const SwayLimits l = find_sway_limits(s.linkage, s.chains, h, 0.0);
        if (!l.right) continue;
        CAPTURE(i, *l.right);
        const std::optional<double> lack = find_lack(s, TractorSide::right, h, *l.right, 0.0);
        REQUIRE(lack);
        REQUIRE(std::fabs(*lack) < 1e-9);
    }
}

TEST_CASE("check chains: the limit over heights and tilts of a box, with slopes, against samples", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int boxes = 0, narrow = 0, bounded = 0;
    while (boxes < 300) {
        const SpaceSample s = make_random_space(random);
        const double half = std::pow(10.0, between(-6.0, -0.8)), h = s.linkage.side_view.lower_pivot.y() + between(-0.25, 0.25), t = between(-0.08, 0.08);
        if (!find_sway_limits(s.linkage, s.chains, h, t).right) continue;
        const SpatialBox box{Interval(h - half, h + half), Interval(0.0), Interval(t - half, t + half), Interval(1.0)};
        const SpatialJet limit = enclose_sway_limit(s.linkage, s.chains, TractorSide::right, box);
        CAPTURE(half, h, t, limit.v.lo, limit.v.hi);
        REQUIRE(limit.v.lo <= limit.v.hi);
        const auto at = [&](double height, double tilt) { return find_sway_limits(s.linkage, s.chains, height, tilt).right; };
        for (int n = 0; n < 20; ++n) {
            const double hn = between(h - half, h + half), tn = between(t - half, t + half);
            const std::optional<double> sway = at(hn, tn);
            if (!sway) continue;
            REQUIRE(limit.v.lo - 1e-12 <= *sway);
            REQUIRE(*sway <= limit.v.hi + 1e-12);
            constexpr double step = 1e-5;
            const auto up = at(hn + step, tn), down = at(hn - step, tn), more = at(hn, tn + step), less = at(hn, tn - step);
            if (!up || !down || !more || !less || half < 1e-4) continue;
            const double by_height = (*up - *down) / (2.0 * step), by_tilt = (*more - *less) / (2.0 * step);
            CAPTURE(by_height, by_tilt, limit.d[0].lo, limit.d[0].hi, limit.d[2].lo, limit.d[2].hi);
            const double slack = 1e-5 * (1.0 + std::fabs(by_height) + std::fabs(by_tilt));
            REQUIRE(limit.d[0].lo - slack <= by_height);
            REQUIRE(by_height <= limit.d[0].hi + slack);
            REQUIRE(limit.d[2].lo - slack <= by_tilt);
            REQUIRE(by_tilt <= limit.d[2].hi + slack);
        }
        if (half < 1e-4) {
            ++narrow;
            if (limit.v.width() < 20.0 * half + 1e-10) ++bounded;
        }
        ++boxes;
    }
    CHECK(narrow > 50);
    CHECK(bounded > 0.9 * narrow);
}

TEST_CASE("check chains: too short they stop the lift, at the heights of a fine grid", "[oracle]") {
    int some = 0;
    const std::pair<double, double> tight[] = {{0.25, 0.0005}, {0.30, 0.0005}, {0.60, 0.0005}, {0.85, 0.0005}, {0.5, 0.05}, {0.5, 0.20}};
    for (const auto& [tight_at, play] : tight) {
        CAPTURE(tight_at, play);
        const Setup s = make_chained_setup(tight_at, play);
        const MountedModel m = model_of(s);
        const std::optional<SwayStudy> sway = study_sway_and_room(ErrorModel(s), m).sway;
        REQUIRE(sway);
        SpaceSample a{m.space.linkage, {}, m.space.chains};
        const auto in_blocked = [&](double h) {
            return std::any_of(sway->blocked.begin(), sway->blocked.end(), [&](const HeightRange& r) { return r.contains(h); });
        };
        int blocked = 0;
        for (int i = 0; i <= 1500; ++i) {
            const double h = m.travel.low + (m.travel.high - m.travel.low) * i / 1500.0;
            // Mirrored chains of one length: whether there is a sway at which none lacks length is whether centred none does.
            const std::optional<double> lack = find_lack(a, TractorSide::right, h, 0.0, 0.0);
            REQUIRE(lack);
            if (std::fabs(*lack) < 1e-7) continue;
            CAPTURE(h, *lack);
            REQUIRE(in_blocked(h) == (*lack > 0.0));
            if (*lack > 0.0) ++blocked;
        }
        some += blocked > 0;
    }
    CHECK(some >= 3);
    // Chains that never come taut, or only at some heights, stop nothing.
    for (const double length : {0.75, 0.85, 1.0, 1.6}) {
        Setup long_ones = make_chained_setup(0.5, 0.05);
        long_ones.tractor.check_chain.length = known(length);
        CAPTURE(length);
        CHECK(study_sway_and_room(ErrorModel(long_ones), model_of(long_ones)).sway->blocked.empty());
    }
}

TEST_CASE("check chains: unlike ones stop the lift where no sway suits both", "[oracle]") {
    Setup s = make_chained_setup(0.3, 0.03);
    const double own = s.tractor.check_chain.length.value;
    s.choices.right_check_chain_length = known(own - 0.010);
    s.choices.left_check_chain_length = known(own - 0.004);
    const MountedModel m = model_of(s);
    const SwayStudy sway = *study_sway_and_room(ErrorModel(s), m).sway;
    SpaceSample a{m.space.linkage, {}, m.space.chains};
    CHECK(a.chains.right_length == own - 0.010);
    int blocked = 0, free = 0;
    for (int i = 0; i <= 100; ++i) {
        const double h = m.travel.low + (m.travel.high - m.travel.low) * i / 100.0;
        double least = 1e9;  // of the greater lack, over the sway
        for (double y = -0.3; y <= 0.3; y += 0.0002) {
            const auto l = find_lack(a, TractorSide::left, h, y, 0.0), r = find_lack(a, TractorSide::right, h, y, 0.0);
            if (l && r) least = std::min(least, std::max(*l, *r));
        }
        if (std::fabs(least) < 2e-4) continue;
        const bool found = std::any_of(sway.blocked.begin(), sway.blocked.end(), [&](const HeightRange& r) { return r.contains(h); });
        CAPTURE(h, least);
        CHECK(found == (least > 0.0));
        ++(found ? blocked : free);
    }
    CHECK(blocked > 5);
    CHECK(free > 5);
}
