// Bands of the travel, held against positions computed one by one, which share no search with them.
#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <utility>

#include "geometry/joint_findings.h"
#include "geometry/travel_bands.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr int heights = 301;
/// Nearer to a limit than this (m, rad) a height may lie on either side of a band's end.
constexpr double near_end = 1.0e-6;

bool holds(const std::vector<HeightRange>& bands, double height) {
    return std::any_of(bands.begin(), bands.end(), [&](const HeightRange& r) { return r.contains(height); });
}

/// A height belongs to the band exactly when `excess` (what is too much there) is above zero.
void check_height(const std::vector<HeightRange>& bands, double height, double excess, const char* what) {
    CAPTURE(what, height, excess);
    if (excess > near_end) REQUIRE(holds(bands, height));
    if (excess < -near_end) REQUIRE_FALSE(holds(bands, height));
}

void check_joint(const JointBands& bands, const JointLimits& limits, double height, double angle) {
    check_height(bands.no_work, height, angle - limits.free.value, "no work");
    check_height(bands.pto_off, height, angle - limits.pto_off.value, "PTO off");
    check_height(bands.past_stop, height, angle - limits.stop.value, "past stop");
}

/// Compares every band with a sweep; returns how many heights lay in some band of the tubes.
int compare_with_sweep(const Setup& setup, const Analysis& a, const TravelBands& bands) {
    const MountedModel& m = a.linkage->model;
    int in_bands = 0;
    for (int i = 0; i < heights; ++i) {
        const double share = static_cast<double>(i) / (heights - 1);
        const double h = std::min(bands.travel.low + share * (bands.travel.high - bands.travel.low), bands.travel.high);
        const PoseReport pose = make_pose_report(setup, m, h);
        const TubeBands& t = *bands.tubes;
        check_height(t.gap_short, h, t.gap_needed - pose.gap, "gap short");
        check_height(t.bottoms_out, h, -pose.gap, "bottoms out");
        check_height(t.overlap_short, h, t.overlap_needed - pose.overlap, "overlap short");
        check_height(t.apart, h, -pose.overlap, "apart");
        check_joint(*bands.tractor_joint, find_joint_limits(setup, JointEnd::tractor), h, pose.tractor_angle);
        check_joint(*bands.implement_joint, find_joint_limits(setup, JointEnd::implement), h, pose.implement_angle);
        in_bands += holds(t.gap_short, h) || holds(t.overlap_short, h) ? 1 : 0;
    }
    return in_bands;
}

}  // namespace

TEST_CASE("travel bands: what remains of a range is what no other covers", "[analytic]") {
    using Ranges = std::vector<HeightRange>;
    CHECK(find_remaining_heights({0.0, 10.0}, {}) == Ranges{{0.0, 10.0}});
    CHECK(find_remaining_heights({0.0, 10.0}, {{0.0, 10.0}}).empty());
    CHECK(find_remaining_heights({0.0, 10.0}, {{2.0, 3.0}, {5.0, 10.0}}) == Ranges{{0.0, 2.0}, {3.0, 5.0}});
    CHECK(find_remaining_heights({0.0, 10.0}, {{-1.0, 4.0}, {6.0, 12.0}}) == Ranges{{4.0, 6.0}});
    CHECK(find_remaining_heights({0.0, 10.0}, {{0.0, 4.0}, {4.0, 9.0}}) == Ranges{{9.0, 10.0}});
}

TEST_CASE("travel bands: they hold exactly the heights at which positions break a limit", "[random][oracle]") {
    constexpr unsigned seed = 20260601;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int analysed = 0, in_bands = 0;
    for (int i = 0; i < 60; ++i) {
        Setup s = make_setup_a();
        s.tractor.travel = {known(between(0.2, 0.35)), known(between(0.6, 0.9))};
        s.implement.pic.x = known(between(0.3, 0.8));
        s.implement.pic.z = known(between(0.0, 0.5));
        s.driveline.closed_length = known(between(0.5, 0.9));
        s.driveline.tractor_tube = known(between(0.15, 0.48));
        s.driveline.implement_tube = known(between(0.15, 0.48));
        const Analysis a = analyze(s, millimetre_mark);
        const auto bands = find_travel_bands(s, a);
        if (!bands || !bands->tubes) continue;
        ++analysed;
        CAPTURE(i);
        in_bands += compare_with_sweep(s, a, *bands);
    }
    CHECK(analysed >= 40);
    CHECK(in_bands >= 1000);
}

