// One universal (cross) joint at a fixed joint angle: how the output turns when the input turns steadily.
//
// With joint angle B and input angle t, counted from the position in which the input yoke's arm lies in the plane
// of the two shafts: output speed / input speed = cos B / (1 - sin^2 B cos^2 t). It runs between 1/cos B (t = 0)
// and cos B (t = 90 deg) twice a turn; its mean is 1. Everything here is closed form and keeps full relative
// precision from B = 0 to just below 90 deg.
// Source: kinematics of the cross joint, any text on machine design; peak acceleration derived below.
#pragma once

#include <optional>

namespace hitchwright {

/// Why the motion of a joint cannot be given.
enum class JointMotionStatus {
    ok,
    not_finite,         ///< an angle is no finite number
    angle_out_of_range  ///< a joint angle is below 0 or not below 90 deg: no rotation is passed on
};

/// What one turn of a joint, or of a chain of joints that acts like one, does to the output.
/// All values but `status` are 0 unless `status` is ok.
struct JointMotion {
    JointMotionStatus status = JointMotionStatus::not_finite;
    double speed_ratio_least = 0.0;  ///< least output speed / input speed, cos B
    double speed_ratio_most = 0.0;   ///< greatest output speed / input speed, 1/cos B
    double non_uniformity = 0.0;     ///< greatest less least ratio, sin B tan B
    double lead_lag_most = 0.0;      ///< rad; greatest angle by which the output runs ahead of or behind the input
    double equal_speed_input_angle = 0.0;  ///< rad; t at which output speed = input speed, tan t = sqrt(cos B)
    double peak_acceleration = 0.0;  ///< greatest angular acceleration of the output / (input speed)^2, dimensionless
    double peak_acceleration_input_angle = 0.0;  ///< rad; t at which the output slows down fastest

    bool operator==(const JointMotion&) const = default;
};

/// Motion of one joint at `joint_angle` (rad, angle between the two shafts, 0 <= B < pi/2).
JointMotion find_joint_motion(double joint_angle);

/// Output speed / input speed at `input_angle` (rad, from the input yoke's arm lying in the plane of the shafts).
/// Nothing when an angle is not finite or the joint angle is not in [0, pi/2).
std::optional<double> find_speed_ratio(double joint_angle, double input_angle);

/// Output less input angle (rad) at `input_angle`; 0 at every quarter turn, positive when the output leads.
/// Nothing for the angles `find_speed_ratio` refuses.
std::optional<double> find_output_lead(double joint_angle, double input_angle);

/// ok, or what is wrong with a joint angle (rad).
JointMotionStatus check_joint_angle(double joint_angle);

}  // namespace hitchwright
