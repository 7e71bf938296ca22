// See curve_words.h.
#include "report/curve_words.h"

#include <fmt/format.h>

#include <cmath>

#include "geometry/implement_heights.h"
#include "geometry/joint_findings.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t longest_name = 24;

/// Halves and what they are held to.
struct Tubes {
    TelescopingHalves halves;
    double gap_needed = 0.0, overlap_needed = 0.0;
};

CurveWords say_length(double length, const std::optional<Tubes>& tubes, const SafeWords& w) {
    const std::string shown = w.place(length);
    if (!tubes) return {shown, false};
    const double gap = find_gap(tubes->halves, length), overlap = find_overlap(tubes->halves, length);
    if (gap < -rounding_slack) return {fmt::format("{}, bottoms out by {}", shown, w.need(-gap)), true};
    if (overlap < -rounding_slack) return {fmt::format("{}, apart by {}", shown, w.need(-overlap)), true};
    if (gap < tubes->gap_needed - rounding_slack) {
        const ShownPair pair = w.have_need(gap, tubes->gap_needed);
        return {fmt::format("{}, gap {}, {} needed", shown, pair.value, pair.limit), true};
    }
    if (overlap < tubes->overlap_needed - rounding_slack) return {shown + ", too little overlap", true};
    return {fmt::format("{}, gap {}", shown, w.have(gap)), false};
}

CurveWords say_overlap(double length, const Tubes& tubes, const SafeWords& w) {
    const double overlap = find_overlap(tubes.halves, length);
    if (overlap < -rounding_slack) return {fmt::format("apart by {}", w.need(-overlap)), true};
    const ShownPair pair = w.have_need(overlap, tubes.overlap_needed);
    const bool bad = overlap < tubes.overlap_needed - rounding_slack;
    return {fmt::format("{}{}{} needed", pair.value, bad ? ", too little: " : ", ", pair.limit), bad};
}

/// Worst limit that an angle passes.
const char* joint_state(double angle, const JointLimits& l) {
    if (l.stop.set && angle > l.stop.value) return "past its stop";
    if (l.pto_off.set && angle > l.pto_off.value) return "PTO off";
    return l.free.set && angle > l.free.value ? "no work" : "free";
}

CurveWords say_joints(const Setup& setup, double front, double rear) {
    const std::string at_front = joint_state(front, find_joint_limits(setup, JointEnd::tractor));
    const std::string at_rear = joint_state(rear, find_joint_limits(setup, JointEnd::implement));
    const std::string a = format_angle(front, Rounding::up), b = format_angle(rear, Rounding::up);
    if (at_front == at_rear) return {fmt::format("front {}, rear {}: {}", a, b, at_front), at_front != "free"};
    return {fmt::format("front {}: {}, rear {}: {}", a, at_front, b, at_rear), true};
}

std::string say_height(double height, const SafeWords& w) {
    return height < -rounding_slack ? w.place(-height) + " below the ground" : w.place(height);
}

CurveWords say_heights(const Setup& setup, const Analysis& a, const PoseReport& pose, const SafeWords& w) {
    const std::vector<HeldPoint> points = list_held_points(setup.implement, a.linkage->model);
    if (points.empty()) return {"no point of the implement is measured", false};
    const PointHeight tail = *find_tail_height(points, pose.pose), lowest = *find_lowest_height(points, pose.pose);
    const std::string at_tail = fmt::format("tail {}", say_height(tail.height, w));
    if (tail == lowest) return {at_tail + ", its lowest point", false};
    return {fmt::format("{}; lowest {}: {}", at_tail, say_height(lowest.height, w),
                        printable_text(lowest.name, longest_name)),
            false};
}

CurveWords say_lift(const Setup& setup, const Analysis& a, const PoseReport& pose, UnitSystem units) {
    const LiftStudy& lift = *a.lift;
    const std::optional<double> carries = find_travel_quantity(setup, a, pose, TravelQuantity::capacity);
    if (!carries) {
        const bool below = pose.pose.ball_height < lift.travel.low;
        return {below ? "not asked below work: it stands on the ground" : "not known here", false};
    }
    const std::string shown = "carries " + format_mass(*carries, units, Rounding::down);
    if (!lift.mass_known) return {shown, false};
    const double margin = *carries - lift.mass;
    return {fmt::format("{}, {} {}", shown,
                        format_mass(std::fabs(margin), units, margin < 0.0 ? Rounding::up : Rounding::down),
                        margin < 0.0 ? "too little" : "to spare"),
            margin < 0.0};
}

std::optional<Tubes> tubes_of(bool has_plan, const TelescopingHalves& halves, const CutLimits& limits,
                              const CutPlan& plan) {
    if (!has_plan) return std::nullopt;
    return Tubes{halves, limits.gap_required, plan.uncut.overlap_needed};
}

}  // namespace

std::string say_pitch(double radians) {
    const std::string angle = format_angle(std::fabs(radians));
    if (angle == format_angle(0.0)) return "level";
    return radians > 0.0 ? fmt::format("+{}, rear up", angle) : fmt::format("-{}, rear down", angle);
}

CurveWords say_curve(CurveKind kind, const Setup& setup, const Analysis& a, const PoseReport& pose, UnitSystem units) {
    const SafeWords w{units};
    if (!pose.pose.closes) return {"the linkage does not close here", true};
    std::optional<Tubes> tubes;
    if (a.shaft) tubes = tubes_of(a.shaft->has_plan, a.linkage->model.halves, a.shaft->limits, a.shaft->plan);
    switch (kind) {
        case CurveKind::pitch:
            return {say_pitch(pose.pose.pitch), false};
        case CurveKind::tail_height:
            return say_heights(setup, a, pose, w);
        case CurveKind::shaft_length:
            return say_length(pose.shaft_length, tubes, w);
        case CurveKind::joint_angles:
            return say_joints(setup, pose.tractor_angle, pose.implement_angle);
        case CurveKind::overlap:
            return tubes ? say_overlap(pose.shaft_length, *tubes, w) : CurveWords{"not known", false};
        case CurveKind::lift:
            return a.lift ? say_lift(setup, a, pose, units) : CurveWords{"not known", false};
    }
    return {};
}

CurveWords say_turn_curve(CurveKind kind, const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude,
                          UnitSystem units) {
    const SafeWords w{units};
    const DrivelineState s = find_driveline_state(drawn.model, attitude);
    const std::optional<Tubes> tubes = tubes_of(drawn.has_plan, drawn.model.halves, drawn.limits, drawn.plan);
    if (kind == CurveKind::joint_angles) return say_joints(setup, s.tractor_angle, s.implement_angle);
    if (kind == CurveKind::overlap && tubes) return say_overlap(s.length, *tubes, w);
    return kind == CurveKind::shaft_length ? say_length(s.length, tubes, w) : CurveWords{"not known", false};
}

}  // namespace hitchwright
