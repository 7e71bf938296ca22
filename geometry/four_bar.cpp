// See four_bar.h.
#include "geometry/four_bar.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

/// Typed lengths carry at most six figures, and their sums round in the sixteenth: between the two.
constexpr double equal_sums = 1e-12;

}  // namespace

FourBarPose solve_four_bar(const FourBar& bars, double crank_angle, Side assembly) {
    const Point crank_pin = bars.crank * unit_vector(crank_angle);
    const Point rocker_pivot(bars.ground, 0.0);
    const CircleIntersection meeting =
        find_circle_intersection(crank_pin, bars.coupler, rocker_pivot, bars.rocker, assembly);
    FourBarPose pose;
    pose.assembles = meeting.meet;
    pose.miss = meeting.miss;
    pose.shortfall = meeting.shortfall;
    pose.crank_pin = crank_pin;
    if (!meeting.meet) {
        return pose;
    }
    const Point coupler = meeting.at - crank_pin;
    const Point rocker = meeting.at - rocker_pivot;
    pose.coupler_pin = meeting.at;
    pose.coupler_angle = direction(coupler);
    pose.rocker_angle = direction(rocker);
    // atan2 keeps its digits at 0 and 90 degrees, where acos and asin lose half of them.
    pose.transmission_angle = std::atan2(std::abs(cross(coupler, rocker)), std::abs(coupler.dot(rocker)));
    return pose;
}

GrashofClass find_grashof_class(const FourBar& bars) {
    const auto [shortest, longest] = std::minmax({bars.crank, bars.coupler, bars.rocker, bars.ground});
    const double perimeter = bars.crank + bars.coupler + bars.rocker + bars.ground;
    const double excess = (shortest + longest) - 0.5 * perimeter;
    if (std::abs(excess) <= equal_sums * perimeter) {
        return GrashofClass::special;
    }
    return excess < 0.0 ? GrashofClass::grashof : GrashofClass::non_grashof;
}

}  // namespace hitchwright
