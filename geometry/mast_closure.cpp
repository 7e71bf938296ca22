// See mast_closure.h.
#include "geometry/mast_closure.h"

#include <cmath>

#include "geometry/angle.h"
#include "geometry/lower_link.h"

namespace hitchwright {

MastPose solve_mast(const Point& ball, const Point& upper_pin, double upper_length, const Point& mast_pin,
                    MastSide side) {
    const double mast = std::hypot(mast_pin.x(), mast_pin.y());
    if (!std::isfinite(mast) || mast == 0.0) {
        return {.closure = {LinkagePart::mast, Misfit::undefined, 0.0}};
    }
    // Above the line ball -> upper pin is left of the line upper pin -> ball, which runs rearward.
    const CircleIntersection meeting = find_circle_intersection(upper_pin, upper_length, ball, mast,
                                                                side == MastSide::above ? Side::left : Side::right);
    if (!meeting.meet) {
        return {.closure = find_closure(meeting, LinkagePart::upper_link, upper_length, mast)};
    }
    return {.closure = {},
            .pitch = wrap_angle(direction(meeting.at - ball) - direction(mast_pin)),
            .upper_link_angle = direction(meeting.at - upper_pin),
            .mast_pin = meeting.at};
}

Closure find_pose_closure(const PlanarLinkage& linkage, double ball_height) {
    const LowerLinkPose lower = solve_lower_link(linkage.lower_pivot, linkage.lower_length, ball_height);
    if (!lower.closure.closes()) {
        return lower.closure;
    }
    return solve_mast(lower.ball, linkage.upper_pin, linkage.upper_length, linkage.mast_pin, linkage.side).closure;
}

}  // namespace hitchwright