TEST_CASE("travel bands: they agree with the findings about gap and overlap", "[metamorphic]") {
    Setup s = make_setup_a();
    const double shortest = analyze(s, millimetre_mark).shaft->travel.shortest.bound;
    s.driveline.closed_length = known(shortest + 0.010);
    const Analysis a = analyze(s, millimetre_mark);
    const auto bands = find_travel_bands(s, a);
    REQUIRE(bands);
    REQUIRE(bands->tubes);
    CHECK(bands->tubes->gap_short.empty() == (a.shaft->plan.uncut.gap >= a.shaft->limits.gap_required));
    CHECK(bands->tubes->overlap_short.empty() ==
          (a.shaft->plan.uncut.overlap >= a.shaft->plan.uncut.overlap_needed));
    CHECK(bands->travel == a.linkage->box.heights);
    // A cut as proposed takes the gap's bands away.
    REQUIRE_FALSE(bands->tubes->gap_short.empty());
    s.choices.cut_tractor_half = known(a.shaft->plan.recommended.a);
    s.choices.cut_implement_half = known(a.shaft->plan.recommended.b);
    REQUIRE(find_travel_bands(s, analyze(s, millimetre_mark))->tubes->gap_short.empty());
}

TEST_CASE("travel bands: heights join where they meet", "[analytic]") {
    using Ranges = std::vector<HeightRange>;
    CHECK(add_heights({}, {1.0, 2.0}) == Ranges{{1.0, 2.0}});
    CHECK(add_heights({{3.0, 4.0}}, {1.0, 2.0}) == Ranges{{1.0, 2.0}, {3.0, 4.0}});
    CHECK(add_heights({{1.0, 2.0}, {3.0, 4.0}}, {1.5, 3.5}) == Ranges{{1.0, 4.0}});
    CHECK(add_heights({{1.0, 4.0}}, {2.0, 3.0}) == Ranges{{1.0, 4.0}});
}

TEST_CASE("travel bands: a joint's band begins at the height its finding names, errors of the readings allowed for",
          "[metamorphic]") {
    Setup s = make_setup_a();
    s.implement.pic.z = known(0.250, 0.006);
    s.implement.pic.x = known(0.500, 0.006);
    const Analysis a = analyze(s, millimetre_mark);
    const auto bands = find_travel_bands(s, a);
    REQUIRE(bands);
    int compared = 0;
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::joint_angle_over_travel || f.terms.empty()) continue;
        const JointBands& joint = f.subject == "tractor joint" ? *bands->tractor_joint : *bands->implement_joint;
        for (const Remedy& r : f.remedies) {
            if (r.kind != RemedyKind::pto_off_above || r.subject == "below") continue;
            ++compared;
            CAPTURE(f.subject, r.value);
            REQUIRE_FALSE(joint.no_work.empty());
            CHECK(holds(joint.no_work, r.value));
            CHECK(holds(joint.no_work, bands->travel.high));
            // At that height the angle itself is still below the limit, by the allowance.
            const PoseReport pose = make_pose_report(s, a.linkage->model, r.value);
            const double angle = f.subject == "tractor joint" ? pose.tractor_angle : pose.implement_angle;
            CHECK(angle == Approx(f.limit - f.terms.back().value).margin(near_end).epsilon(0));
        }
    }
    CHECK(compared > 0);
}

TEST_CASE("travel bands: with a slot the bands hold what any slack may do", "[metamorphic]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.05), Reading{}};
    s.driveline.closed_length = known(0.72);
    const Analysis a = analyze(s, millimetre_mark);
    const auto bands = find_travel_bands(s, a);
    REQUIRE(bands);
    REQUIRE(bands->tubes);
    const MountedModel& m = a.linkage->model;
    const HeightRange lengths = effective_upper_lengths(m);
    for (int i = 0; i < heights; ++i) {
        const double share = static_cast<double>(i) / (heights - 1);
        const double h = bands->travel.low + share * (bands->travel.high - bands->travel.low);
        for (const double e : {lengths.low, 0.5 * (lengths.low + lengths.high), lengths.high}) {
            const double length = find_shaft_state(m.ends, solve_kernel<double>(m.linkage, h, e)).length;
            CAPTURE(h, e, length);
            if (find_gap(m.halves, length) < -near_end) REQUIRE(holds(bands->tubes->bottoms_out, h));
            if (find_overlap(m.halves, length) < -near_end) REQUIRE(holds(bands->tubes->apart, h));
        }
    }
    SUCCEED("no height outside a band breaks its limit");
}

