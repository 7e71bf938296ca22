// See travel_quantity.h.
#include "geometry/travel_quantity.h"

#include <algorithm>

#include "geometry/implement_heights.h"

namespace hitchwright {
namespace {

std::optional<double> height_of(const std::optional<PointHeight>& point) {
    return point ? std::optional(point->height) : std::nullopt;
}

std::optional<double> find_capacity(const Analysis& analysis, double ball_height) {
    if (!analysis.lift || !judges_lift_at(*analysis.lift, ball_height)) return std::nullopt;
    return find_lift_row(*analysis.lift, analysis.linkage->model, ball_height).capacity;
}

}  // namespace

bool judges_lift_at(const LiftStudy& lift, double ball_height) {
    return lift.rise_known && std::any_of(lift.pieces.begin(), lift.pieces.end(),
                                          [&](const ForcePiece& p) { return p.heights.contains(ball_height); });
}

std::optional<double> find_travel_quantity(const Setup& setup, const Analysis& analysis, const PoseReport& pose,
                                           TravelQuantity quantity) {
    if (!analysis.linkage || !pose.pose.closes) return std::nullopt;
    const MountedModel& m = analysis.linkage->model;
    const auto of_shaft = [&](double value) { return m.has_shaft ? std::optional(value) : std::nullopt; };
    const auto points = [&] { return list_held_points(setup.implement, m); };
    switch (quantity) {
        case TravelQuantity::pitch:
            return pose.pose.pitch;
        case TravelQuantity::tail_height:
            return height_of(find_tail_height(points(), pose.pose));
        case TravelQuantity::lowest_height:
            return height_of(find_lowest_height(points(), pose.pose));
        case TravelQuantity::shaft_length:
            return of_shaft(pose.shaft_length);
        case TravelQuantity::tractor_joint:
            return of_shaft(pose.tractor_angle);
        case TravelQuantity::implement_joint:
            return of_shaft(pose.implement_angle);
        case TravelQuantity::overlap:
            return m.has_halves ? of_shaft(pose.overlap) : std::nullopt;
        case TravelQuantity::capacity:
            return find_capacity(analysis, pose.pose.ball_height);
    }
    return std::nullopt;
}

std::optional<double> find_turn_quantity(const DrawnAnalysis& drawn, const Attitude& attitude,
                                         TravelQuantity quantity) {
    if (!drawn.model.has_shaft) return std::nullopt;
    const DrivelineState s = find_driveline_state(drawn.model, attitude);
    switch (quantity) {
        case TravelQuantity::shaft_length:
            return s.length;
        case TravelQuantity::tractor_joint:
            return s.tractor_angle;
        case TravelQuantity::implement_joint:
            return s.implement_angle;
        case TravelQuantity::overlap:
            if (drawn.model.has_halves) return find_overlap(drawn.model.halves, s.length);
            break;
        case TravelQuantity::pitch:
        case TravelQuantity::tail_height:
        case TravelQuantity::lowest_height:
        case TravelQuantity::capacity:
            break;
    }
    return std::nullopt;
}

}  // namespace hitchwright
