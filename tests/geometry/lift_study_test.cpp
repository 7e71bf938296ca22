// What the lift gives: the kernel against lift_linkage.h and differences, heights and least capacity against brute
// force, the published figures as lower bounds of random lift curves.
#include "geometry/lift_study.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "geometry/angle.h"
#include "geometry/lift_holes.h"
#include "geometry/linkage_quantities.h"
#include "geometry/load_findings.h"
#include "linkage_a.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_lifting_setup() {
    Setup s = make_setup_a();
    s.implement.mass = {known(450.0), known(0.9), known(0.2)};
    s.tractor.mass.lift_at_balls = known(9000.0);
    return s;
}

MountedModel model_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    for (const ModelObstacle& o : r.linkage_obstacles) UNSCOPED_INFO(o.key);
    REQUIRE(r.linkage_ok);
    return r.model;
}

/// Height of a point of frame I by the pose solver: what virtual work is held against.
double height_of(const MountedModel& m, double ball_height, const Point& at) {
    const PlanarPose pose = solve_pose(m.linkage, ball_height);
    REQUIRE(pose.closes);
    return place_point(pose, at).y();
}

/// dz/dz_ball by differences of heights.
double rise_by_differences(const MountedModel& m, double h, const Point& at) {
    constexpr double step = 1e-5;
    return (height_of(m, h + step, at) - height_of(m, h - step, at)) / (2.0 * step);
}

void add_curve(Setup& s, const std::vector<std::pair<double, double>>& points) {
    for (const auto& [height, force] : points)
        s.tractor.lift_points.push_back(
            {std::to_string(s.tractor.lift_points.size() + 1), known(height), known(force)});
}

/// A cylinder that pushes the arm of linkage A up over its whole range.
LiftCylinder make_cylinder() { return {Point(-0.35, 0.75), 0.10, to_radians(-120.0), 120000.0}; }

double cylinder_length(const LiftLinkage& lift, const LiftCylinder& c, double arm_angle) {
    const double crank = arm_angle + c.crank_angle;
    return (lift.arm_pivot + c.crank_length * Point(std::cos(crank), std::sin(crank)) - c.base).norm();
}

/// The first finding of a kind, which must be there.
Finding one(const std::vector<Finding>& findings, FindingKind kind) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) { return f.kind == kind; });
    REQUIRE(found != findings.end());
    return *found;
}

}  // namespace

TEST_CASE("lift kernel: the positions and rates of the lift linkage", "[geometry][oracle]") {
    LiftLinkage lift = make_lift_a();
    for (const double offset : {0.0, 0.03, -0.02}) {
        lift.rod_pin_offset = offset;
        for (double h = 0.2; h <= 0.9; h += 0.05) {
            const LiftPose pose = solve_lift_from_ball(lift, h);
            REQUIRE(pose.closure.closes());
            const LiftKernelPose<double> k = solve_lift_kernel<double>(lift, h);
            CHECK(std::hypot(k.arm_end.x - pose.arm_end.x(), k.arm_end.z - pose.arm_end.y()) < 1e-12);
            CHECK(std::hypot(k.rod_pin.x - pose.rod_pin.x(), k.rod_pin.z - pose.rod_pin.y()) < 1e-12);
            CHECK(k.run == Approx(pose.ball.x()).margin(1e-12));
            CHECK(find_arm_rate(lift, k) == Approx(*find_arm_rate(lift, pose)).epsilon(1e-10));
            const LiftKernelPose<double> back = solve_lift_kernel_at_arm(lift, k.arm_end);
            CHECK(back.ball_height == Approx(h).margin(1e-11));
            CHECK(back.run == Approx(k.run).margin(1e-11));
        }
    }
}

