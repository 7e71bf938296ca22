#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/direct_place.h"
#include "geometry/direct_travel.h"
#include "geometry/driveline_geometry.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double eighth = 0.0254 / 8;

DirectReading read(double height, double distance, LengthReference reference = LengthReference::joint_centres) {
    DirectReading r;
    r.name = std::to_string(static_cast<int>(std::round(height * 1000.0)));
    r.ball_height = known(height, eighth);
    r.distance = known(distance, eighth);
    r.reference = reference;
    return r;
}

/// Linkage A with readings as a tape would give them at three heights, by the machines' shafts in space.
Setup make_read_setup(LengthReference reference = LengthReference::joint_centres) {
    Setup s = make_setup_a();
    s.driveline.tractor_joint.centre_to_groove = known(0.070);
    s.driveline.implement_joint.centre_to_groove = known(0.055);
    const MountedModelResult model = make_mounted_model(s);
    REQUIRE(model.linkage_ok);
    for (const double h : {0.210, 0.560, 0.940}) {
        const PlanarPose pose = solve_pose(model.model.linkage, h);
        const MachineShaft stub{{0.350, 0.0, 0.600}, make_shaft_axis(0.0, 0.0), 0.030, 0.0};
        const MachineShaft own{{0.500, 0.0, 0.250}, make_shaft_axis(0.0, 0.0), 0.030, 0.0};
        const MachineShaft input = move_shaft(own, make_rotation({pose.pitch, 0.0, 0.0}), {pose.ball.x(), 0.0, pose.ball.y()});
        double distance = find_driveline_pose(stub, input).length;
        if (reference == LengthReference::locking_grooves) distance = find_groove_distance(stub, input, make_groove_offsets(0.070, 0.055));
        if (reference == LengthReference::shaft_ends) distance = (input.end - stub.end).norm();
        s.direct_readings.push_back(read(h, distance, reference));
    }
    return s;
}

const Finding* find(const Analysis& a, FindingKind kind) {
    for (const Finding& f : a.findings) {
        if (f.kind == kind) return &f;
    }
    return nullptr;
}

Setup without_linkage(Setup s) {
    s.tractor.lower_link = {};
    s.tractor.upper_link_pins.clear();
    s.tractor.pto.stub_x = s.tractor.pto.stub_z = Reading{};
    s.implement.mast_pins.clear();
    s.implement.pic.x = s.implement.pic.z = Reading{};
    s.tractor.travel = {known(0.210), known(0.940)};
    return s;
}

}  // namespace

TEST_CASE("direct travel: an input shaft that moves straight up gives the parabola exactly", "[analytic]") {
    // S^2 = 0.9^2 + (h - 0.5)^2: shortest 0.9 at 0.5, longest at the higher end.
    std::vector<DirectPoint> points;
    for (const double h : {0.2, 0.45, 0.95}) points.push_back({h, std::hypot(0.9, h - 0.5), 0.003, 0.0});
    const DirectTravel t = fit_direct_points(points);
    REQUIRE(t.status == DirectStatus::ok);
    CHECK(std::fabs(t.shortest.length - 0.9) < 1e-12);
    CHECK(std::fabs(t.shortest.height - 0.5) < 1e-9);
    CHECK_FALSE(t.shortest.at_reading);
    CHECK(std::fabs(t.longest.length - std::hypot(0.9, 0.45)) < 1e-12);
    CHECK(t.longest.at_reading);
    CHECK(std::fabs(t.longest.error - std::hypot(0.003, curve_allowance)) < 1e-12);
}

TEST_CASE("direct travel: the error of a length between readings is what repeated readings scatter by", "[random]") {
    std::vector<DirectPoint> exact;
    for (const double h : {0.2, 0.6, 0.95}) exact.push_back({h, std::hypot(0.9, h - 0.45), 0.003, 0.003});
    const DirectTravel truth = fit_direct_points(exact);
    std::mt19937 random(3);
    std::normal_distribution<double> normal;
    constexpr int draws = 20000;
    double squares = 0.0;
    for (int i = 0; i < draws; ++i) {
        std::vector<DirectPoint> points = exact;
        for (DirectPoint& p : points) {
            // The tape was at another height than the one written down.
            const double h = p.height + 0.0015 * normal(random);
            p.length = std::hypot(0.9, h - 0.45) + 0.0015 * normal(random);
        }
        squares += std::pow(fit_direct_points(points).shortest.length - truth.shortest.length, 2);
    }
    const double own = std::sqrt(truth.shortest.error * truth.shortest.error - curve_allowance * curve_allowance);
    CHECK(std::fabs(2.0 * std::sqrt(squares / draws) / own - 1.0) < 0.05);
}

