// See lift_travel.h.
#include "geometry/lift_travel.h"

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

/// Two routes to one rod pin agree better than this, m, unless they are on different branches.
constexpr double same_pin = 1e-6;

/// `angle` moved by whole turns to the first value not below `low`.
double turn_up_from(double low, double angle) {
    const double beyond = std::fmod(angle - low, 2.0 * pi);
    return low + (beyond < 0.0 ? beyond + 2.0 * pi : beyond);
}

/// A position of arm and rod in one line.
struct InLine {
    double arm_angle = 0.0;
    Point rod_pin = Point::Zero();
};

/// Directions of the arm at both ends of a range of less than half a turn.
struct ArmRange {
    Point low, high;

    ArmRange(const LiftLinkage& lift, const LiftPose& at_low, const LiftPose& at_high)
        : low(at_low.arm_end - lift.arm_pivot), high(at_high.arm_end - lift.arm_pivot) {}

    /// False only where `v` surely does not point between them: angles are found for the others alone.
    bool may_hold(const Point& v) const {
        constexpr double sine = 1e-6;
        const double length = v.norm();
        return !(cross(low, v) < -sine * low.norm() * length || cross(v, high) < -sine * high.norm() * length);
    }
};

/// True when the rod pin with arm and rod in line, the arm along `arm`, surely belongs to the other branch of lift_linkage.h.
bool is_mirrored(const LiftLinkage& lift, const Point& arm, const Point& rod_pin) {
    const Point arm_end = lift.arm_pivot + lift.arm_length * arm, line = lift.lower_pivot - arm_end;
    return cross(line, rod_pin - arm_end) < -same_pin * line.norm();
}

/// Calls `use` with each position with arm and rod in one line that may lie in the range: stretched and folded, on both sides.
template <class F>
void visit_in_line(const LiftLinkage& lift, const ArmRange& range, const F& use) {
    const double folded = lift.arm_length - lift.rod_length;
    for (const double reach : {lift.arm_length + lift.rod_length, folded}) {
        for (const Side side : {Side::left, Side::right}) {
            const CircleIntersection meeting = find_circle_intersection(lift.arm_pivot, std::abs(reach),
                                                                        lift.lower_pivot, find_pin_radius(lift), side);
            if (!meeting.meet || reach == 0.0) continue;
            const Point arm = (meeting.at - lift.arm_pivot) / reach;
            if (range.may_hold(arm) && !is_mirrored(lift, arm, meeting.at)) use(InLine{direction(arm), meeting.at});
        }
    }
}

/// The worse of two closures; what cannot be told is worst, and the first of equals.
const Closure& find_worse(const Closure& a, const Closure& b) {
    if (a.misfit == Misfit::undefined) return a;
    return b.misfit == Misfit::undefined || b.shortfall > a.shortfall ? b : a;
}

/// True when the rod closes with the arm's end at its farthest from the lower-link pivot, or at its nearest; not where that is close.
bool surely_closes(const LiftLinkage& lift, bool farthest) {
    constexpr double clear = 1e-9;
    const double apart = (lift.arm_pivot - lift.lower_pivot).norm(), radius = find_pin_radius(lift);
    const double reach = farthest ? apart + lift.arm_length : std::abs(apart - lift.arm_length);
    return reach < lift.rod_length + radius - clear && reach > std::abs(lift.rod_length - radius) + clear;
}

/// Worst over the range: at its ends, or where arm end and lower-link pivot are farthest apart or nearest.
Closure find_worst_closure(const LiftLinkage& lift, double arm_low, double arm_high, const LiftPose& at_low, const LiftPose& at_high) {
    Closure worst = find_worse(find_worse({}, at_low.closure), at_high.closure);
    const bool ends_close = at_low.closure.closes() && at_high.closure.closes();
    const ArmRange range(lift, at_low, at_high);
    const Point line = lift.arm_pivot - lift.lower_pivot;
    for (const bool farthest : {true, false}) {
        if (ends_close && (!range.may_hold(farthest ? line : Point(-line)) || surely_closes(lift, farthest))) continue;
        const double angle = turn_up_from(arm_low, direction(line) + (farthest ? 0.0 : pi));
        if (angle < arm_high) worst = find_worse(worst, solve_lift_from_arm(lift, angle).closure);
    }
    return worst;
}