TEST_CASE("rockshaft torque: the cylinder's work, by differences of its length", "[geometry][oracle]") {
    const LiftLinkage lift = make_lift_a();
    const LiftCylinder c = make_cylinder();
    for (double h = 0.2; h <= 0.9; h += 0.05) {
        const LiftPose pose = solve_lift_from_ball(lift, h);
        constexpr double step = 1e-6;
        const double rate =
            (cylinder_length(lift, c, pose.arm_angle + step) - cylinder_length(lift, c, pose.arm_angle - step)) /
            (2.0 * step);
        const double torque = find_rockshaft_torque(lift, c, solve_lift_kernel<double>(lift, h));
        CHECK(torque == Approx(c.thrust * rate).epsilon(1e-7));
        CHECK(torque > 0.0);
    }
}

TEST_CASE("ball force: cylinder, crank, arm and rod give the work of the cylinder at the balls", "[geometry][oracle]") {
    Setup s = make_lifting_setup();
    s.tractor.mass.lift_at_balls = {};
    add_lift_a(s.tractor, -10.0, 60.0);
    const LiftCylinder c = make_cylinder();
    s.tractor.lift_cylinder = {known(c.base.x()),
                               known(c.base.y()),
                               known(c.crank_length),
                               known(c.crank_angle),
                               known(0.08),
                               known(c.thrust / (2.0 * 0.25 * std::numbers::pi * 0.08 * 0.08)),
                               known(0.9),
                               2};
    const MountedModel m = model_of(s);
    const BallForceResult r = find_ball_force(s, m);
    REQUIRE(r.force.source == BallForceSource::cylinder);
    const LiftLinkage lift = make_lift_a();
    for (double h = m.travel.low + 0.01; h < m.travel.high; h += 0.04) {
        constexpr double step = 1e-6;
        const double work = cylinder_length(lift, c, solve_lift_from_ball(lift, h + step).arm_angle) -
                            cylinder_length(lift, c, solve_lift_from_ball(lift, h - step).arm_angle);
        CHECK(*find_force_at(r.force, h) == Approx(0.9 * c.thrust * work / (2.0 * step)).epsilon(1e-6));
    }
    const double out_of_reach = lift.lower_pivot.y() - 0.8;  // the foot hangs lower than arm and rod in line
    REQUIRE_FALSE(solve_lift_from_ball(lift, out_of_reach).closure.closes());
    CHECK_FALSE(find_force_at(r.force, out_of_reach));
    Setup broken = s;
    broken.tractor.lift_rod.length = known(0.050);  // arm and link are farther apart
    CHECK(find_ball_force(broken, m).force.source == BallForceSource::none);
    s.tractor.lift_cylinder.efficiency = {};
    CHECK(find_ball_force(s, m).force.meaning() == ForceMeaning::at_most);
    CHECK(study_lift(ErrorModel(s), m).answer == LiftAnswer::not_assured);
    s.tractor.lift_cylinder.crank_angle = {};
    CHECK(find_ball_force(s, m).missing == std::vector<std::string>{"tractor.lift_cylinder.crank_angle"});
    CHECK(find_ball_force(s, m).force.source == BallForceSource::none);
    s.tractor.mass.lift_at_balls = known(9000.0);
    CHECK(find_ball_force(s, m).force.source == BallForceSource::published_least);
}

TEST_CASE("published lift: what the test may have been otherwise counts for nothing", "[geometry]") {
    Setup s = make_lifting_setup();
    s.tractor.mass.lift_at_610 = known(12000.0);
    s.tractor.hitch.category = Category::cat2;
    const MountedModel m = model_of(s);
    CHECK(*find_force_at(find_ball_force(s, m).force, 0.9) == Approx(9000.0));  // the mast of the test is not stated
    s.tractor.lift_test.mast_height = known(0.610);
    const double proven = *find_force_at(find_ball_force(s, m).force, 0.9);
    CHECK(proven > 12000.0);
    // A pin it may have had, and that does not close, leaves nothing proven.
    s.tractor.upper_link_pins.push_back({"broken", known(0.885), known(1.100)});
    s.choices.upper_link_pin = "1";
    CHECK(*find_force_at(find_ball_force(s, model_of(s)).force, 0.9) == Approx(9000.0));
    s.tractor.lift_test.upper_link_pin = "1";
    CHECK(*find_force_at(find_ball_force(s, model_of(s)).force, 0.9) == Approx(proven));
}