TEST_CASE("direct travel: what readings cannot give is said", "[analytic]") {
    const auto status = [](const std::vector<double>& heights) {
        std::vector<DirectPoint> points;
        for (const double h : heights) points.push_back({h, 0.9, 0.003, 0.003});
        return fit_direct_points(points).status;
    };
    CHECK(status({}) == DirectStatus::too_few);
    CHECK(status({0.2, 0.9}) == DirectStatus::too_few);
    CHECK(status({0.2, 0.2, 0.9}) == DirectStatus::too_few);
    CHECK(status({0.20, 0.22, 0.24}) == DirectStatus::range_too_small);
    CHECK(status({0.2, 0.25, 0.9}) == DirectStatus::no_middle);
    CHECK(status({0.2, 0.5, 0.9}) == DirectStatus::ok);
    CHECK(fit_direct_points({{0.2, 0.9, 0, 0}, {0.5, -1.0, 0, 0}, {0.9, 0.9, 0, 0}}).status == DirectStatus::impossible);
}

TEST_CASE("direct travel: of four readings the one off the curve is named", "[analytic]") {
    std::vector<DirectPoint> points;
    for (const double h : {0.2, 0.4, 0.6, 0.8, 0.95}) points.push_back({h, std::hypot(0.9, h - 0.5), 0.003, 0.003});
    CHECK_FALSE(fit_direct_points(points).rough);
    points[2].length += 0.0254;
    const DirectTravel t = fit_direct_points(points);
    REQUIRE(t.rough);
    CHECK(t.roughest == 2);
}

TEST_CASE("direct readings: with straight joints grooves and ends come back to joint centres, bent ones are bounded", "[analytic]") {
    Setup s;
    s.driveline = make_driveline_a();
    s.driveline.tractor_joint.centre_to_groove = known(0.070);
    s.driveline.implement_joint.centre_to_groove = known(0.055);
    for (const double h : {0.2, 0.5, 0.9}) s.direct_readings.push_back(read(h, 1.125, LengthReference::locking_grooves));
    const DirectTravel straight = find_direct_travel(s, 0.0);
    REQUIRE(straight.status == DirectStatus::ok);
    CHECK(std::fabs(straight.shortest.length - 1.0) < 1e-12);
    CHECK(std::fabs(straight.longest.length - 1.0) < 1e-12);
    const DirectTravel bent = find_direct_travel(s, to_radians(40.0));
    CHECK(std::fabs(bent.shortest.length - 1.0) < 1e-12);
    CHECK(std::fabs(bent.longest.length - (1.125 - 0.125 * std::cos(to_radians(40.0)))) < 1e-12);
    s.driveline.implement_joint.centre_to_groove = Reading{};
    const DirectTravel lacking = find_direct_travel(s, 0.0);
    CHECK(lacking.status == DirectStatus::distance_missing);
    CHECK(lacking.missing == std::vector<std::string>{"driveline.implement_joint.centre_to_groove"});
}

TEST_CASE("direct readings: a travel that goes on beyond them is named with its end", "[analytic]") {
    Setup s;
    s.driveline = make_driveline_a();
    for (const double h : {0.2, 0.5, 0.9}) s.direct_readings.push_back(read(h, 1.0));
    CHECK(find_direct_travel(s, 0.0).travel_assumed);
    s.tractor.travel = {known(0.195), known(0.95)};
    const DirectTravel t = find_direct_travel(s, 0.0);
    CHECK(t.status == DirectStatus::misses_travel);
    CHECK(t.missed_high);
    CHECK(std::fabs(t.missed_by - 0.05) < 1e-12);
    s.choices.lift_stop = known(0.9);
    CHECK(find_direct_travel(s, 0.0).status == DirectStatus::ok);
}

