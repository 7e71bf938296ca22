// Sweeps of many machines against one pose at a time, and the same answer whoever computes it.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "geometry/angle.h"
#include "geometry/closable_heights.h"
#include "geometry/machine_sample.h"
#include "geometry/pose_numbers.h"
#include "tests/geometry/linkage_a.h"
#include "tests/geometry/take_worst.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;
using hitchwright::test::take_worst;

namespace {

DrivelineEnds make_ends(std::mt19937& random) {
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const auto axis = [&] {
        const double slope = between(-0.8, 0.8), plan = between(-0.8, 0.8);
        return Vec3<double>{std::cos(slope) * std::cos(plan), std::cos(slope) * std::sin(plan), std::sin(slope)};
    };
    DrivelineEnds e;
    e.tractor_joint = {between(0.1, 0.4), between(-0.1, 0.1), between(0.5, 0.7)};
    e.implement_joint = {between(0.4, 0.9), between(-0.2, 0.2), between(0.0, 0.4)};
    e.stub_axis = axis(), e.input_axis = axis();
    return e;
}

/// Travel from `in` of the closable heights to as much from the other end; below 0 it goes beyond them.
std::vector<SampledMachine> draw_machines(std::size_t count, double in) {
    std::mt19937 random(20261126);
    std::vector<SampledMachine> machines;
    while (machines.size() < count) {
        PlanarLinkage k = make_random_linkage(random);
        k.side = machines.size() % 2 == 0 ? MastSide::above : MastSide::below;
        const std::vector<HeightRange> ranges = find_closable_heights(k);
        if (ranges.empty()) continue;
        const double room = in * (ranges.front().high - ranges.front().low);
        machines.push_back({k, make_ends(random), {ranges.front().low + room, ranges.front().high - room}});
    }
    return machines;
}

SweepExtremes sweep_one_by_one(const SampledMachine& m, std::size_t poses) {
    const PoseConstants k = make_pose_constants(m.linkage, m.ends);
    SweepExtremes e;
    e.least_length = 1e9;
    for (std::size_t i = 0; i < poses; ++i) {
        const double step = (m.travel.high - m.travel.low) / static_cast<double>(poses - 1);
        const PoseNumbers n = solve_pose_numbers(k, i + 1 == poses ? m.travel.high : m.travel.low + step * static_cast<double>(i));
        if (!(n.length > 0.0)) continue;
        REQUIRE((n.tractor_angle <= pi && n.implement_angle <= pi));
        ++e.shafts;
        e.least_length = std::min(e.least_length, n.length);
        e.greatest_length = std::max(e.greatest_length, n.length);
        e.greatest_tractor_angle = std::max(e.greatest_tractor_angle, n.tractor_angle);
        e.greatest_implement_angle = std::max(e.greatest_implement_angle, n.implement_angle);
    }
    return e.shafts > 0 ? e : SweepExtremes{};
}

std::vector<SweepExtremes> sweep(const std::vector<SampledMachine>& machines, std::size_t poses, std::size_t threads = 1) {
    std::vector<SweepExtremes> out(machines.size());
    sweep_machines(machines, poses, threads, out);
    return out;
}

}  // namespace

TEST_CASE("machine sample: a parallelogram's shaft is shortest and its joints bend most where the geometry says", "[analytic]") {
    SampledMachine m;
    m.linkage.lower_pivot = Point(0.0, 0.5), m.linkage.lower_length = 1.0;
    m.linkage.upper_pin = Point(0.0, 1.1), m.linkage.upper_length = 1.0, m.linkage.mast_pin = Point(0.0, 0.6);
    m.ends.tractor_joint = {0.0, 0.0, 0.5};  // at the pivot: the joint on the implement circles round it
    m.ends.implement_joint = {0.0, 0.0, 0.0};
    m.travel = {0.2, 1.1};  // sines of -0.3 and 0.6
    const SweepExtremes e = sweep({m}, 91).front();
    CHECK(e.shafts == 91);
    CHECK(e.least_length == Approx(1.0).epsilon(1e-14));
    CHECK(e.greatest_length == Approx(1.0).epsilon(1e-14));
    CHECK(e.greatest_tractor_angle == Approx(std::asin(0.6)).epsilon(1e-14));
    CHECK(e.greatest_implement_angle == Approx(std::asin(0.6)).epsilon(1e-14));
}