TEST_CASE("published lift: with the rod's hole in the test unknown, the least over the holes", "[geometry]") {
    Setup s = make_lifting_setup();
    add_lift_a(s.tractor, -10.0, 60.0);
    s.tractor.travel = {};
    const double own = s.tractor.lift_rod.pin_along_link.value;
    s.tractor.lift_rod_holes = {{"front", known(own)}, {"rear", known(own + 0.05)}};
    for (const char* set : {"front", "rear"}) {
        s.tractor.travel.lift_rod_hole = s.choices.lift_rod_hole = set;
        double least = 1e9;
        for (const char* test : {"front", "rear"}) {
            s.tractor.lift_test.lift_rod_hole = test;
            least = std::min(least, *find_force_at(find_ball_force(s, model_of(s)).force, 0.7));
        }
        s.tractor.lift_test.lift_rod_hole = set;
        CHECK(*find_force_at(find_ball_force(s, model_of(s)).force, 0.7) == Approx(9000.0));
        s.tractor.lift_test.lift_rod_hole.clear();
        CHECK(*find_force_at(find_ball_force(s, model_of(s)).force, 0.7) == Approx(least));
    }
}

TEST_CASE(
    "lift study: a swing strap between stops is not reckoned, and an overload is not hidden by a load that does not "
    "rise",
    "[geometry]") {
    Setup s = make_lifting_setup();
    s.implement.upper_link_float.kind = UpperLinkKind::swing_strap;
    s.implement.upper_link_float.strap_length = known(0.10);
    s.implement.upper_link_float.strap_stop_low = known(to_radians(80.0));
    s.implement.upper_link_float.strap_stop_high = known(to_radians(100.0));
    const LiftStudy held = study_lift(ErrorModel(s), model_of(s));
    CHECK(held.strap_held);
    CHECK(held.answer == LiftAnswer::not_known);
    CHECK(check_lift(ErrorModel(s), held).empty());
    s = make_lifting_setup();
    s.choices.working_ball_height = known(0.21);
    s.implement.work.ball_height = {};
    s.implement.mass = {known(5000.0), known(0.2), known(6.0)};  // high above the pins: it tips forward at the bottom
    add_curve(s, {{0.1, 9000.0}, {1.0, 9000.0}});
    const LiftStudy tips = study_lift(ErrorModel(s), model_of(s));
    if (tips.answer == LiftAnswer::load_stops)
        CHECK(one(check_lift(ErrorModel(s), tips), FindingKind::load_rise).severity == Severity::forbids);
    else
        CHECK(tips.answer == LiftAnswer::lifts_not);
}

TEST_CASE("ball force: the rod in another hole and longer links turn the same torque", "[geometry][oracle]") {
    Setup s = make_lifting_setup();
    add_lift_a(s.tractor, -10.0, 60.0);
    s.tractor.travel = {};
    const double own = s.tractor.lift_rod.pin_along_link.value;
    s.tractor.lift_rod_holes = {{"front", known(own)}, {"rear", known(own + 0.05)}};
    s.tractor.travel.lift_rod_hole = "front";
    s.choices.lift_rod_hole = "rear";
    s.parts.link_extender.fitted = true;
    s.parts.link_extender.length = known(0.08);
    add_curve(s, {{0.1, 8000.0}, {0.4, 9500.0}, {0.7, 9000.0}, {1.1, 6000.0}});
    const MountedModel m = model_of(s);
    const BallForce force = find_ball_force(s, m).force;
    REQUIRE(force.rod_moved);
    REQUIRE(force.source == BallForceSource::curve);
    for (double h = m.travel.low + 0.02; h < m.travel.high - 0.02; h += 0.05) {
        // The work of a small lift is the same at the arm, by whichever hole and link it is reached.
        const auto own_height = [&](double ball) {
            return force.lower_pivot.y() + (ball - force.lower_pivot.y()) * force.own_length / force.length;
        };
        const auto taped = [&](double ball) {
            return carry_height(force.as_set, force.as_taped, own_height(ball)).height;
        };
        constexpr double step = 1e-6;
        const double at = taped(h);
        const double curve = at < 0.4   ? 8000.0 + (at - 0.1) * 5000.0
                             : at < 0.7 ? 9500.0 - (at - 0.4) * 500.0 / 0.3
                                        : 9000.0 - (at - 0.7) * 7500.0;
        CHECK(*find_force_at(force, h) ==
              Approx(curve * (taped(h + step) - taped(h - step)) / (2.0 * step)).epsilon(1e-5));
    }
}

