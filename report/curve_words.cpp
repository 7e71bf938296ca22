// See curve_words.h.
#include "report/curve_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/implement_heights.h"
#include "geometry/joint_findings.h"
#include "geometry/lift_study.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t longest_name = 24;

/// How a room stands to what is asked of it; each is worse than the one before.
enum class Room { enough, doubtful, little, none };

/// Halves, what they are held to and how they stand.
struct Tubes {
    TelescopingHalves halves;
    double gap_needed = 0.0, overlap_needed = 0.0;
    Room gap = Room::enough, overlap = Room::enough;
    bool in_work = false;  ///< `overlap_needed` is what is asked for in work
};

bool holds(const std::vector<HeightRange>& heights, double height) {
    return std::any_of(heights.begin(), heights.end(), [&](const HeightRange& r) { return r.contains(height); });
}

Room find_room(double room, double needed) {
    if (room < -rounding_slack) return Room::none;
    return room < needed - rounding_slack ? Room::little : Room::enough;
}

Room find_room(const std::vector<HeightRange>& doubtful, const std::vector<HeightRange>& little,
               const std::vector<HeightRange>& none, double height) {
    if (holds(none, height)) return Room::none;
    if (holds(little, height)) return Room::little;
    return holds(doubtful, height) ? Room::doubtful : Room::enough;
}

std::string say_room(double room, const SafeWords& w) { return room < 0.0 ? w.need(-room) + " short" : w.have(room); }

/// "by 3/8 in" where the value says so; at the edge of a band it may not.
std::string by(double room, const SafeWords& w) {
    return room < -rounding_slack ? " by " + w.need(-room) : std::string();
}

CurveWords say_length(double length, const std::optional<Tubes>& tubes, const SafeWords& w) {
    const std::string shown = w.place(length);
    if (!tubes) return {shown, false};
    const double gap = find_gap(tubes->halves, length), overlap = find_overlap(tubes->halves, length);
    if (tubes->gap == Room::none) return {fmt::format("{}, bottoms out{}", shown, by(gap, w)), true};
    if (tubes->overlap == Room::none) return {fmt::format("{}, apart{}", shown, by(overlap, w)), true};
    if (tubes->gap == Room::little) {
        const ShownPair pair = w.have_need(gap, tubes->gap_needed);
        return {fmt::format("{}, gap {}, {} needed", shown, pair.value, pair.limit), true};
    }
    if (tubes->overlap == Room::little)
        return {shown + (tubes->in_work ? ", too little overlap in work" : ", too little overlap"), true};
    if (tubes->gap == Room::doubtful) return {fmt::format("{}, gap {}, in doubt", shown, say_room(gap, w)), true};
    if (tubes->overlap == Room::doubtful) return {shown + ", overlap in doubt", true};
    return {fmt::format("{}, gap {}", shown, w.have(gap)), false};
}

CurveWords say_overlap(double length, const Tubes& tubes, const SafeWords& w) {
    const double overlap = find_overlap(tubes.halves, length);
    if (tubes.overlap == Room::none) return {"apart" + by(overlap, w), true};
    if (tubes.overlap == Room::doubtful)
        return {fmt::format("{}, in doubt: {} needed{}", say_room(overlap, w), w.need(tubes.overlap_needed),
                            tubes.in_work ? " in work" : ""),
                true};
    const ShownPair pair = w.have_need(overlap, tubes.overlap_needed);
    const bool bad = tubes.overlap == Room::little;
    return {fmt::format("{}{}{} needed{}", pair.value, bad ? ", too little: " : ", ", pair.limit,
                        tubes.in_work ? " in work" : ""),
            bad};
}

/// Worst limit that an angle passes.
const char* joint_state(double angle, const JointLimits& l) {
    if (l.stop.set && angle > l.stop.value) return "past its stop";
    if (l.pto_off.set && angle > l.pto_off.value) return "PTO off";
    return l.free.set && angle > l.free.value ? "no work" : "free";
}

const char* joint_state(const JointBands& b, double height) {
    if (holds(b.past_stop, height)) return "past its stop";
    if (holds(b.pto_off, height)) return "PTO off";
    return holds(b.no_work, height) ? "no work" : "free";
}

CurveWords say_joints(double front, const std::string& at_front, double rear, const std::string& at_rear) {
    const std::string a = format_angle(front, Rounding::up), b = format_angle(rear, Rounding::up);
    if (at_front == at_rear) return {fmt::format("front {}, rear {}: {}", a, b, at_front), at_front != "free"};
    return {fmt::format("front {}: {}, rear {}: {}", a, at_front, b, at_rear), true};
}

CurveWords say_joints(const Setup& setup, double front, double rear) {
    return say_joints(front, joint_state(front, find_joint_limits(setup, JointEnd::tractor)), rear,
                      joint_state(rear, find_joint_limits(setup, JointEnd::implement)));
}

