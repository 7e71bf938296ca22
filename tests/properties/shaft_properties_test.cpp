// The shaft: overlap and gap over its length, what a cut takes, and what joints do when the ends change places.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "geometry/angle.h"
#include "geometry/driveline_geometry.h"
#include "geometry/shaft_cut.h"
#include "geometry/telescoping.h"
#include "geometry/two_joint.h"
#include "geometry/wide_angle_joint.h"
#include "tests/properties/check_property.h"

namespace hitchwright {

// Found by RapidCheck beside the types themselves.
void showValue(const TelescopingHalves& h, std::ostream& out) {
    out << "closed " << h.closed_length << ", tubes " << h.tube_a << ", " << h.tube_b;
}
void showValue(const CutPair& c, std::ostream& out) { out << c.a << " and " << c.b; }

}  // namespace hitchwright

using namespace hitchwright;
using properties::check_property;

namespace {

constexpr double rounding = 1e-12;

double draw_millimetres(int low, int high) { return *rc::gen::inRange(low, high + 1) / 1000.0; }

rc::Gen<TelescopingHalves> any_halves() {
    return rc::gen::exec([] {
        const double a = draw_millimetres(50, 1500), b = draw_millimetres(50, 1500);
        return TelescopingHalves{std::max(a, b) + draw_millimetres(0, 600), a, b};
    });
}

/// A cut that leaves something of both tubes.
CutPair draw_cut(const TelescopingHalves& h) {
    return {h.tube_a * *rc::gen::inRange(0, 999) / 1000.0, h.tube_b * *rc::gen::inRange(0, 999) / 1000.0};
}

CutLimits draw_limits() {
    const double gap = draw_millimetres(0, 80);
    return {gap, gap + draw_millimetres(0, 40), draw_millimetres(1, 200), *rc::gen::inRange(0, 60) / 100.0, 0.5};
}

/// Gap and overlap of a cut, judged by the rules as they are written, from the halves alone.
bool keeps_rules(const TelescopingHalves& h, const CutPair& cut, const ShaftTravel& t, const CutLimits& l, double slack) {
    const double a = h.tube_a - cut.a, b = h.tube_b - cut.b;
    if (cut.a < 0.0 || cut.b < 0.0 || a <= 0.0 || b <= 0.0) return false;
    const double root = h.closed_length - std::max(h.tube_a, h.tube_b);
    const double overlap = root + a + b - t.longest;
    return t.shortest - (root + std::max(a, b)) >= l.gap_required - slack && overlap >= l.overlap_least - slack &&
           overlap >= l.overlap_fraction * std::max(a, b) - slack;
}

Eigen::Vector3d draw_axis() {
    return make_shaft_axis(to_radians(*rc::gen::inRange(-60, 61)), to_radians(*rc::gen::inRange(-60, 61)));
}
Eigen::Vector3d draw_place(int from_x) {
    return {draw_millimetres(from_x, from_x + 1500), draw_millimetres(-400, 400), draw_millimetres(-400, 400)};
}

}  // namespace

TEST_CASE("property: a millimetre of length is a millimetre of overlap less and of gap more", "[random][analytic]") {
    check_property(3000, [] {
        const TelescopingHalves h = *any_halves();
        RC_ASSERT(check_halves(h) == HalvesStatus::ok);
        const double length = draw_millimetres(100, 4000), longer = length + draw_millimetres(1, 1000);
        RC_ASSERT(find_overlap(h, longer) < find_overlap(h, length));
        RC_ASSERT(find_gap(h, longer) > find_gap(h, length));
        RC_ASSERT(std::fabs(find_overlap(h, length) - find_overlap(h, longer) - (longer - length)) < rounding);
        RC_ASSERT(std::fabs(find_overlap(h, length) + find_gap(h, length) - std::min(h.tube_a, h.tube_b)) < rounding);
        RC_ASSERT(bottoms_out(h, length) == (length < h.closed_length));
    });
}