TEST_CASE("published lift: a lower bound of every curve it may come from", "[geometry][random]") {
    std::mt19937 random(20261126);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int raised = 0;
    for (int i = 0; i < 200; ++i) {
        Setup s = make_lifting_setup();
        s.tractor.upper_link_pins = {{"1", known(0.240), known(0.960)}, {"2", known(0.250), known(1.01)}};
        s.choices.upper_link_pin = "1";
        s.tractor.lift_test.mast_height = known(0.610);
        if (i % 2 == 0) s.tractor.lift_test.upper_link_pin = "2";
        const MountedModel m = model_of(s);
        // Any force curve: a level, a slope, a hump.
        const double level = between(8000.0, 12000.0), slope = between(-6000.0, 6000.0),
                     hump = between(-2000.0, 2000.0);
        const auto curve = [&](double h) { return level + slope * (h - 0.55) + hump * std::sin(7.0 * h); };
        // The test: least force at the balls and 610 mm behind, in a rig built by hand with the pin of the test.
        PlanarLinkage rig = m.linkage;
        rig.upper_pin = Point(0.250, 1.01);
        rig.mast_pin = Point(0.0, 0.610);
        rig.upper_length = (Point(0.885, 0.500 + 0.610) - rig.upper_pin).norm();
        double at_balls = 1e9, at_610 = 1e9;
        for (int k = 0; k <= 4000; ++k) {
            const double h = m.travel.low + (m.travel.high - m.travel.low) * k / 4000.0;
            const LinkPoints points = find_link_points(rig, solve_pose(rig, h));
            const Point behind = place_point(solve_pose(rig, h), Point(0.610, 0.0));
            at_balls = std::min(at_balls, curve(h));
            at_610 = std::min(at_610, curve(h) / *find_rise_ratio(points, behind));
        }
        s.tractor.mass.lift_at_balls = known(at_balls);
        s.tractor.mass.lift_at_610 = known(at_610);
        const BallForceResult found = find_ball_force(s, m);
        REQUIRE(found.force.source == BallForceSource::published_least);
        for (int k = 0; k <= 50; ++k) {
            const double h = m.travel.low + (m.travel.high - m.travel.low) * k / 50.0;
            const double bound = *find_force_at(found.force, h);
            CHECK(bound <= curve(h) * (1.0 + 1e-9));
            CHECK(bound >= at_balls * (1.0 - 1e-12));
            raised += bound > at_balls * 1.0001 ? 1 : 0;
        }
        const std::optional<PublishedPair> pair = compare_published(found.force, m.travel);
        REQUIRE(pair);
        CHECK(pair->beyond == Approx(0.0).margin(1e-6));  // a pair of one machine agrees with its linkage
    }
    CHECK(raised > 500);  // the 610 mm figure does prove more in places
}

