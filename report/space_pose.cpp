// See space_pose.h.
#include "report/space_pose.h"

#include <algorithm>
#include <cmath>

#include "geometry/scalar_zero.h"

namespace hitchwright {
namespace {

constexpr double probe = 1e-5, length_end = 1e-9, most_change = 0.25;  ///< m, of a rod's length
constexpr double height_end = 1e-6;  ///< m, of the ball

}  // namespace

SwayLimits find_sway_ends(const MountedSpace& space, double ball_height) {
    switch (space.sway_source) {
        case SwaySource::total: return {-0.5 * space.total_sway, 0.5 * space.total_sway};
        case SwaySource::chains: return find_sway_limits(space.linkage, space.chains, ball_height, 0.0);
        case SwaySource::none: break;
    }
    return {};
}

HitchView bring_inside(const MountedModel& m, HitchView at) {
    at.ball_height = std::clamp(at.ball_height, m.travel.low, m.travel.high);
    if (m.space.sway_source == SwaySource::none) return {at.ball_height, 0.0};
    const SwayLimits ends = find_sway_ends(m.space, at.ball_height);
    if (ends.left && ends.right && *ends.right < *ends.left) return {at.ball_height, 0.0};  // the chains stop the lift there
    if (ends.left) at.sway = std::max(at.sway, *ends.left);
    if (ends.right) at.sway = std::min(at.sway, *ends.right);
    return at;
}

SpacePose find_space_pose(const MountedModel& m, const HitchView& wanted) {
    const HitchView at = bring_inside(m, wanted);
    const SpatialLinkage& k = m.space.linkage;
    SpacePose p;
    p.on_rods = m.space.has_rods;
    if (p.on_rods) {
        p.rods = solve_on_rods(k, m.space.rods, at.ball_height, at.sway);
        p.hitch = p.rods.hitch;
        p.closes = p.rods.closes && p.hitch.closes;
    } else {
        p.hitch = solve_spatial_pose(k, {at.ball_height, at.sway, 0.0});
        p.closes = p.hitch.closes;
    }
    if (!p.closes) return p;
    const double x = k.side_view.lower_pivot.x(), z = k.side_view.lower_pivot.y();
    p.left_pivot = {x, -k.half_spread_at_pivot, z};
    p.right_pivot = {x, k.half_spread_at_pivot, z};
    p.mast_pin = p.hitch.pose.place({k.side_view.mast_pin.x(), 0.0, k.side_view.mast_pin.y()});
    return p;
}

Vec3<double> place_in_space(const MountedModel& m, const SpacePose& pose, const Reading& x, const Reading& z, double y) {
    const Point at = find_body_point(m, x, z);
    return pose.hitch.pose.place({at.x(), y, at.y()});
}

std::optional<RearmostPoint> find_rearmost_point(const Implement& implement, const MountedModel& m) {
    std::optional<RearmostPoint> rear;
    const auto look = [&](const std::string& name, const Reading& x, const Reading& z) {
        if (!x.known || !z.known) return;
        const Point at = find_body_point(m, x, z);
        if (at.x() > (rear ? rear->at.x() : 0.0)) rear = RearmostPoint{name, at};
    };
    for (const ImplementPoint& p : implement.points) look(p.name, p.x, p.z);
    for (const GroundContact& g : implement.ground_contacts) look(g.name, g.x, g.z);
    return rear;
}

SpatialBox make_place_box(const MountedModel& m, const HitchPlace<double>& at) {
    return {Interval(at.height), Interval(at.sway), Interval(at.tilt_sine), Interval(m.space.linkage.side_view.upper_length)};
}

std::optional<double> find_rod_for_ball(const MountedModel& m, const SpacePose& pose, TractorSide side, double ball_height) {
    if (!pose.closes || !pose.on_rods) return std::nullopt;
    LiftRods rods = m.space.rods;
    double& length = side == TractorSide::left ? rods.left_length : rods.right_length;
    const double own = length;
    const HitchPlace<double>& at = pose.hitch.at;
    const auto off = [&](double change) -> std::optional<double> {
        length = own + change;
        const RodPose p = solve_at_arm(m.space.linkage, rods, pose.rods.arm_angle, at.sway, at.height);
        if (!p.closes) return std::nullopt;
        return (side == TractorSide::left ? p.hitch.left_ball : p.hitch.right_ball).z - ball_height;
    };
    const std::optional<double> change = find_scalar_zero(off, {0.0, probe, length_end, -most_change, most_change});
    if (!change) return std::nullopt;
    const std::optional<double> left = off(*change);
    if (!left || std::fabs(*left) > height_end) return std::nullopt;  // the search ended at the end of its range
    return own + *change;
}

}  // namespace hitchwright
