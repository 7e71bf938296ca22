// Enclosures of the pose in space against poses solved in numbers: values, slopes by differences, how they shrink, and wide boxes.
#include "geometry/spatial_jets.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <random>

#include "geometry/root_enclosure.h"
#include "tests/geometry/random_space.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

using Place = std::array<double, 4>;
constexpr std::size_t parts = 12;

template <class T>
std::array<T, parts> list_parts(const SpatialPose<T>& p) {
    return {p.hitch.x, p.hitch.y, p.hitch.z, p.rearward.x, p.rearward.y, p.rearward.z,
            p.right.x, p.right.y, p.right.z, p.upward.x,   p.upward.y,   p.upward.z};
}

std::optional<std::array<double, parts>> solve(SpatialLinkage k, const Place& at) {
    k.side_view.upper_length = at[3];
    const SpatialSolution s = solve_spatial_pose(k, {at[0], at[1], at[2]});
    if (!s.closes) return std::nullopt;
    return list_parts(s.pose);
}

class Boxes {
public:
    explicit Boxes(unsigned seed) : random_(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    SpatialLinkage linkage() { return make_random_space(random_).linkage; }
    Place centre(const SpatialLinkage& k, double sway, double tilt) {
        return {k.side_view.lower_pivot.y() + between(-0.3, 0.3), between(-sway, sway), between(-tilt, tilt),
                k.side_view.upper_length * between(0.98, 1.02)};
    }
    static SpatialBox around(const Place& c, double half) {
        SpatialBox b;
        for (std::size_t i = 0; i < 4; ++i) b[i] = Interval(c[i] - half, c[i] + half);
        return b;
    }
    Place inside(const SpatialBox& box) {
        Place p;
        for (std::size_t i = 0; i < 4; ++i) p[i] = box[i].lo == box[i].hi ? box[i].lo : between(box[i].lo, box[i].hi);
        return p;
    }
    std::mt19937& random() { return random_; }

private:
    std::mt19937 random_;
};

/// All corners close.
bool closes(const SpatialLinkage& k, const SpatialBox& box) {
    for (unsigned c = 0; c < 16; ++c) {
        Place p;
        for (std::size_t i = 0; i < 4; ++i) p[i] = (c >> i) & 1U ? box[i].hi : box[i].lo;
        if (!solve(k, p)) return false;
    }
    return true;
}

bool is_number(const Interval& i) { return !std::isnan(i.lo) && !std::isnan(i.hi); }
bool contains(const Interval& i, double x, double slack) { return i.lo - slack <= x && x <= i.hi + slack; }

void check_slopes(const SpatialLinkage& k, const std::array<SpatialJet, parts>& jets, const Place& at) {
    constexpr double step = 2e-6;
    for (std::size_t v = 0; v < 4; ++v) {
        Place less = at, more = at;
        less[v] -= step;
        more[v] += step;
        const auto a = solve(k, less), b = solve(k, more);
        if (!a || !b) continue;
        for (std::size_t i = 0; i < parts; ++i) {
            const double slope = ((*b)[i] - (*a)[i]) / (2.0 * step);
            CAPTURE(i, v, slope, jets[i].d[v].lo, jets[i].d[v].hi);
            if (!contains(jets[i].d[v], slope, 1e-7 * (1.0 + std::fabs(slope)))) FAIL("a slope lies outside");
        }
    }
}

/// Widths of the enclosures summed, less the ranges the corners span.
double find_excess(const SpatialLinkage& k, const SpatialBox& box) {
    std::array<Interval, parts> range;
    range.fill(Interval(1e9, -1e9));
    for (unsigned c = 0; c < 16; ++c) {
        Place p;
        for (std::size_t i = 0; i < 4; ++i) p[i] = (c >> i) & 1U ? box[i].hi : box[i].lo;
        const auto s = solve(k, p);
        for (std::size_t i = 0; i < parts; ++i) range[i] = Interval(std::min(range[i].lo, (*s)[i]), std::max(range[i].hi, (*s)[i]));
    }
    const auto jets = list_parts(solve_spatial_jets(k, box));
    double excess = 0.0;
    for (std::size_t i = 0; i < parts; ++i) excess += jets[i].v.width() - range[i].width();
    return excess;
}

}  // namespace

TEST_CASE("poses in space over a box: values and slopes lie in their enclosures", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Boxes boxes(seed);
    int poses = 0, tried = 0, bounded = 0, narrow = 0;
    while (poses < 8000) {
        const SpatialLinkage k = boxes.linkage();
        const double half = std::pow(10.0, boxes.between(-6.0, -1.3));
        SpatialBox box = Boxes::around(boxes.centre(k, 0.1, 0.15), half);
        for (Interval& side : box) {
            if (std::bernoulli_distribution(0.2)(boxes.random())) side = Interval(side.middle());
        }
        if (!closes(k, box)) continue;
        const auto jets = list_parts(solve_spatial_jets(k, box));
        for (int n = 0; n < 20; ++n) {
            const Place at = boxes.inside(box);
            const auto s = solve(k, at);
            if (!s) continue;
            for (std::size_t i = 0; i < parts; ++i) {
                CAPTURE(i, half, jets[i].v.lo, jets[i].v.hi, (*s)[i]);
                if (!is_number(jets[i].v) || !contains(jets[i].v, (*s)[i], 2e-13)) FAIL("a value lies outside");
            }
            if (n < 3) check_slopes(k, jets, at);
            ++poses;
        }
        ++tried;
        if (half < 0.01) {
            ++narrow;
            if (jets[3].v.width() < 20.0 * half + 1e-9 && std::isfinite(jets[3].d[0].hi)) ++bounded;
        }
    }
    // An enclosure that says nothing would hold too.
    CHECK(narrow > 100);
    CHECK(bounded > 0.95 * narrow);
}

