// Least distances to points and segments, and heights nearer than a room, from panels against samples and the search on jets.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/closable_heights.h"
#include "geometry/distance_panels.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

using Random = std::mt19937;

double between(Random& random, double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); }

/// A point of frame T or I.
struct Place {
    Point at;
    bool moves = false;

    template <class T>
    Vec2<T> find(const KernelPose<T>& pose) const {
        if (moves) return pose.place(at.x(), at.y());
        return {T(at.x()), T(at.y())};
    }
};

struct Segment {
    Place point, from, to;

    template <class T>
    SegmentPlaces<T> operator()(const KernelPose<T>& pose) const { return {point.find(pose), from.find(pose), to.find(pose)}; }
};
struct Pair {
    Place point, other;

    template <class T>
    PointPlaces<T> operator()(const KernelPose<T>& pose) const { return {point.find(pose), other.find(pose)}; }
};

/// About where the implement is.
Place make_place(Random& random, bool moves) {
    if (moves) return {Point(between(random, -0.6, 0.8), between(random, -0.2, 1.0)), true};
    return {Point(between(random, 0.2, 1.6), between(random, 0.1, 1.6)), false};
}

struct Travel {
    PlanarLinkage linkage;
    TravelBox box;
};

std::optional<Travel> make_travel(Random& random, double margin) {
    const PlanarLinkage linkage = make_random_linkage(random);
    const std::vector<HeightRange> closable = find_closable_heights(linkage);
    if (closable.size() != 1) return std::nullopt;
    const double reach = 0.9 * linkage.lower_length, z = linkage.lower_pivot.y();
    const HeightRange heights{std::max(closable[0].low + margin, z - reach), std::min(closable[0].high - margin, z + reach)};
    if (heights.high - heights.low < 0.1) return std::nullopt;
    return Travel{linkage, {heights, {linkage.upper_length, linkage.upper_length}}};
}

bool close_distance(double value, double bound) {
    return std::fabs(std::sqrt(std::max(0.0, value)) - std::sqrt(std::max(0.0, bound))) <= 1e-6;
}

template <class Places>
double find_square(const Travel& t, const Places& places, double height) {
    return find_distance_squared(places(solve_kernel<double>(t.linkage, height, t.linkage.upper_length)));
}

template <class Places>
double sample_least(const Travel& t, const Places& places) {
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= 4000; ++i) {
        const HeightRange& h = t.box.heights;
        least = std::min(least, find_square(t, places, std::min(h.high, h.low + (h.high - h.low) * i / 4000.0)));
    }
    return std::sqrt(least);
}

template <class Panels, class Places>
void check_least(const Travel& t, const Places& places) {
    Panels panels(TravelPoses(t.linkage, t.box), places);
    const TravelExtreme e = panels.find_least_square(close_distance);
    const double value = std::sqrt(e.value), bound = std::sqrt(std::max(0.0, e.bound)), sampled = sample_least(t, places);
    CAPTURE(value, bound, sampled, e.height, e.evaluations);
    CHECK(e.converged);
    CHECK(bound <= value);
    CHECK(value - bound <= 1e-6);
    CHECK(bound <= sampled + 1e-12);
    CHECK(t.box.heights.contains(e.height));
    const double attained = std::sqrt(find_square(t, places, e.height));
    CHECK((attained <= value + 1e-12 && attained >= value - 1e-6));
    const auto squared = [&](const auto& pose) { return find_distance_squared(places(pose)); };
    const TravelExtreme searched = find_least(t.linkage, t.box, squared, close_distance);
    CHECK(value >= std::sqrt(std::max(0.0, searched.bound)) - 1e-12);
    CHECK(bound <= std::sqrt(std::max(0.0, searched.value)) + 1e-12);
}

/// Rounded outward: not less than what the search on jets leaves, but for what that leaves undecided.
template <class Panels, class Places>
int check_below(const Travel& t, const Places& places, double room) {
    Panels panels(TravelPoses(t.linkage, t.box), places);
    const std::vector<HeightRange> found = panels.find_below(room * room);
    const auto negated = [&](const auto& pose) { return -find_distance_squared(places(pose)); };
    const std::vector<HeightRange> expected = find_remaining_heights(t.box.heights, find_heights_inside(t.linkage, t.box, negated, -room * room));
    CAPTURE(room);
    REQUIRE(found.size() == expected.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        CHECK(std::fabs(found[i].low - expected[i].low) < 3e-9);
        CHECK(std::fabs(found[i].high - expected[i].high) < 3e-9);
    }
    for (int i = 0; i <= 500; ++i) {
        const HeightRange& h = t.box.heights;
        const double height = std::min(h.high, h.low + (h.high - h.low) * i / 500.0);
        const bool below = std::any_of(found.begin(), found.end(), [&](const HeightRange& r) { return r.contains(height); });
        if (std::sqrt(find_square(t, places, height)) < room - 1e-12) CHECK(below);
    }
    return static_cast<int>(found.size());
}

}  // namespace

