// Sway, tail swing, travel carried to rods as set, and the findings about level, chains and tyre room.
#include "geometry/space_study.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "geometry/angle.h"
#include "geometry/lift_linkage.h"
#include "geometry/mounted_extremes.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/random_space.h"
#include "tests/geometry/space_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Without a shaft, so that a whole answer takes no time.
Setup make_blade() {
    Setup s = make_rod_setup();
    s.implement.pic = {};
    s.driveline = {};
    s.has_driveline = false;
    return s;
}

Setup make_chained(double length) {
    Setup s = make_blade();
    s.tractor.check_chain = {known(0.020), known(0.080), known(0.490), known(0.600), known(length)};
    return s;
}

/// A tyre so high that the whole link lies beside it near the pivots' height.
Setup make_tyred(double track, double tolerance) {
    Setup s = make_blade();
    s.tractor.sway.total_at_ball = known(0.040);
    s.tractor.tyre = {known(1.20), known(0.30), known(track, tolerance), {}};
    s.tractor.lower_link.outer_half_width = known(0.030);
    return s;
}

std::vector<std::string> list_missing(const Setup& s) {
    std::vector<std::string> keys;
    for (const ModelObstacle& o : make_mounted_model(s).linkage_obstacles) {
        if (o.kind == ModelObstacle::Kind::missing) keys.push_back(o.key);
    }
    return keys;
}

bool has(const std::vector<std::string>& keys, const std::string& key) { return std::find(keys.begin(), keys.end(), key) != keys.end(); }

/// Room of the right ball to the tyre's face, level at a height and sway: least room where the whole link is beside the tyre.
double find_ball_room(const MountedModel& m, double height, double sway, double face, double outer) {
    return face - outer - solve_spatial_pose(m.space.linkage, {height, sway, 0.0}).right_ball.y;
}

}  // namespace

TEST_CASE("sway: as found, and from check chains, at the ends and at work", "[oracle]") {
    Setup s = make_rod_setup();
    CHECK_FALSE(study_sway_and_room(ErrorModel(s), model_of(s)).sway);
    s.tractor.sway.total_at_ball = known(0.060);
    const SwayStudy found = *study_sway_and_room(ErrorModel(s), model_of(s)).sway;
    CHECK(found.source == SwaySource::total);
    for (const SwayAt* at : {&found.low, &found.working, &found.high}) {
        CHECK(at->left.value() == -0.030);
        CHECK(at->right.value() == 0.030);
    }
    CHECK(found.blocked.empty());
    // Chains with all their readings go first.
    const SpaceSample k = make_space_a();
    CheckChains like = k.chains;
    like.anchor_z = 0.490;
    const double length = find_taut_length(k.linkage, like, 0.900, 0.030, TractorSide::right);
    Setup c = make_chained(length);
    c.tractor.sway.total_at_ball = known(0.060);
    const MountedModel m = model_of(c);
    const SwayStudy chained = *study_sway_and_room(ErrorModel(c), m).sway;
    CHECK(chained.source == SwaySource::chains);
    CHECK(chained.working.ball_height == 0.300);
    for (const SwayAt* at : {&chained.low, &chained.working, &chained.high}) {
        const double taut = find_taut_length(m.space.linkage, m.space.chains, at->ball_height, at->right.value(), TractorSide::right);
        CHECK(taut == Approx(length).margin(1e-10));
        CHECK(at->left.value() == Approx(-at->right.value()).margin(1e-10));
    }
    c.tractor.check_chain.anchor_z = {};
    CHECK(study_sway_and_room(ErrorModel(c), model_of(c)).sway->source == SwaySource::total);
}

TEST_CASE("sway: the tail swings about where the lower links meet ahead", "[oracle]") {
    Setup s = make_rod_setup();
    s.tractor.sway.total_at_ball = known(0.010);
    const MountedModel m = model_of(s);
    const TailSwing t = study_sway_and_room(ErrorModel(s), m).sway->tail.value();
    CHECK(t.name == "rear roller");
    CHECK(t.behind == Approx(1.20));
    CHECK(t.balls == Approx(0.010).margin(1e-12));
    CHECK(t.tail == Approx(t.right - t.left).margin(1e-12));
    CHECK(t.left == Approx(-t.right).margin(1e-9));
    // Small sways turn the hitch about the point in plan where both links' lines meet. The distances are those at work, in plan.
    const SpatialSolution p = solve_spatial_pose(m.space.linkage, {0.300, 0.0, 0.0});
    const double run = p.pose.hitch.x, ahead = run * 0.4125 / (0.4125 - 0.210);
    const double behind = p.pose.place({1.20, 0.0, -0.15}).x - p.pose.hitch.x;
    CHECK(t.tail / t.balls == Approx(1.0 + behind / ahead).epsilon(2e-3));
    // Parallel links lead it straight.
    s.tractor.lower_link.half_spread_at_pivot = s.tractor.lower_link.half_spread_at_ball;
    const TailSwing straight = study_sway_and_room(ErrorModel(s), model_of(s)).sway->tail.value();
    CHECK(straight.tail == Approx(straight.balls).margin(1e-6));
}

