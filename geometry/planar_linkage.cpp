#include "geometry/planar_linkage.h"

namespace hitchwright {

Point find_ball(const PlanarLinkage& k, double ball_height) {
    return {k.lower_pivot.x() + find_other_leg(k.lower_length, ball_height - k.lower_pivot.y()), ball_height};
}

bool closes_at(const PlanarLinkage& k, double ball_height) {
    if (!(std::fabs(ball_height - k.lower_pivot.y()) <= k.lower_length)) return false;
    const double distance = (k.upper_pin - find_ball(k, ball_height)).norm();
    const double mast = k.mast_pin.norm();
    return distance > 0.0 && distance <= mast + k.upper_length && distance >= std::fabs(mast - k.upper_length);
}

PlanarPose solve_pose(const PlanarLinkage& k, double ball_height) {
    PlanarPose pose;
    pose.ball_height = ball_height;
    if (!closes_at(k, ball_height)) return pose;
    const KernelPose<double> kernel = solve_kernel<double>(k, ball_height, k.upper_length);
    pose.closes = true;
    pose.ball = Point(kernel.ball.x, kernel.ball.z);
    pose.mast_pin = pose.ball + Point(kernel.mast_arm.x, kernel.mast_arm.z);
    pose.pitch = std::atan2(kernel.sin_pitch, kernel.cos_pitch);
    const Point lower = pose.ball - k.lower_pivot;
    pose.lower_link_angle = std::atan2(lower.y(), lower.x());
    const Point upper = pose.mast_pin - k.upper_pin;
    pose.upper_link_angle = std::atan2(upper.y(), upper.x());
    return pose;
}

Point place_point(const PlanarPose& pose, const Point& p) {
    const double c = std::cos(pose.pitch), s = std::sin(pose.pitch);
    return pose.ball + Point(c * p.x() - s * p.y(), s * p.x() + c * p.y());
}

}  // namespace hitchwright