TEST_CASE("travel bands: what the readings leave open about gap and overlap is a band as wide as the findings' error", "[oracle]") {
    Setup s = make_setup_a();
    const double shortest = analyze(s, millimetre_mark).shaft->travel.shortest.bound;
    s.implement.pic.x = known(0.500, 0.006);
    s.implement.pic.z = known(0.250, 0.006);
    // Enough at the worst place by the readings, but by less than their error; then too little; then a shaft too long.
    int undecided = 0;
    for (const double closed : {shortest - 0.028, shortest - 0.010, shortest + 0.060}) {
        s.driveline.closed_length = known(closed, 0.003);
        const Analysis a = analyze(s, millimetre_mark);
        const auto bands = find_travel_bands(s, a);
        REQUIRE((bands && bands->tubes));
        const TubeBands& t = *bands->tubes;
        const auto finding = std::find_if(a.findings.begin(), a.findings.end(),
                                          [](const Finding& f) { return f.kind == FindingKind::gap_at_shortest; });
        REQUIRE(finding != a.findings.end());
        CHECK(t.gap_error == finding->band);
        CHECK(t.gap_error > 0.003);
        CHECK(t.overlap_error > 0.003);
        // The finding is undecided exactly when the worst height is doubtful and no height is surely too short.
        CAPTURE(closed, finding->margin, finding->band);
        CHECK((finding->severity == Severity::unknown) == (!t.gap_doubtful.empty() && t.gap_short.empty()));
        undecided += finding->severity == Severity::unknown ? 1 : 0;
        for (int i = 0; i < heights; ++i) {
            const double share = static_cast<double>(i) / (heights - 1);
            const double h = std::min(bands->travel.low + share * (bands->travel.high - bands->travel.low), bands->travel.high);
            const PoseReport pose = make_pose_report(s, a.linkage->model, h);
            check_height(t.gap_doubtful, h, t.gap_needed + t.gap_error - pose.gap, "gap in doubt");
            check_height(t.gap_short, h, t.gap_needed - t.gap_error - pose.gap, "gap short");
            check_height(t.bottoms_out, h, std::min(0.0, t.gap_needed - t.gap_error) - pose.gap, "bottoms out");
            check_height(t.overlap_doubtful, h, t.overlap_needed + t.overlap_error - pose.overlap, "overlap in doubt");
            check_height(t.overlap_short, h, t.overlap_needed - t.overlap_error - pose.overlap, "overlap short");
        }
    }
    CHECK(undecided == 1);
}

TEST_CASE("travel bands: those of the guard tubes hold the heights at which the guards meet or leave the shaft bare",
          "[oracle]") {
    Setup s = make_setup_a();
    s.rules.guard_overlap = limit(0.050);
    s.driveline.guard_closed_length = known(0.850);
    // Of this much overlap the guards keep too little, then nothing.
    for (const double overlap : {0.300, 0.130, 0.060}) {
        s.driveline.guard_overlap_closed = known(overlap);
        const Analysis a = analyze(s, millimetre_mark);
        const auto bands = find_travel_bands(s, a);
        REQUIRE((bands && bands->guard));
        int short_of = 0;
        for (int i = 0; i < heights; ++i) {
            const double share = static_cast<double>(i) / (heights - 1);
            const double h = std::min(bands->travel.low + share * (bands->travel.high - bands->travel.low), bands->travel.high);
            // Overlap is lost by what the shaft is longer than closed: 0.800 m.
            const double length = make_pose_report(s, a.linkage->model, h).shaft_length;
            const double left = overlap - (length - 0.800);
            CAPTURE(overlap, length);
            check_height(bands->guard->meet, h, 0.850 - length, "guards meet");
            check_height(bands->guard->overlap_short, h, 0.050 - left, "guard overlap short");
            check_height(bands->guard->bare, h, -left, "bare shaft");
            short_of += holds(bands->guard->overlap_short, h) ? 1 : 0;
        }
        CHECK((short_of > 0) == (overlap < 0.200));
    }
    s.driveline.guard_closed_length = Reading{};
    CHECK_FALSE(find_travel_bands(s, analyze(s, millimetre_mark))->guard);
}

namespace {

/// Distance of a point to a segment, found by sampling the segment: shares nothing with the bounded search.
double sampled_distance(const Point& p, const Point& a, const Point& b) {
    double least = (p - a).norm();
    for (int i = 0; i <= 4000; ++i) least = std::min(least, (p - (a + (i / 4000.0) * (b - a))).norm());
    return least;
}

}  // namespace