TEST_CASE("travel: taped heights are carried to the rods as set, by the side view when both are alike", "[oracle]") {
    Setup s = make_rod_setup();
    const LiftLinkage own = make_lift_a();
    for (const double more : {0.020, -0.015}) {
        set_rods(s, more, more);
        const MountedModel m = model_of(s);
        CHECK(m.travel_moved_to_rods);
        // Projected rods: the foot stands beside the arm's end by as much whatever the height.
        const double beside = 0.210 + 0.2025 * 0.430 / 0.885 - 0.250;
        LiftLinkage set = own;
        set.rod_length = std::sqrt(std::pow(s.tractor.lift_rod.length.value + more, 2) - beside * beside);
        for (const auto& [taped, carried] : {std::pair{0.200, m.travel.low}, std::pair{0.950, m.travel.high}}) {
            const LiftPose arm = solve_lift_from_ball(own, taped), ball = solve_lift_from_arm(set, arm.arm_angle);
            REQUIRE(ball.closure.closes());
            CAPTURE(more, taped, carried, ball.ball_height);
            CHECK(std::fabs(carried - ball.ball_height) < 1e-9);
        }
        CHECK(m.space.side.planar());
    }
    // A rod set to its own length moves nothing.
    set_rods(s, 0.0, 0.0);
    CHECK_FALSE(model_of(s).travel_moved_to_rods);
    CHECK(model_of(s).travel.high == 0.950);
}

TEST_CASE("travel: a free rise in the lift rod is not carried with the rod", "[oracle]") {
    Setup s = make_rod_setup();
    s.tractor.lift_rod.free_rise = known(0.020);
    set_rods(s, 0.012, 0.012);
    const MountedModel m = model_of(s);
    const double beside = 0.210 + 0.2025 * 0.430 / 0.885 - 0.250;
    LiftLinkage set = make_lift_a();
    set.rod_length = std::sqrt(std::pow(s.tractor.lift_rod.length.value + 0.012, 2) - beside * beside);
    const LiftPose arm = solve_lift_from_ball(make_lift_a(), 0.930);
    CHECK(std::fabs(m.travel.high - (solve_lift_from_arm(set, arm.arm_angle).ball_height + 0.020)) < 1e-9);
}

TEST_CASE("travel: of arms that do not close one thing is said, not what follows from it", "[edge]") {
    Setup s = make_rod_setup();
    s.tractor.lift_arm.angle_low = known(to_radians(-30.0));
    s.tractor.lift_arm.angle_high = known(to_radians(35.0));
    set_rods(s, 0.020, 0.020);
    REQUIRE(make_mounted_model(s).linkage_obstacles.empty());
    s.tractor.lift_rod.length = known(0.050);
    CHECK(make_mounted_model(s).linkage_obstacles.size() == 1);
}

TEST_CASE("travel: rods of their own length without arms name what is missing", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.left_lift_rod_length = known(0.55);
    const std::vector<std::string> keys = list_missing(s);
    for (const char* key : {"tractor.lift_arm.pivot_x", "tractor.lift_arm.pivot_z", "tractor.lift_arm.length", "tractor.lift_arm.half_spread", "tractor.lift_rod.length"})
        CHECK(has(keys, key));
    s = make_rod_setup();
    s.choices.right_lift_rod_length = known(0.60);
    s.tractor.lift_arm.half_spread = {};
    CHECK(list_missing(s) == std::vector<std::string>{"tractor.lift_arm.half_spread"});
}

TEST_CASE("findings: level within the play of levelling is good, beyond it is said", "[analytic]") {
    Setup s = make_blade();
    CHECK(find_finding(answer(s), FindingKind::side_level) == nullptr);  // nobody asked
    set_rods(s, 0.0, 0.001);
    Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::side_level);
    REQUIRE(f);
    CHECK(f->severity == Severity::good);
    CHECK(f->subject == "blade");
    CHECK(f->remedies.empty());
    set_rods(s, 0.0, 0.010);
    a = answer(s);
    f = find_finding(a, FindingKind::side_level);
    REQUIRE(f);
    CHECK(f->severity == Severity::watch);
    CHECK(f->value < -0.00635);
    CHECK_FALSE(f->cautions.empty());
    s.choices.working_roll = known(0.0);
    a = answer(s);
    f = find_finding(a, FindingKind::side_level);
    REQUIRE(f);
    CHECK(f->severity == Severity::change);
    CHECK(f->other == "wanted");
    REQUIRE(f->remedies.size() == 1);
    CHECK(f->remedies[0].kind == RemedyKind::set_lift_rod);
    CHECK(f->remedies[0].subject == "right");
    // Level in the plane: back to the other rod's length, 10 mm shorter.
    CHECK(std::fabs(f->remedies[0].value - s.tractor.lift_rod.length.value) < 1e-9);
    CHECK(std::fabs(f->remedies[0].second + 0.010 / 0.006) < 1e-6);
    CHECK_FALSE(find_finding(a, FindingKind::levelling_rod));
    // Beyond the screw.
    s.choices.working_roll = known(to_radians(-12.0));
    a = answer(s);
    f = find_finding(a, FindingKind::levelling_rod, "right");
    REQUIRE(f);
    CHECK(f->other == "too_long");
    CHECK(f->severity == Severity::change);
}