TEST_CASE("direct readings: taped without error they agree with the linkage, whatever the points", "[oracle]") {
    for (const LengthReference points : {LengthReference::joint_centres, LengthReference::locking_grooves, LengthReference::shaft_ends}) {
        CAPTURE(static_cast<int>(points));
        const Setup s = make_read_setup(points);
        const Analysis a = analyze(s, millimetre_mark);
        REQUIRE(a.direct);
        REQUIRE(a.direct->comparison);
        REQUIRE(a.direct->comparison->checks.size() == 3);
        CHECK(a.direct->comparison->agree);
        for (const DirectCheck& c : a.direct->comparison->checks) CHECK(std::fabs(c.off) < 1e-9);
        const Finding* f = find(a, FindingKind::direct_reading);
        REQUIRE(f != nullptr);
        CHECK(f->severity == Severity::good);
    }
}

TEST_CASE("direct readings: taken from lock to lock but written as of joint centres, that is the cause named", "[analytic]") {
    Setup s = make_read_setup(LengthReference::locking_grooves);
    for (DirectReading& r : s.direct_readings) r.reference = LengthReference::joint_centres;
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE_FALSE(a.direct->comparison->agree);
    CHECK(a.direct->comparison->cause == DirectCause::other_points);
    CHECK(a.direct->comparison->points == LengthReference::locking_grooves);
    CHECK(a.verdict == Verdict::not_known);
    CHECK(find(a, FindingKind::direct_reading)->severity == Severity::unknown);
    // Not absorbed: the travel is that of the linkage.
    Setup plain = s;
    plain.direct_readings.clear();
    CHECK(analyze(plain, millimetre_mark).shaft->travel.shortest.bound == a.shaft->travel.shortest.bound);
}

TEST_CASE("direct readings: the wrong hole, and one wrong reading, are told apart", "[analytic]") {
    Setup s = make_read_setup();
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(0.860)});
    s.choices.upper_link_pin = "2";
    const Analysis hole = analyze(s, millimetre_mark);
    REQUIRE(hole.direct->comparison);
    CHECK(hole.direct->comparison->cause == DirectCause::upper_link_pin);
    CHECK(hole.direct->comparison->subject == "1");
    s = make_read_setup();
    s.direct_readings[1].distance.value += 0.0254;
    const Analysis one = analyze(s, millimetre_mark);
    REQUIRE_FALSE(one.direct->comparison->agree);
    CHECK(one.direct->comparison->cause == DirectCause::one_reading);
    CHECK(one.direct->comparison->subject == "560");
    s.direct_readings[1].name.clear();
    CHECK(find(analyze(s, millimetre_mark), FindingKind::direct_reading)->subject == "2");
}

TEST_CASE("direct readings: their band is that of all readings, by draws", "[random]") {
    Setup s = make_read_setup();
    s.tractor.lower_link.length.tolerance = s.tractor.pto.stub_x.tolerance = s.implement.pic.x.tolerance = 0.004;
    const Analysis a = analyze(s, millimetre_mark);
    const DirectCheck& check = a.direct->comparison->checks[1];
    std::mt19937 random(9);
    std::normal_distribution<double> normal;
    constexpr int draws = 4000;
    double squares = 0.0;
    for (int i = 0; i < draws; ++i) {
        Setup moved = s;
        for (Reading* r : {&moved.tractor.lower_link.length, &moved.tractor.pto.stub_x, &moved.implement.pic.x,
                           &moved.direct_readings[1].ball_height, &moved.direct_readings[1].distance}) {
            r->value += 0.5 * r->tolerance * normal(random);
        }
        const std::optional<double> predicted = predict_direct_reading(moved, make_mounted_model(moved).model, moved.direct_readings[1]);
        REQUIRE(predicted);
        squares += std::pow(moved.direct_readings[1].distance.value - *predicted, 2);
    }
    // 4,000 draws know a spread to 1.1 %, two sigma 2.2 %.
    CHECK(std::fabs(2.0 * std::sqrt(squares / draws) / check.band - 1.0) < 0.05);
}

