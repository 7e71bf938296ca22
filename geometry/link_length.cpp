// See link_length.h.
#include "geometry/link_length.h"

#include <algorithm>
#include <cmath>

#include "geometry/lower_link.h"
#include "geometry/mast_closure.h"

namespace hitchwright {

WantedLength solve_upper_link_length(const PlanarLinkage& linkage, double ball_height, double pitch) {
    const LowerLinkPose lower = solve_lower_link(linkage.lower_pivot, linkage.lower_length, ball_height);
    if (!lower.closure.closes()) {
        return {.closure = lower.closure};
    }
    const Point mast = rotate(linkage.mast_pin, pitch);
    const Point link = lower.ball + mast - linkage.upper_pin;
    const double length = std::hypot(link.x(), link.y());
    if (!std::isfinite(length) || linkage.mast_pin.isZero(0.0)) {
        return {.closure = {LinkagePart::mast, Misfit::undefined, 0.0}};
    }
    if (length == 0.0) {
        return {.closure = {LinkagePart::upper_link, Misfit::undefined, 0.0}};
    }
    // Left of the line upper pin -> ball is above it, as in solve_mast.
    const double above = cross(lower.ball - linkage.upper_pin, mast);
    const bool past = linkage.side == MastSide::above ? above < 0.0 : above > 0.0;
    return {.closure = {}, .length = length, .past_dead_centre = past};
}

std::optional<double> find_turns(double wanted_length, double present_length, double advance_per_turn) {
    const double turns = (wanted_length - present_length) / advance_per_turn;
    if (!std::isfinite(turns) || !(advance_per_turn > 0.0)) {
        return std::nullopt;
    }
    return turns;
}

std::optional<UpperLinkReach> check_upper_link_reach(double wanted_length, double least, double most) {
    if (!std::isfinite(wanted_length) || !std::isfinite(least) || !std::isfinite(most) || least > most) {
        return std::nullopt;
    }
    UpperLinkReach reach;
    reach.within = least <= wanted_length && wanted_length <= most;
    reach.too_short_by = std::max(wanted_length - most, 0.0);
    reach.too_long_by = std::max(least - wanted_length, 0.0);
    if (reach.within) {
        reach.thread_left_to_shorten = wanted_length - least;
        reach.thread_left_to_lengthen = most - wanted_length;
    }
    return reach;
}

TransportPitch solve_transport_pitch(const PlanarLinkage& linkage, double transport_height) {
    const WantedLength level = solve_upper_link_length(linkage, linkage.lower_pivot.y(), 0.0);
    if (!level.closure.closes() || level.past_dead_centre) {
        return {.closure = level.closure, .upper_length = level.length, .past_dead_centre = level.past_dead_centre};
    }
    const LowerLinkPose lower = solve_lower_link(linkage.lower_pivot, linkage.lower_length, transport_height);
    if (!lower.closure.closes()) {
        return {.closure = lower.closure, .upper_length = level.length};
    }
    const MastPose mast = solve_mast(lower.ball, linkage.upper_pin, level.length, linkage.mast_pin, linkage.side);
    return {.closure = mast.closure, .upper_length = level.length, .pitch = mast.pitch};
}

}  // namespace hitchwright