TEST_CASE("findings: chains that stop the lift forbid", "[analytic]") {
    // Centred the chains need this length at the top.
    const SpaceSample k = make_space_a();
    CheckChains c = k.chains;
    c.anchor_z = 0.490;
    const double top = find_taut_length(k.linkage, c, 0.950, 0.0, TractorSide::right), low = find_taut_length(k.linkage, c, 0.200, 0.0, TractorSide::right),
                 middle = find_taut_length(k.linkage, c, 0.500, 0.0, TractorSide::right);
    const double longest = std::max({top, low, middle});
    Analysis a = answer(make_chained(longest - 0.005));
    const Finding* f = find_finding(a, FindingKind::check_chain);
    REQUIRE(f);
    CHECK(f->severity == Severity::forbids);
    CHECK_FALSE(f->heights.empty());
    CHECK_FALSE(f->cautions.empty());
    CHECK(find_finding(answer(make_chained(longest + 0.005)), FindingKind::check_chain) == nullptr);
}

TEST_CASE("findings: room beside the tyre against its band and the rule", "[oracle]") {
    // Twice the face's distance from the middle is the track less the width.
    const MountedModel m = model_of(make_tyred(1.30, 0.0));
    const double widest = find_ball_room(m, 0.500, 0.020, 0.0, 0.030);  // negative: where the outside of the link is
    const auto finding = [&](double room, double tolerance) {
        const Setup s = make_tyred(2.0 * (room - widest) + 0.30, tolerance);
        const Analysis a = answer(s);
        const Finding* f = find_finding(a, FindingKind::tyre_room);
        REQUIRE(f);
        return *f;
    };
    CHECK(finding(0.080, 0.010).severity == Severity::good);
    CHECK(finding(0.004, 0.012).severity == Severity::unknown);
    CHECK(finding(-0.004, 0.012).severity == Severity::unknown);
    CHECK(finding(-0.004, 0.004).severity == Severity::forbids);
    CHECK(finding(0.015, 0.010).severity == Severity::change);  // the rule wants 25 mm
    CHECK(finding(0.027, 0.010).severity == Severity::unknown);
    CHECK_FALSE(finding(0.015, 0.010).cautions.empty());
}

TEST_CASE("space: a rod typed without the place of its foot is no model, and the reading is named", "[edge]") {
    Setup s = make_rod_setup();
    s.choices.right_lift_rod_length = s.tractor.lift_rod.length;
    s.tractor.lift_rod.pin_along_link = Reading{};
    const MountedModelResult r = make_mounted_model(s);
    CHECK_FALSE(r.linkage_ok);
    REQUIRE(r.linkage_obstacles.size() == 1);
    CHECK(r.linkage_obstacles.front().key == "tractor.lift_rod.pin_along_link");
    const Analysis a = analyze(s, millimetre_mark);
    CHECK(a.verdict == Verdict::not_known);
    CHECK_FALSE(a.shaft);
}

TEST_CASE("space: chains that set no limit leave the room beside the tyre and the verdict open", "[edge]") {
    Setup s = make_rod_setup();
    s.tractor.check_chain = {known(0.05), known(0.40), known(0.40), known(0.45), known(1.9)};
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    CHECK_FALSE(r.model.space.side.limited);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(find_finding(a, FindingKind::side_motion, "check chains") != nullptr);
    CHECK(find_finding(a, FindingKind::side_motion, "check chains")->severity == Severity::unknown);
    CHECK_FALSE(a.space->tyre);
    CHECK(a.verdict != Verdict::fits);
}

TEST_CASE("space: no rod is ordered beyond its screw", "[edge]") {
    Setup s = make_rod_setup();
    s.choices.working_roll = known(12.0 * pi / 180.0);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* level = find_finding(a, FindingKind::side_level, "blade");
    REQUIRE(level != nullptr);
    CHECK(level->remedies.empty());
    CHECK(find_finding(a, FindingKind::levelling_rod, "right") != nullptr);
}

TEST_CASE("sway: of points equally far back the first is the tail", "[analytic]") {
    Setup s = make_rod_setup();
    s.tractor.sway.total_at_ball = known(0.010);
    ImplementPoint point;
    point.x = known(1.50), point.z = known(0.0);
    for (const char* name : {"left corner", "right corner"}) {
        point.name = name;
        s.implement.points.push_back(point);
    }
    CHECK(study_sway_and_room(ErrorModel(s), model_of(s)).sway->tail.value().name == "left corner");
}