TEST_CASE("lift study: least capacity and the heights lifted, by brute force over the travel", "[geometry][random]") {
    std::mt19937 random(77);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int stalls = 0, lifts = 0;
    for (int i = 0; i < 60; ++i) {
        Setup s = make_lifting_setup();
        s.implement.mass = {known(between(300.0, 700.0)), known(between(0.3, 1.4)), known(between(-0.2, 0.6))};
        if (i % 3 == 0) {
            s.parts.coupler.fitted = true;
            s.parts.coupler.set_back = known(0.09);
            s.parts.coupler.hook_height = known(0.60);
            s.parts.coupler.pin_height = known(0.62);
            s.parts.coupler.mass = known(60.0);
            s.choices.upper_link_length = known(0.62);
        }
        if (i % 2 == 0)
            add_curve(s, {{0.15, between(5e3, 9e3)},
                          {0.45, between(6e3, 1.2e4)},
                          {0.75, between(4e3, 1e4)},
                          {1.0, between(3e3, 9e3)}});
        const MountedModel m = model_of(s);
        const LiftStudy study = study_lift_alone(s, m);
        REQUIRE(study.rise_known);
        if (study.answer == LiftAnswer::load_stops) continue;
        double least = 1e9;
        constexpr int steps = 3000;
        for (int k = 0; k <= steps; ++k) {
            const double h = study.travel.low + (study.travel.high - study.travel.low) * k / steps;
            const double g = 9.80665;
            double force = s.tractor.mass.lift_at_balls.value;
            if (i % 2 == 0) {
                const auto& p = s.tractor.lift_points;
                std::size_t at = 0;
                while (at + 2 < p.size() && h > p[at + 1].ball_height.value) ++at;
                const double share =
                    (h - p[at].ball_height.value) / (p[at + 1].ball_height.value - p[at].ball_height.value);
                force = p[at].force.value + share * (p[at + 1].force.value - p[at].force.value);
            }
            double coupler = 0.0;
            if (m.has_coupler)
                coupler = 60.0 * rise_by_differences(m, std::clamp(h, m.travel.low + 1e-5, m.travel.high - 1e-5),
                                                     Point(0.09, 0.0));
            const double rise = rise_by_differences(m, h, study.load_at);
            const double capacity = (force / g - coupler) / rise;
            least = std::min(least, capacity);
            const bool inside = std::any_of(study.lifted.begin(), study.lifted.end(),
                                            [&](const HeightRange& r) { return r.contains(h); });
            if (std::fabs(capacity - study.mass) > 0.02) CHECK(inside == (capacity > study.mass));
        }
        CHECK(study.least_capacity->value == Approx(least).margin(0.05));
        CHECK(study.least_capacity->bound <= least + 0.02);
        stalls += study.answer == LiftAnswer::stalls ? 1 : 0;
        lifts += study.answer == LiftAnswer::lifts ? 1 : 0;
    }
    CHECK(stalls >= 5);
    CHECK(lifts >= 5);
}

TEST_CASE("lift study: what is missing is named, and nothing is said outside a curve", "[geometry]") {
    Setup s = make_lifting_setup();
    s.implement.mass.mass = {};
    CHECK(study_lift(ErrorModel(s), model_of(s)).missing == std::vector<std::string>{"implement.mass.mass"});
    CHECK(study_lift(ErrorModel(s), model_of(s)).answer == LiftAnswer::not_known);
    s = make_lifting_setup();
    s.implement.mass.cg_x = {};
    CHECK(study_lift(ErrorModel(s), model_of(s)).missing == std::vector<std::string>{"implement.mass.cg_x"});
    CHECK(check_lift(ErrorModel(s), study_lift(ErrorModel(s), model_of(s))).empty());
    s = make_lifting_setup();
    s.tractor.mass.lift_at_balls = {};
    CHECK(study_lift(ErrorModel(s), model_of(s)).missing == std::vector<std::string>{"tractor.mass.lift_at_balls"});
    add_curve(s, {{0.4, 9000.0}, {0.7, 9000.0}});
    const LiftStudy part = study_lift(ErrorModel(s), model_of(s));
    CHECK_FALSE(part.whole_travel);
    CHECK(part.answer == LiftAnswer::not_assured);  // the top is not covered
    CHECK_FALSE(find_lift_row(part, model_of(s), 0.3).at_balls);
    CHECK(find_lift_row(part, model_of(s), 0.5).at_balls == Approx(9000.0));
}