TEST_CASE("property: a cut takes from the overlap what it takes from both tubes, and the roots stay", "[random][analytic]") {
    check_property(3000, [] {
        const TelescopingHalves h = *any_halves();
        const CutPair first = draw_cut(h);
        const CutHalves once = cut_halves(h, first);
        RC_ASSERT(once.status == CutStatus::ok);
        const double length = draw_millimetres(100, 4000);
        RC_ASSERT(std::fabs(find_overlap(h, length) - find_overlap(once.halves, length) - first.a - first.b) < rounding);
        RC_ASSERT(std::fabs(find_root_length(h) - find_root_length(once.halves)) < rounding);
        RC_ASSERT(once.halves.closed_length <= h.closed_length + rounding);
        // The closed length falls by what is cut of the longer tube, until the other is the longer.
        const double longer = std::max(h.tube_a, h.tube_b), left = std::max(h.tube_a - first.a, h.tube_b - first.b);
        RC_ASSERT(std::fabs(h.closed_length - once.halves.closed_length - (longer - left)) < rounding);
        // Two cuts are one of their sum.
        const CutPair second = draw_cut(once.halves);
        const CutHalves twice = cut_halves(once.halves, second), together = cut_halves(h, {first.a + second.a, first.b + second.b});
        RC_ASSERT(std::fabs(twice.halves.closed_length - together.halves.closed_length) < rounding);
        RC_ASSERT(std::fabs(twice.halves.tube_a - together.halves.tube_a) < rounding);
        RC_ASSERT(std::fabs(twice.halves.tube_b - together.halves.tube_b) < rounding);
    });
}

TEST_CASE("property: the same X off both halves takes X of the closed length and twice X of the overlap", "[random][analytic]") {
    check_property(2000, [] {
        const TelescopingHalves h = *any_halves();
        const double cut = std::min(h.tube_a, h.tube_b) * *rc::gen::inRange(0, 999) / 1000.0;
        const CutHalves c = cut_halves(h, {cut, cut});
        RC_ASSERT(c.status == CutStatus::ok);
        const double length = draw_millimetres(100, 4000);
        RC_ASSERT(std::fabs(h.closed_length - c.halves.closed_length - cut) < rounding);
        RC_ASSERT(std::fabs(find_overlap(h, length) - find_overlap(c.halves, length) - 2.0 * cut) < rounding);
        RC_ASSERT(std::fabs(find_gap(c.halves, length) - find_gap(h, length) - cut) < rounding);
    });
}

TEST_CASE("property: cuts for a closed length reach it, and a little less does not", "[random]") {
    check_property(2000, [] {
        const TelescopingHalves h = *any_halves();
        const double target = h.closed_length - std::min(h.tube_a, h.tube_b) * *rc::gen::inRange(0, 900) / 1000.0;
        const CutPair cut = find_cuts_for_closed_length(h, target);
        const CutHalves c = cut_halves(h, cut);
        RC_ASSERT(c.status == CutStatus::ok);
        RC_ASSERT(std::fabs(c.halves.closed_length - target) < rounding);
        for (const CutPair& less : {CutPair{cut.a - 1e-4, cut.b}, CutPair{cut.a, cut.b - 1e-4}}) {
            if (less.a < 0.0 || less.b < 0.0) continue;
            RC_ASSERT(cut_halves(h, less).halves.closed_length > target + 0.5e-4);
        }
    });
}

TEST_CASE("property: the cut that is recommended keeps the rules as written, and where none is no other does", "[random]") {
    check_property(2000, [] {
        const TelescopingHalves h = *any_halves();
        const double shortest = draw_millimetres(200, 2500);
        const ShaftTravel travel{shortest, shortest + draw_millimetres(0, 800)};
        const CutLimits limits = draw_limits();
        const CutPlan plan = plan_cut(h, travel, limits, millimetre_mark);
        RC_ASSERT(is_answered(plan));
        const bool works = plan.answer != CutAnswer::no_cut_works;
        if (works) RC_ASSERT(keeps_rules(h, plan.recommended, travel, limits, 2.0 * cut_tolerance));
        RC_ASSERT((plan.answer == CutAnswer::no_cut_needed) == keeps_rules(h, {}, travel, limits, cut_tolerance));
        for (const CutPair& corner : plan.admissible) {
            RC_ASSERT(keeps_rules(h, corner, travel, limits, 2.0 * cut_tolerance) || std::max(corner.a - h.tube_a, corner.b - h.tube_b) > -1e-6);
        }
        for (int i = 0; i < 5; ++i) {
            const CutPair any = draw_cut(h);
            if (keeps_rules(h, any, travel, limits, -cut_tolerance)) RC_ASSERT(works && any.a + any.b >= plan.least_total - cut_tolerance);
        }
    });
}