TEST_CASE("direct readings: one without an error of its own has the usual one of its kind", "[analytic]") {
    Setup s = make_read_setup();
    s.direct_readings[0].distance.tolerance = 0.0;
    const std::vector<Observation> all = list_observations(s);
    REQUIRE(all.size() == 3);
    CHECK(all[0].error == find_usual_error(DirectKind::shaft_length));
    CHECK(all[0].error > 0.0);
    CHECK(all[1].error == eighth);
}

TEST_CASE("direct readings alone: a gap within its error is not decided, and another reading is asked for", "[analytic]") {
    Setup s = without_linkage(make_read_setup());
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.450);
    const double shortest = analyze(s, millimetre_mark).direct->travel.shortest.length;
    s.driveline.closed_length = known(shortest - s.rules.gap_required.value - 0.0005);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::gap_at_shortest);
    REQUIRE(f);
    CHECK(f->severity == Severity::unknown);
    CHECK(f->band > 0.0005);
    REQUIRE_FALSE(f->remedies.empty());
    CHECK((f->remedies.front().kind == RemedyKind::measure && f->remedies.front().value == f->band));
}

TEST_CASE("direct readings alone: guard tubes that meet are cured by the cut the shaft needs", "[residual]") {
    Setup s = without_linkage(make_read_setup());
    const double shortest = analyze(s, millimetre_mark).direct->travel.shortest.length;
    s.driveline.guard_closed_length = known(shortest + 0.002);
    s.driveline.guard_overlap_closed = known(0.300);
    s.driveline.closed_length = known(shortest + 0.010);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.450);
    const Analysis a = analyze(s, millimetre_mark);
    const CutPair cut = a.direct->plan.recommended;
    REQUIRE((cut.a > 0.002 && cut.b > 0.002));
    REQUIRE(find(a, FindingKind::guard_gap));
    CHECK(find(a, FindingKind::guard_gap)->other == "cured_by_cut");
}

TEST_CASE("direct readings alone: gap, overlap and cut are those of the linkage they were taken on", "[oracle]") {
    const Setup whole = make_read_setup();
    Setup reference = whole;
    reference.tractor.travel = {known(0.210), known(0.940)};
    const Analysis full = analyze(reference, millimetre_mark);
    const Analysis alone = analyze(without_linkage(whole), millimetre_mark);
    REQUIRE(alone.direct);
    REQUIRE(alone.direct->has_plan);
    CHECK(std::fabs(alone.direct->travel.shortest.length - full.shaft->travel.shortest.value) < curve_allowance);
    CHECK(std::fabs(alone.direct->travel.longest.length - full.shaft->travel.longest.value) < curve_allowance);
    CHECK(alone.direct->plan.answer == full.shaft->plan.answer);
    CHECK(alone.verdict == Verdict::not_known);  // joint angles are not known
    CHECK(find(alone, FindingKind::direct_travel)->severity == Severity::watch);
    REQUIRE(find(alone, FindingKind::gap_at_shortest) != nullptr);
    CHECK(std::fabs(find(alone, FindingKind::gap_at_shortest)->value - find(full, FindingKind::gap_at_shortest)->value) < curve_allowance);
}

TEST_CASE("direct readings alone: a cut whose overlap is within the error is not decided", "[analytic]") {
    Setup s = without_linkage(make_read_setup());
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.450);
    s.driveline.closed_length = known(analyze(s, millimetre_mark).direct->travel.shortest.length + 0.010);
    const auto overlap_left = [&](double tube) {
        s.driveline.tractor_tube = s.driveline.implement_tube = known(tube);
        const Analysis with = analyze(s, millimetre_mark);
        const ShaftMargins& after = with.direct->plan.after;
        return after.overlap - after.overlap_needed;
    };
    // Tubes with which 1 mm more than is needed is left: all is linear.
    const double a = overlap_left(0.450), b = overlap_left(0.440);
    REQUIRE(overlap_left(0.450 - 0.010 * (a - 0.001) / (a - b)) == Approx(0.001).margin(1e-6));
    const Analysis now = analyze(s, millimetre_mark);
    const Finding* f = find(now, FindingKind::cut);
    REQUIRE(f);
    CHECK(f->severity == Severity::unknown);
    CHECK(f->band > 0.001);
    REQUIRE_FALSE(f->remedies.empty());
    CHECK((f->remedies.front().kind == RemedyKind::measure && f->remedies.front().value == f->band));
}
