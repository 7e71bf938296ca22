// The numbers of many heights against the report of each.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "geometry/closable_heights.h"
#include "geometry/pitch_curve.h"
#include "geometry/pose_sweep.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Over the travel and beyond what closes.
std::vector<double> list_heights() {
    std::vector<double> heights;
    for (int i = 0; i < 150; ++i) heights.push_back(-0.6 + i * 0.015);
    return heights;
}

void check_sweep(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    const std::vector<double> heights = list_heights();
    const std::vector<PoseNumbers> numbers = sweep_pose_numbers(s, r.model, heights);
    REQUIRE(numbers.size() == heights.size());
    int closing = 0;
    for (std::size_t i = 0; i < heights.size(); ++i) {
        CAPTURE(heights[i]);
        const PoseReport report = make_pose_report(s, r.model, heights[i]);
        CHECK(numbers[i].closes == report.pose.closes);
        closing += report.pose.closes ? 1 : 0;
        if (!report.pose.closes) {
            CHECK(numbers[i] == PoseNumbers{});
            continue;
        }
        CHECK(numbers[i].pitch == Approx(report.pose.pitch).margin(1e-12));
        CHECK(numbers[i].length == Approx(report.shaft_length).margin(1e-12));
        CHECK(numbers[i].tractor_angle == Approx(report.tractor_angle).margin(1e-12));
        CHECK(numbers[i].implement_angle == Approx(report.implement_angle).margin(1e-12));
    }
    CHECK(closing > 20);
    CHECK(closing < 150);
}

}  // namespace

TEST_CASE("pose sweep: the numbers of every height are those of its report", "[oracle]") {
    Setup s = make_setup_a();
    SECTION("with a rigid link") { check_sweep(s); }
    SECTION("with a link that floats") {
        s.implement.upper_link_float = {UpperLinkKind::slot, known(0.05), Reading{}};
        check_sweep(s);
    }
    SECTION("with a wide-angle joint") {
        s.driveline.tractor_joint.kind = JointKind::wide_angle;
        s.driveline.tractor_joint.spacing = known(0.09);
        check_sweep(s);
    }
    SECTION("without a shaft") {
        s.has_driveline = false;
        check_sweep(s);
    }
}

TEST_CASE("pose sweep: both joint angles to 1e-12 rad with a wide-angle joint, also where one is straight", "[oracle]") {
    for (const double spacing : {0.09, 0.7}) {
        Setup s = make_setup_a();
        s.driveline.implement_joint.kind = JointKind::wide_angle;
        s.driveline.implement_joint.spacing = known(spacing);
        const MountedModel m = make_mounted_model(s).model;
        REQUIRE(m.ends.wide_angle == WideAngleEnd::implement);
        std::vector<double> heights;
        for (int i = 0; i <= 20000; ++i) heights.push_back(m.travel.low + (m.travel.high - m.travel.low) * i / 20000.0);
        const std::vector<PoseNumbers> numbers = sweep_pose_numbers(s, m, heights);
        std::size_t wrong = 0;
        double straightest = 1.0;
        for (std::size_t i = 0; i < heights.size(); ++i) {
            const PoseReport r = make_pose_report(s, m, heights[i]);
            straightest = std::min({straightest, r.tractor_angle, r.implement_angle});
            const bool same = std::fabs(numbers[i].length - r.shaft_length) <= 1e-12 && std::fabs(numbers[i].tractor_angle - r.tractor_angle) <= 1e-12 &&
                              std::fabs(numbers[i].implement_angle - r.implement_angle) <= 1e-12;
            wrong += same ? 0 : 1;
        }
        CAPTURE(spacing, straightest);
        CHECK(wrong == 0);
        CHECK(straightest < 1e-3);
    }
}

TEST_CASE("pose sweep: what closes is what closes for the report, to the last digit of the ends", "[random]") {
    const Setup s = make_setup_a();
    MountedModel m = make_mounted_model(s).model;
    const PlanarLinkage given = m.linkage;
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> draw(0.8, 1.1);
    std::size_t closing = 0, asked = 0;
    for (int round = 0; round < 300; ++round) {
        m.linkage.upper_length = draw(random) * given.upper_length;
        std::vector<double> heights;
        for (const HeightRange& range : find_closable_heights(m.linkage)) {
            for (double h : {range.low, range.high}) {
                for (int i = 0; i < 8; ++i) h = std::nextafter(h, -10.0);
                for (int i = 0; i < 16; ++i) heights.push_back(h = std::nextafter(h, 10.0));
            }
        }
        const std::vector<PoseNumbers> numbers = sweep_pose_numbers(s, m, heights);
        for (std::size_t i = 0; i < heights.size(); ++i) {
            CAPTURE(seed, round, heights[i]);
            const bool closes = make_pose_report(s, m, heights[i]).pose.closes;
            REQUIRE(numbers[i].closes == closes);
            closing += closes ? 1 : 0, ++asked;
        }
    }
    CHECK(closing > asked / 4);
    CHECK(closing < 3 * asked / 4);
}

TEST_CASE("pitch curve: even steps over the travel with the pitch of each report", "[oracle]") {
    const Setup s = make_setup_a();
    const MountedModel m = make_mounted_model(s).model;
    const std::vector<PitchPoint> points = sweep_pitch(s, m, 33);
    REQUIRE(points.size() == 33);
    CHECK(points.front().ball_height == m.travel.low);
    CHECK(points.back().ball_height == m.travel.high);
    for (const PitchPoint& p : points) CHECK(p.pitch == Approx(make_pose_report(s, m, p.ball_height).pose.pitch).margin(1e-12));
}
