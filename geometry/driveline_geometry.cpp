#include "geometry/driveline_geometry.h"

#include <cmath>

#include <Eigen/Geometry>

#include "geometry/two_joint.h"

namespace hitchwright {

namespace {

// An axis is built from two angles or turned by a rotation: rounding stays below 1e-15, a mistake does not.
constexpr double unit_tolerance = 1e-9;

// m; far below any tape, far above the rounding of coordinates of a few metres.
constexpr double least_length = 1e-9;

bool is_unit(const Eigen::Vector3d& axis) { return std::abs(axis.norm() - 1.0) <= unit_tolerance; }

bool is_finite(const MachineShaft& shaft) {
    return shaft.end.allFinite() && shaft.axis.allFinite() && std::isfinite(shaft.joint_offset) &&
           std::isfinite(shaft.added_length);
}

}  // namespace

Eigen::Vector3d make_shaft_axis(double slope, double plan_angle) {
    const double level = std::cos(slope);
    return {level * std::cos(plan_angle), level * std::sin(plan_angle), std::sin(slope)};
}

MachineShaft move_shaft(const MachineShaft& shaft, const Eigen::Matrix3d& rotation, const Eigen::Vector3d& origin) {
    MachineShaft moved = shaft;
    moved.end = origin + rotation * shaft.end;
    moved.axis = rotation * shaft.axis;
    return moved;
}

Eigen::Vector3d find_tractor_joint(const MachineShaft& stub) {
    return stub.end + (stub.joint_offset + stub.added_length) * stub.axis;
}

Eigen::Vector3d find_implement_joint(const MachineShaft& input) {
    return input.end - (input.joint_offset + input.added_length) * input.axis;
}

double find_angle_between(const Eigen::Vector3d& a, const Eigen::Vector3d& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b));
}

DrivelinePose find_driveline_pose(const MachineShaft& stub, const MachineShaft& input) {
    DrivelinePose pose;
    const Eigen::Vector3d q = find_tractor_joint(stub);
    const Eigen::Vector3d k = find_implement_joint(input);
    const double length = (k - q).norm();
    if (!is_finite(stub) || !is_finite(input) || !std::isfinite(length)) {
        return pose;
    }
    if (!is_unit(stub.axis) || !is_unit(input.axis)) {
        pose.status = DrivelineStatus::axis_not_unit;
        return pose;
    }
    if (length < least_length) {
        pose.status = DrivelineStatus::joint_centres_coincide;
        return pose;
    }
    pose.status = DrivelineStatus::ok;
    pose.tractor_joint = q;
    pose.implement_joint = k;
    pose.direction = (k - q) / length;
    pose.length = length;
    pose.tractor_joint_angle = find_angle_between(stub.axis, pose.direction);
    pose.implement_joint_angle = find_angle_between(pose.direction, input.axis);
    pose.bending_plane_angle = find_bending_plane_angle(stub.axis, pose.direction, input.axis);
    return pose;
}

GrooveOffsets make_groove_offsets(double tractor_centre_to_groove, double implement_centre_to_groove) {
    return {tractor_centre_to_groove, -implement_centre_to_groove};
}

double find_groove_distance(const MachineShaft& stub, const MachineShaft& input, const GrooveOffsets& grooves) {
    const Eigen::Vector3d front = find_tractor_joint(stub) - grooves.tractor * stub.axis;
    const Eigen::Vector3d rear = find_implement_joint(input) - grooves.implement * input.axis;
    return (rear - front).norm();
}

}  // namespace hitchwright
