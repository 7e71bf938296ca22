// See lift_travel.h.
#include "geometry/lift_travel.h"

#include <algorithm>
#include <cmath>
#include <vector>

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

/// All positions with arm and rod in one line, stretched and folded, on both sides.
std::vector<InLine> find_in_line(const LiftLinkage& lift) {
    std::vector<InLine> found;
    const double folded = lift.arm_length - lift.rod_length;
    for (const double reach : {lift.arm_length + lift.rod_length, folded}) {
        for (const Side side : {Side::left, Side::right}) {
            const CircleIntersection meeting = find_circle_intersection(lift.arm_pivot, std::abs(reach),
                                                                        lift.lower_pivot, find_pin_radius(lift), side);
            if (meeting.meet && reach != 0.0) {
                const Point arm = (meeting.at - lift.arm_pivot) / reach;
                found.push_back({direction(arm), meeting.at});
            }
        }
    }
    return found;
}

/// Arm angles in the range at which arm end and lower-link pivot are farthest apart or nearest, and the two ends.
std::vector<double> find_closure_extremes(const LiftLinkage& lift, double arm_low, double arm_high) {
    std::vector<double> angles = {arm_low, arm_high};
    const double farthest = direction(lift.arm_pivot - lift.lower_pivot);
    for (const double angle : {farthest, farthest + pi}) {
        const double turned = turn_up_from(arm_low, angle);
        if (turned < arm_high) {
            angles.push_back(turned);
        }
    }
    return angles;
}

Closure find_worst_closure(const LiftLinkage& lift, const std::vector<double>& arm_angles) {
    Closure worst;
    for (const double angle : arm_angles) {
        const Closure closure = solve_lift_from_arm(lift, angle).closure;
        if (closure.misfit == Misfit::undefined) {
            return closure;
        }
        if (closure.shortfall > worst.shortfall) {
            worst = closure;
        }
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
    travel.closure = find_worst_closure(lift, find_closure_extremes(lift, arm_low, arm_high));
    if (!travel.closure.closes()) {
        return travel;
    }
    const LiftPose first = solve_lift_from_arm(lift, arm_low);
    travel.heights = {first.ball_height, first.ball_height};
    take_in(travel, first);
    take_in(travel, solve_lift_from_arm(lift, arm_high));
    // Between the ends the link turns back only where arm and rod are in line.
    for (const InLine& in_line : find_in_line(lift)) {
        const double angle = turn_up_from(arm_low, in_line.arm_angle);
        if (angle >= arm_high) {
            continue;
        }
        const LiftPose pose = solve_lift_from_arm(lift, angle);
        const Point apart = pose.rod_pin - in_line.rod_pin;
        if (pose.closure.closes() && std::hypot(apart.x(), apart.y()) < same_pin) {
            travel.dead_centre_within = true;
            take_in(travel, pose);
        }
    }
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