TEST_CASE("machine sample: the extremes of one pose at a time, for any number of poses and both mast sides", "[random][oracle]") {
    const std::vector<SampledMachine> machines = draw_machines(300, 0.05);
    for (const std::size_t poses : {2u, 3u, 8u, 9u, 200u, 256u, 257u, 1000u}) {
        CAPTURE(poses);
        const std::vector<SweepExtremes> found = sweep(machines, poses);
        double worst = 0.0;
        for (std::size_t i = 0; i < machines.size(); ++i) {
            const SweepExtremes one = sweep_one_by_one(machines[i], poses);
            REQUIRE(found[i].shafts == poses);
            REQUIRE(one.shafts == poses);
            for (const double x : {found[i].least_length - one.least_length, found[i].greatest_length - one.greatest_length,
                                   found[i].greatest_tractor_angle - one.greatest_tractor_angle,
                                   found[i].greatest_implement_angle - one.greatest_implement_angle})
                take_worst(worst, std::fabs(x));
        }
        CHECK(worst < 1e-12);
    }
}

TEST_CASE("machine sample: heights that do not close are left out and counted", "[random]") {
    const std::vector<SampledMachine> machines = draw_machines(200, -0.3);
    const std::vector<SweepExtremes> found = sweep(machines, 201);
    for (std::size_t i = 0; i < machines.size(); ++i) {
        const SweepExtremes one = sweep_one_by_one(machines[i], 201);
        REQUIRE(found[i].shafts == one.shafts);
        REQUIRE(found[i].shafts > 0);
        REQUIRE(found[i].shafts < 201);
        CHECK(found[i].least_length == Approx(one.least_length).margin(1e-9));  // the last height that closes may be near a dead centre
        CHECK(found[i].greatest_length == Approx(one.greatest_length).margin(1e-9));
    }
    SampledMachine out_of_reach{make_linkage_a(), {}, {3.0, 4.0}};
    CHECK(sweep({out_of_reach}, 200).front() == SweepExtremes{});
}

TEST_CASE("machine sample: the same to the last digit on any number of threads", "[metamorphic]") {
    std::vector<SampledMachine> machines = draw_machines(1000, -0.1);
    machines[500].ends.wide_angle = WideAngleEnd::tractor, machines[500].ends.spacing = 0.08;
    const std::vector<SweepExtremes> alone = sweep(machines, 50);
    for (const std::size_t threads : {2u, 3u, 8u}) CHECK(sweep(machines, 50, threads) == alone);
    CHECK(sweep({}, 50, 2).empty());
}

TEST_CASE("machine sample: a wide-angle joint is swept by the general kernel", "[oracle]") {
    SampledMachine m = draw_machines(1, 0.2).front();
    m.ends.wide_angle = WideAngleEnd::implement, m.ends.spacing = 0.09;
    const SweepExtremes found = sweep({m}, 40).front(), one = sweep_one_by_one(m, 40);
    CHECK(found.shafts == 40);
    CHECK(found.least_length == Approx(one.least_length).epsilon(1e-12));
    CHECK(found.greatest_implement_angle == Approx(one.greatest_implement_angle).epsilon(1e-12));
}

TEST_CASE("machine sample: a shaft that points straight back at its own machine bends its joint by 180 deg", "[analytic]") {
    SampledMachine m{make_linkage_a(), {}, {0.5, 0.5}};
    m.ends.implement_joint = {0.0, 0.0, 0.0};
    for (const double turned : {0.0, 0.3, 0.7, 1.1}) {  // axes whose squares add up to 1 but for rounding
        m.ends.stub_axis = {std::cos(turned), std::sin(turned), 0.0};
        m.ends.tractor_joint = {0.885 + std::cos(turned), std::sin(turned), 0.5};
        CHECK(sweep({m}, 2).front().greatest_tractor_angle == Approx(pi).margin(1e-7));
    }
}

TEST_CASE("machine sample: a pose with an axis that is no number has no shaft, not a straight joint", "[analytic]") {
    const SampledMachine sound = draw_machines(1, 0.2).front();
    for (const WideAngleEnd wide : {WideAngleEnd::none, WideAngleEnd::tractor, WideAngleEnd::implement}) {
        for (Vec3<double> DrivelineEnds::*axis : {&DrivelineEnds::stub_axis, &DrivelineEnds::input_axis}) {
            SampledMachine m = sound;
            m.ends.wide_angle = wide, m.ends.spacing = 0.09;
            CHECK(sweep({m}, 40).front().shafts == 40);
            m.ends.*axis = {std::numeric_limits<double>::quiet_NaN(), 0.0, 0.0};
            CHECK(sweep({m}, 40).front() == SweepExtremes{});
        }
    }
}