TEST_CASE("property: two joints turn as unevenly whichever end drives", "[random][metamorphic]") {
    check_property(2000, [] {
        const double b1 = to_radians(*rc::gen::inRange(0, 85)), b2 = to_radians(*rc::gen::inRange(0, 85));
        const double f = to_radians(*rc::gen::inRange(-179, 181)), g = to_radians(*rc::gen::inRange(-20, 21));
        const TwoJointMotion one = find_two_joint_motion({b1, b2, f, g}), other = find_two_joint_motion({b2, b1, f, g});
        RC_ASSERT(std::fabs(one.equivalent_angle - other.equivalent_angle) < 1e-9);
        RC_ASSERT(std::fabs(one.motion.non_uniformity - other.motion.non_uniformity) < 1e-8 * (1.0 + one.motion.non_uniformity));
        // Turned by 180 deg the yokes are where they were; no phase does better than the best one.
        const TwoJointMotion half_round = find_two_joint_motion({b1, b2, f, g + 3.14159265358979323846});
        RC_ASSERT(std::fabs(one.equivalent_angle - half_round.equivalent_angle) < 1e-7);
        const TwoJointMotion best = find_two_joint_motion({b1, b2, f, find_best_yoke_phase(f)});
        RC_ASSERT(best.equivalent_angle <= one.equivalent_angle + 1e-9);
    });
}

TEST_CASE("property: a driveline seen from the other end has its joints exchanged and its length the same", "[random][metamorphic]") {
    check_property(1500, [] {
        const MachineShaft stub{draw_place(0), draw_axis(), draw_millimetres(0, 60), 0.0};
        const MachineShaft input{draw_place(1700), draw_axis(), draw_millimetres(0, 60), draw_millimetres(0, 90)};
        const auto reversed = [](const MachineShaft& s) { return MachineShaft{-s.end, s.axis, s.joint_offset, s.added_length}; };
        const DrivelinePose p = find_driveline_pose(stub, input), q = find_driveline_pose(reversed(input), reversed(stub));
        RC_ASSERT((p.status == DrivelineStatus::ok && q.status == DrivelineStatus::ok));
        RC_ASSERT(std::fabs(p.length - q.length) < rounding);
        RC_ASSERT(std::fabs(p.tractor_joint_angle - q.implement_joint_angle) < rounding);
        RC_ASSERT(std::fabs(p.implement_joint_angle - q.tractor_joint_angle) < rounding);
        const double w = draw_millimetres(20, 150);
        const WideAngleDriveline a = find_wide_angle_driveline(stub, input, MachineEnd::tractor, w);
        const WideAngleDriveline b = find_wide_angle_driveline(reversed(input), reversed(stub), MachineEnd::implement, w);
        RC_ASSERT((a.wide.solution.status == WideAngleStatus::ok && b.wide.solution.status == WideAngleStatus::ok));
        RC_ASSERT(std::fabs(a.length - b.length) < rounding);
        RC_ASSERT(std::fabs(a.wide_joint_angle - b.wide_joint_angle) < 1e-9);
        RC_ASSERT(std::fabs(a.plain_joint_angle - b.plain_joint_angle) < 1e-9);
        // C2 is w from C1, the straight part goes on from there to K, and the bend is halved at each cross.
        const Eigen::Vector3d across = a.wide.second_cross - a.wide.first_cross, straight = find_implement_joint(input) - a.wide.second_cross;
        RC_ASSERT(std::fabs(across.norm() - w) < rounding);
        RC_ASSERT(std::fabs(straight.norm() + 0.5 * w - a.length) < 1e-11);
        RC_ASSERT(std::fabs(find_angle_between(stub.axis, across) - find_angle_between(across, straight)) < 1e-9);
    });
}