TEST_CASE("travel bands: clearances hold the heights at which some pair stands nearer than it may", "[oracle]") {
    Setup s = make_setup_a();
    s.tractor.tyre.rear_radius = known(0.600);
    s.driveline.guard_radius = known(0.060);
    s.implement.points = {{"frame", known(0.10), known(0.02), Reading{}, false},
                          {"deck", known(0.30), known(0.12), Reading{}, true}};
    const Analysis a = analyze(s, millimetre_mark);
    const auto bands = find_travel_bands(s, a);
    REQUIRE((bands && bands->clearances));
    const MountedModel& m = a.linkage->model;
    const Point hub(0.0, 0.600);
    int little = 0, touch = 0;
    for (int i = 0; i < heights; ++i) {
        const double share = static_cast<double>(i) / (heights - 1);
        const double h = std::min(bands->travel.low + share * (bands->travel.high - bands->travel.low), bands->travel.high);
        const PlanarPose pose = solve_pose(m.linkage, h);
        const Point joint = place_point(pose, Point(m.ends.implement_joint.x, m.ends.implement_joint.z));
        const Point stub(m.ends.tractor_joint.x, m.ends.tractor_joint.z);
        double least = 9.0;
        for (const ImplementPoint& p : s.implement.points) {
            const Point at = place_point(pose, Point(p.x.value, p.z.value));
            least = std::min({least, (at - hub).norm() - 0.600,
                              sampled_distance(at, m.linkage.upper_pin, pose.mast_pin)});
            if (p.deck_edge) least = std::min(least, sampled_distance(at, stub, joint) - 0.060);
        }
        CAPTURE(h, least);
        const auto nearest = find_nearest_clearance(s, m, h, m.linkage.upper_length);
        REQUIRE(nearest);
        CHECK(nearest->least.value == Approx(least).margin(1e-4).epsilon(0));
        // A sampled distance is too great by less than a tenth of a millimetre.
        if (least < 0.025 - 1e-4) REQUIRE(holds(bands->clearances->little, h));
        if (least > 0.025 + 1e-4) REQUIRE_FALSE(holds(bands->clearances->little, h));
        if (least < 0.0) REQUIRE(holds(bands->clearances->touch, h));
        little += least < 0.025 ? 1 : 0;
        touch += least < 0.0 ? 1 : 0;
    }
    CHECK(little > 10);
    CHECK(touch > 3);
    CHECK(little < heights - 10);
}

TEST_CASE("travel bands: parts that never meet stand near within their limit, or within their error where that is more", "[oracle]") {
    Setup s = make_setup_a();
    s.tractor.tyre.rear_radius = known(0.600);
    s.implement.points = {{"frame", known(0.10), known(0.02), Reading{}, false}};
    const MountedModel m = analyze(s, millimetre_mark).linkage->model;
    constexpr int steps = 200;
    const auto height_at = [&](int i) { return std::min(m.travel.low + (m.travel.high - m.travel.low) * i / steps, m.travel.high); };
    // The hub stands a radius above the ground.
    const auto room_at = [&](double radius, double h) { return (place_point(solve_pose(m.linkage, h), Point(0.10, 0.02)) - Point(0.0, radius)).norm() - radius; };
    const auto radius_for = [&](double room) {
        double small = 0.600, great = 1.200;
        for (int n = 0; n < 50; ++n) {
            const double radius = 0.5 * (small + great);
            double least = 9.0;
            for (int i = 0; i <= steps; ++i) least = std::min(least, room_at(radius, height_at(i)));
            (least > room ? small : great) = radius;
        }
        return small;
    };
    for (const auto& [room, error] : {std::pair{0.010, 0.0}, {0.040, 0.060}}) {
        CAPTURE(room, error);
        const double radius = radius_for(room);
        s.tractor.tyre.rear_radius = known(radius, error);
        const Analysis a = analyze(s, millimetre_mark);
        const auto bands = find_travel_bands(s, a);
        REQUIRE((bands && bands->clearances));
        CHECK(bands->clearances->touch.empty());
        const auto is_tyre = [](const Finding& f) { return f.kind == FindingKind::clearance && f.other == "rear tyre"; };
        const auto finding = std::find_if(a.findings.begin(), a.findings.end(), is_tyre);
        REQUIRE(finding != a.findings.end());
        const double near = std::max(0.025, finding->band);
        CHECK((near > 0.040) == (error > 0.0));
        int held = 0;
        for (int i = 0; i <= steps; ++i) {
            const double h = height_at(i), here = room_at(radius, h);
            if (std::fabs(here - near) < 1e-4) continue;
            CAPTURE(h, here);
            CHECK(holds(bands->clearances->little, h) == (here < near));
            held += here < near ? 1 : 0;
        }
        CHECK((held > 3 && held < steps - 3));
    }
}

TEST_CASE("travel bands: without a linkage there are none, without a shaft only the travel", "[practice]") {
    Setup s = make_setup_a();
    s.implement.pic.fitted = false;
    s.has_driveline = false;
    const auto bands = find_travel_bands(s, analyze(s, millimetre_mark));
    REQUIRE(bands);
    CHECK_FALSE(bands->tubes);
    CHECK_FALSE(bands->tractor_joint);
    CHECK(bands->travel.low < bands->travel.high);
    s.tractor.lower_link.length = Reading{};
    CHECK_FALSE(find_travel_bands(s, analyze(s, millimetre_mark)));
}