TEST_CASE("lift findings: severity follows from what the force means and where it ends", "[geometry]") {
    const auto judge = [](const Setup& s) { return check_lift(ErrorModel(s), study_lift(ErrorModel(s), model_of(s))); };
    Setup s = make_lifting_setup();
    s.implement.mass.mass = known(300.0, 5.0);
    CHECK(one(judge(s), FindingKind::lift_capacity).severity == Severity::good);
    s.implement.mass.mass = known(2000.0);
    CHECK(one(judge(s), FindingKind::lift_capacity).severity == Severity::unknown);  // only the least is published
    CHECK(one(judge(s), FindingKind::lift_capacity).other == "not_assured");
    add_curve(s, {{0.1, 9000.0}, {1.0, 9000.0}});
    CHECK(one(judge(s), FindingKind::lift_capacity).severity == Severity::forbids);
    CHECK(one(judge(s), FindingKind::lift_capacity).other == "lifts_not");
    const LiftStudy free = study_lift(ErrorModel(s), model_of(s));
    const Finding least = one(judge(s), FindingKind::lift_capacity);
    CHECK(least.has_height);
    CHECK(least.rule.set);
    const LiftRow row = find_lift_row(free, model_of(s), least.height);
    CHECK(row.capacity == Approx(least.value).epsilon(1e-6));
    CHECK(row.needed == Approx(*row.at_balls * free.mass / *row.capacity));  // no coupler
    const double at_working = *find_lift_row(free, model_of(s), 0.300).capacity,
                 at_top = *find_lift_row(free, model_of(s), 0.950).capacity;
    REQUIRE(at_top < at_working);
    s.implement.mass.mass = known(0.5 * (at_top + at_working));
    const std::vector<Finding> stalls = judge(s);
    CHECK(one(stalls, FindingKind::lift_capacity).other == "stalls");
    CHECK(one(stalls, FindingKind::lift_capacity).severity == Severity::change);
    s.choices.working_ball_height = known(0.945);
    CHECK(one(judge(s), FindingKind::lift_capacity).severity == Severity::forbids);  // it does not come up to work
    s.choices.working_ball_height = {};
    s.implement.mass.mass = known(at_top - 1.0);  // within the 3 % of a weighing
    CHECK(one(judge(s), FindingKind::lift_capacity).severity == Severity::unknown);
    CHECK(one(judge(s), FindingKind::lift_capacity).band > 1.0);
}

TEST_CASE("lift in every hole: each row is the study of a set-up with that hole chosen, most first",
          "[geometry][metamorphic]") {
    Setup s = make_lifting_setup();
    s.tractor.upper_link_pins = {
        {"1", known(0.240), known(0.960)}, {"2", known(0.240), known(1.02)}, {"3", known(0.240), known(0.90)}};
    s.choices.upper_link_pin = "1";
    s.choices.upper_link_length = {};
    const std::vector<LiftHole> holes = study_lift_holes(s);
    REQUIRE(holes.size() == 3);
    for (std::size_t i = 0; i < holes.size(); ++i) {
        Setup one = s;
        one.choices.upper_link_pin = holes[i].tractor_pin;
        REQUIRE(holes[i].lift.least_capacity);
        CHECK(holes[i].lift.least_capacity->value == Approx(study_lift(ErrorModel(one), model_of(one)).least_capacity->value));
        CHECK(holes[i].is_present == (holes[i].tractor_pin == "1"));
        if (i > 0) CHECK(holes[i].lift.least_capacity->value <= holes[i - 1].lift.least_capacity->value);
    }
    CHECK(holes.front().tractor_pin == "2");  // a higher hole: the rear rises less, more is lifted
}

TEST_CASE("ball force: what a lift proven behind the balls lacks is the mast it was tested with", "[analytic]") {
    Setup s = make_lifting_setup();
    s.tractor.mass.lift_at_balls = {};
    CHECK(find_ball_force(s, model_of(s)).missing == std::vector<std::string>{"tractor.mass.lift_at_balls"});
    s.tractor.mass.lift_at_610 = known(12000.0);
    CHECK(find_ball_force(s, model_of(s)).missing == std::vector<std::string>{"tractor.lift_test.mast_height"});
}