TEST_CASE("poses in space over a box: the excess of the enclosures falls with the square of the box", "[random][analytic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Boxes boxes(seed);
    double wide = 0.0, narrow = 0.0;
    int count = 0;
    while (count < 100) {
        const SpatialLinkage k = boxes.linkage();
        const Place c = boxes.centre(k, 0.1, 0.15);
        const SpatialBox box = Boxes::around(c, 0.004);
        if (!closes(k, Boxes::around(c, 0.03))) continue;
        wide += find_excess(k, box);
        narrow += find_excess(k, Boxes::around(c, 0.001));
        ++count;
    }
    CAPTURE(wide, narrow);
    CHECK(narrow > 0.0);
    CHECK(wide / narrow > 12.0);
    CHECK(wide / narrow < 24.0);
}

TEST_CASE("poses in space at a point: the enclosure is as narrow as rounding, and holds the pose in numbers", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Boxes boxes(seed);
    int points = 0;
    while (points < 1000) {
        const SpatialLinkage k = boxes.linkage();
        const Place c = boxes.centre(k, 0.1, 0.15);
        if (!closes(k, Boxes::around(c, 0.02))) continue;
        const auto p = list_parts(solve_spatial_point(k, Boxes::around(c, 0.0)));
        const auto s = solve(k, c);
        for (std::size_t i = 0; i < parts; ++i) {
            REQUIRE(p[i].width() < 1e-11);
            REQUIRE(contains(p[i], (*s)[i], 2e-13));
        }
        ++points;
    }
}

TEST_CASE("poses in space over a box too wide: whole lines or a range that holds, never NaN", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Boxes boxes(seed);
    int unbounded = 0;
    for (int n = 0; n < 300; ++n) {
        const SpatialLinkage k = boxes.linkage();
        const double z = k.side_view.lower_pivot.y(), c = k.lower_length, e = k.side_view.upper_length;
        const double size = boxes.between(0.2, 1.2);
        const SpatialBox box{Interval(z - size * c, z + size * c), Interval(-0.6 * size, 0.6 * size), Interval(-0.7 * size, 0.7 * size),
                             Interval((1.0 - 0.3 * size) * e, (1.0 + 0.3 * size) * e)};
        const auto jets = list_parts(solve_spatial_jets(k, box));
        for (const SpatialJet& j : jets) {
            REQUIRE(is_number(j.v));
            REQUIRE(j.v.lo <= j.v.hi);
            for (const Interval& d : j.d) REQUIRE(is_number(d));
        }
        if (!std::isfinite(jets[3].d[0].lo)) ++unbounded;
        for (int i = 0; i < 50; ++i) {
            const auto s = solve(k, boxes.inside(box));
            if (!s) continue;
            for (std::size_t p = 0; p < parts; ++p) {
                CAPTURE(n, p, jets[p].v.lo, jets[p].v.hi, (*s)[p]);
                REQUIRE(contains(jets[p].v, (*s)[p], 2e-13));
            }
        }
    }
    CHECK(unbounded > 250);
}

TEST_CASE("root enclosure: the root of every parameter, or nothing", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int proven = 0;
    // x^3 + x = p: the root is known to be one, and rises with p.
    for (int n = 0; n < 1000; ++n) {
        const double middle = between(-2.0, 2.0), half = std::pow(10.0, between(-12.0, 0.5));
        const Interval p(middle - half, middle + half);
        const auto root_of = [](double value) {
            double x = 0.0;
            for (int i = 0; i < 200; ++i) x -= (x * x * x + x - value) / (3.0 * x * x + 1.0);
            return x;
        };
        const double centre = root_of(middle);
        const Interval x(centre);
        const RootEnclosure r = enclose_root(centre, [&] { return x * square(x) + x - p; },
                                             [](const Interval& u) { return Interval(3.0) * square(u) + Interval(1.0); });
        if (!r.proven) {
            CHECK(r.root == whole_line());
            CHECK(half > 0.01);
            continue;
        }
        ++proven;
        for (const double value : {p.lo, middle, p.hi, between(p.lo, p.hi)}) REQUIRE(contains(r.root, root_of(value), 1e-14));
        if (half < 0.01) REQUIRE(r.root.width() < 2.0 * half * (1.0 + 100.0 * half) + 1e-13);
    }
    CHECK(proven > 800);
    // Two roots that meet, and none at all.
    const auto fold = [](double p) {
        return enclose_root(0.1, [&] { return square(Interval(0.1)) - Interval(-p, p); }, [](const Interval& u) { return Interval(2.0) * u; });
    };
    CHECK_FALSE(fold(0.02).proven);
    CHECK_FALSE(enclose_root(1.0, [] { return Interval(1.0); }, [](const Interval& u) { return u - Interval(1.0); }).proven);
    CHECK_FALSE(enclose_root(std::nan(""), [] { return Interval(1.0); }, [](const Interval&) { return Interval(1.0); }).proven);
}

TEST_CASE("root enclosure: what holds two zeros before it closes in on one proves none", "[analytic]") {
    // F(u) = 0.1 + u - 2 u |u|, F' = 1 - 4 |u|: zeros at -0.138 and -0.362. With 0.01 instead of 0.1 the nearer one is alone.
    const auto slope = [](const Interval& u) { return Interval(1.0 - 4.0 * std::max(std::fabs(u.lo), std::fabs(u.hi)), 1.0); };
    CHECK_FALSE(enclose_root(0.0, [] { return Interval(0.1); }, slope).proven);
    CHECK(enclose_root(0.0, [] { return Interval(0.01); }, slope).proven);
}
