// See lower_link.h.
#include "geometry/lower_link.h"

#include <cmath>

#include "geometry/vec.h"

namespace hitchwright {
namespace {

Closure undefined(LinkagePart part) { return {part, Misfit::undefined, 0.0}; }

}  // namespace

ProjectedLength project_length(LinkagePart part, double length, double lateral_difference) {
    const double lateral = std::abs(lateral_difference);
    if (!std::isfinite(length) || length <= 0.0 || !std::isfinite(lateral)) {
        return {undefined(part), 0.0};
    }
    if (lateral == length) {  // straight across the tractor: nothing of it shows in side view
        return {undefined(part), 0.0};
    }
    if (lateral > length) {
        return {{part, Misfit::too_short, lateral - length}, 0.0};
    }
    return {{}, find_other_leg(length, lateral)};
}

ProjectedLength project_lower_link(const LowerLink& link) {
    return project_length(LinkagePart::lower_link, link.length, link.half_spread_at_ball - link.half_spread_at_pivot);
}

ProjectedRodPin project_rod_pin(const LowerLink& link) {
    const ProjectedLength projected = project_lower_link(link);
    if (!projected.closure.closes()) {
        return {.closure = projected.closure};
    }
    if (!std::isfinite(link.rod_pin_along) || !std::isfinite(link.rod_pin_offset)) {
        return {.closure = undefined(LinkagePart::lower_link)};
    }
    const double share = link.rod_pin_along / link.length;
    return {.closure = {},
            .along = share * projected.length,
            .offset = link.rod_pin_offset,
            .half_spread = link.half_spread_at_pivot + share * (link.half_spread_at_ball - link.half_spread_at_pivot)};
}

ProjectedLength project_lift_rod(double length, double arm_half_spread, double pin_half_spread) {
    return project_length(LinkagePart::lift_rod, length, arm_half_spread - pin_half_spread);
}

LowerLinkPose solve_lower_link(const Point& pivot, double projected_length, double ball_height) {
    const double rise = ball_height - pivot.y();
    if (!std::isfinite(projected_length) || projected_length <= 0.0 || !std::isfinite(rise) ||
        !std::isfinite(pivot.x())) {
        return {.closure = undefined(LinkagePart::lower_link)};
    }
    const double shortfall = std::abs(rise) - projected_length;
    if (shortfall > tangent_tolerance * projected_length) {
        return {.closure = {LinkagePart::lower_link, Misfit::too_short, shortfall}};
    }
    const double run = find_other_leg(projected_length, rise);
    return {.closure = {}, .angle = std::atan2(rise, run), .ball = Point(pivot.x() + run, ball_height)};
}

}  // namespace hitchwright