/// Widens `travel` to the position at `arm_angle`.
void take_in(LiftTravel& travel, const LiftPose& pose) {
    if (!pose.closure.closes()) {
        travel.closure = pose.closure;
    } else if (std::abs(pose.lower_link_angle) > 0.5 * pi) {
        travel.closure = {LinkagePart::lower_link, Misfit::undefined, 0.0};
    }
    travel.heights.low = std::min(travel.heights.low, pose.ball_height);
    travel.heights.high = std::max(travel.heights.high, pose.ball_height);
}

bool is_range(const HeightRange& range) {
    return std::isfinite(range.low) && std::isfinite(range.high) && range.low <= range.high;
}

}  // namespace

LiftTravel find_lift_travel(const LiftLinkage& lift, double arm_low, double arm_high) {
    LiftTravel travel;
    if (!std::isfinite(arm_low) || !std::isfinite(arm_high) || !(arm_low < arm_high) || arm_high - arm_low >= pi) {
        travel.closure = {LinkagePart::lift_arm, Misfit::undefined, 0.0};
        return travel;
    }
    const LiftPose first = solve_lift_from_arm(lift, arm_low), last = solve_lift_from_arm(lift, arm_high);
    travel.closure = find_worst_closure(lift, arm_low, arm_high, first, last);
    if (!travel.closure.closes()) {
        return travel;
    }
    travel.heights = {first.ball_height, first.ball_height};
    take_in(travel, first);
    take_in(travel, last);
    // Between the ends the link turns back only where arm and rod are in line.
    visit_in_line(lift, {lift, first, last}, [&](const InLine& in_line) {
        const double angle = turn_up_from(arm_low, in_line.arm_angle);
        if (angle >= arm_high) return;
        const LiftPose pose = solve_lift_from_arm(lift, angle);
        const Point apart = pose.rod_pin - in_line.rod_pin;
        if (pose.closure.closes() && std::hypot(apart.x(), apart.y()) < same_pin) {
            travel.dead_centre_within = true;
            take_in(travel, pose);
        }
    });
    if (!travel.closure.closes()) {
        travel.heights = {};
    }
    return travel;
}

CombinedTravel combine_travel(const std::optional<HeightRange>& typed, const std::optional<HeightRange>& lift_arm,
                              double free_rise) {
    CombinedTravel travel;
    const bool sound = (!typed || is_range(*typed)) && (!lift_arm || is_range(*lift_arm)) && std::isfinite(free_rise) &&
                       free_rise >= 0.0;
    if ((!typed && !lift_arm) || !sound) {
        return travel;
    }
    travel.known = true;
    if (!typed || !lift_arm) {
        const TravelBound bound = typed ? TravelBound::typed : TravelBound::lift_arm;
        const HeightRange only = typed ? *typed : HeightRange{lift_arm->low, lift_arm->high + free_rise};
        travel.low = {only.low, bound, 0.0};
        travel.high = {only.high, bound, 0.0};
        return travel;
    }
    const double arm_high = lift_arm->high + free_rise;
    travel.low = {std::max(typed->low, lift_arm->low),
                  lift_arm->low > typed->low ? TravelBound::lift_arm : TravelBound::typed,
                  std::abs(lift_arm->low - typed->low)};
    travel.high = {std::min(typed->high, arm_high), arm_high < typed->high ? TravelBound::lift_arm : TravelBound::typed,
                   std::abs(arm_high - typed->high)};
    travel.empty = travel.low.height > travel.high.height;
    travel.gap = travel.empty ? travel.low.height - travel.high.height : 0.0;
    return travel;
}

}  // namespace hitchwright