TEST_CASE("distance panels: random points and segments of tractor and implement", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    Random random(seed);
    int bands = 0, looked = 0;
    for (int i = 0; i < 120; ++i) {
        CAPTURE(seed, i);
        const std::optional<Travel> t = make_travel(random, i % 3 == 0 ? 1e-3 : 0.02);
        if (!t) continue;
        const Segment segment{make_place(random, i % 2 == 0), make_place(random, i % 4 < 2), make_place(random, i % 8 < 4)};
        const Pair pair{make_place(random, true), make_place(random, false)};
        check_least<SegmentPanels<Segment>>(*t, segment);
        check_least<PointPanels<Pair>>(*t, pair);
        bands += check_below<SegmentPanels<Segment>>(*t, segment, sample_least(*t, segment) + between(random, 0.001, 0.2));
        bands += check_below<PointPanels<Pair>>(*t, pair, sample_least(*t, pair) + between(random, 0.001, 0.2));
        ++looked;
    }
    CHECK(looked > 60);
    CHECK(bands > looked);
}

TEST_CASE("distance panels: a point that goes through a segment, and one that passes its end", "[oracle]") {
    const PlanarLinkage linkage = make_linkage_a();
    const Travel t{linkage, {{0.3, 0.8}, {linkage.upper_length, linkage.upper_length}}};
    const Point ball = solve_pose(linkage, 0.55).ball;
    const Segment through{{Point(0.0, 0.0), true}, {ball + Point(-0.2, 0.05), false}, {ball + Point(0.2, -0.05), false}};
    check_least<SegmentPanels<Segment>>(t, through);
    SegmentPanels<Segment> panels(TravelPoses(t.linkage, t.box), through);
    CHECK(panels.find_least_square(close_distance).value < 1e-14);
    CHECK(panels.find_least_square(close_distance).height == Approx(0.55).epsilon(0).margin(1e-6));
    CHECK(check_below<SegmentPanels<Segment>>(t, through, 0.01) == 1);
    // The foot leaves the segment on the way: nearest to the line beyond its end.
    const Segment past{{Point(0.0, 0.0), true}, {ball + Point(0.05, 0.1), false}, {ball + Point(0.05, 0.4), false}};
    check_least<SegmentPanels<Segment>>(t, past);
    CHECK(check_below<SegmentPanels<Segment>>(t, past, 0.07) == 1);
}

TEST_CASE("distance panels: a distance that is the same all over stands at the middle of the heights", "[analytic]") {
    const PlanarLinkage linkage = make_linkage_a();
    const Travel t{linkage, {{0.3, 0.8}, {linkage.upper_length, linkage.upper_length}}};
    const Segment link{{Point(0.5, 0.7), true}, {linkage.upper_pin, false}, {linkage.mast_pin, true}};
    const TravelExtreme e = SegmentPanels<Segment>(TravelPoses(t.linkage, t.box), link).find_least_square(close_distance);
    CHECK(e.height == Approx(0.55).epsilon(0).margin(1e-15));
    CHECK(std::sqrt(e.value) == Approx((Point(0.5, 0.7) - linkage.mast_pin).norm()).epsilon(0).margin(1e-12));
}

TEST_CASE("distance panels: a point on an end of the segment takes no longer than another", "[analytic]") {
    Random random(11);
    int tried = 0;
    while (tried < 20) {
        const std::optional<Travel> t = make_travel(random, 0.02);
        if (!t) continue;
        ++tried;
        const Place end = make_place(random, true), other = make_place(random, false);
        for (const Segment& s : {Segment{end, end, other}, Segment{end, other, end}}) {
            const TravelPoses poses(t->linkage, t->box);
            SegmentPanels<Segment> panels(poses, s);
            const TravelExtreme e = panels.find_least_square(close_distance);
            CHECK(e.converged);
            CHECK(e.bound <= 0.0);
            CHECK(e.value <= 1e-12);
            CHECK(e.evaluations < 100);  // 20,000 where the search is asked on which side of itself a point lies
        }
    }
}