CurveWords say_joints(const Setup& setup, const PoseReport& pose, const TravelBands* bands) {
    if (bands == nullptr || !bands->tractor_joint || !bands->implement_joint)
        return say_joints(setup, pose.tractor_angle, pose.implement_angle);
    const double height = pose.pose.ball_height;
    return say_joints(pose.tractor_angle, joint_state(*bands->tractor_joint, height), pose.implement_angle,
                      joint_state(*bands->implement_joint, height));
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
        if (below) return {"not asked below work: it stands on the ground", false};
        const bool judged = judges_lift_at(lift, pose.pose.ball_height);
        const LiftRow row = find_lift_row(lift, a.linkage->model, pose.pose.ball_height);
        if (judged && row.at_balls && row.rise <= 0.0)
            return {"the load does not rise here: no mass can be said", false};
        return {"not known here", false};
    }
    const std::string shown = "carries " + format_mass(*carries, units, Rounding::down);
    if (!lift.mass_known) return {shown, false};
    const double margin = *carries - lift.mass;
    return {fmt::format("{}, {} {}", shown,
                        format_mass(std::fabs(margin), units, margin < 0.0 ? Rounding::up : Rounding::down),
                        margin < 0.0 ? "too little" : "to spare"),
            margin < 0.0};
}

/// By the bare values.
std::optional<Tubes> tubes_of(bool has_plan, const TelescopingHalves& halves, const CutLimits& limits,
                              const CutPlan& plan, double length) {
    if (!has_plan) return std::nullopt;
    const double gap = limits.gap_required, overlap = plan.uncut.overlap_needed;
    return Tubes{halves, gap, overlap, find_room(find_gap(halves, length), gap),
                 find_room(find_overlap(halves, length), overlap)};
}

/// What is asked for in work counts there where it is more.
void hold_to_work(Tubes& tubes, const Analysis& a, const PoseReport& pose) {
    const double needed = a.shaft->plan.uncut.overlap_in_work_needed;
    if (needed <= tubes.overlap_needed || !a.linkage->model.working_band.contains(pose.pose.ball_height)) return;
    const auto found = std::find_if(a.findings.begin(), a.findings.end(),
                                    [](const Finding& f) { return f.kind == FindingKind::overlap_in_work; });
    const double error = found == a.findings.end() ? 0.0 : found->band;
    const double overlap = find_overlap(tubes.halves, pose.shaft_length);
    tubes.in_work = true;
    tubes.overlap_needed = needed;
    if (overlap < needed - error - rounding_slack) tubes.overlap = std::max(tubes.overlap, Room::little);
    else if (error > 0.0 && overlap < needed + error) tubes.overlap = std::max(tubes.overlap, Room::doubtful);
}

std::optional<Tubes> tubes_at(const Analysis& a, const PoseReport& pose, const TravelBands* bands) {
    if (!a.shaft) return std::nullopt;
    const ShaftAnalysis& s = *a.shaft;
    std::optional<Tubes> tubes = tubes_of(s.has_plan, a.linkage->model.halves, s.limits, s.plan, pose.shaft_length);
    if (!tubes) return tubes;
    if (bands != nullptr && bands->tubes) {
        const TubeBands& b = *bands->tubes;
        const double height = pose.pose.ball_height;
        tubes->gap = find_room(b.gap_doubtful, b.gap_short, b.bottoms_out, height);
        tubes->overlap = find_room(b.overlap_doubtful, b.overlap_short, b.apart, height);
    }
    hold_to_work(*tubes, a, pose);
    return tubes;
}

}  // namespace

std::string say_pitch(double radians) {
    const std::string angle = format_angle(std::fabs(radians));
    if (angle == format_angle(0.0)) return "level";
    return radians > 0.0 ? fmt::format("+{}, rear up", angle) : fmt::format("-{}, rear down", angle);
}

CurveWords say_curve(CurveKind kind, const Setup& setup, const Analysis& a, const PoseReport& pose, UnitSystem units,
                     const TravelBands* bands) {
    const SafeWords w{units};
    if (!pose.pose.closes) return {"the linkage does not close here", true};
    const std::optional<Tubes> tubes = tubes_at(a, pose, bands);
    switch (kind) {
        case CurveKind::pitch:
            return {say_pitch(pose.pose.pitch), false};
        case CurveKind::tail_height:
            return say_heights(setup, a, pose, w);
        case CurveKind::shaft_length:
            return say_length(pose.shaft_length, tubes, w);
        case CurveKind::joint_angles:
            return say_joints(setup, pose, bands);
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
    const std::optional<Tubes> tubes = tubes_of(drawn.has_plan, drawn.model.halves, drawn.limits, drawn.plan, s.length);
    if (kind == CurveKind::joint_angles) return say_joints(setup, s.tractor_angle, s.implement_angle);
    if (kind == CurveKind::overlap && tubes) return say_overlap(s.length, *tubes, w);
    return kind == CurveKind::shaft_length ? say_length(s.length, tubes, w) : CurveWords{"not known", false};
}

}  // namespace hitchwright
