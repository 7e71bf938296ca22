// Two universal joints in one shaft: how far the output is from turning steadily, exactly.
//
// A joint maps the direction of its input yoke's arm, as a 2-D vector, by a diagonal matrix, so two joints are
//   M = diag(cos B2, 1) Rot(f + g) diag(1, cos B1)
// with f the angle between the two bending planes and g the error of phase of the inner yokes. Output speed / input
// speed is det M / |M e|^2 for the unit vector e of the input arm: the same law as ONE joint at the equivalent angle
// B_e, cos B_e = s_least / s_most of the singular values of M. This holds for any B1, B2, f, g; the shop formula
// sqrt|B1^2 - B2^2| does not (it gives 0 where the truth is 14 to 23 deg).
// Numbering: joint 1 at the tractor, joint 2 at the implement.
#pragma once

#include <optional>

#include <Eigen/Core>

#include "geometry/universal_joint.h"

namespace hitchwright {

/// A shaft with two plain joints. All angles in rad.
struct TwoJointShaft {
    double joint_angle_1 = 0.0;        ///< B1, at the tractor, 0 <= B1 < pi/2
    double joint_angle_2 = 0.0;        ///< B2, at the implement, 0 <= B2 < pi/2
    double bending_plane_angle = 0.0;  ///< f of `find_bending_plane_angle`
    double yoke_phase_error = 0.0;     ///< g, turn of the implement's inner yoke against the tractor's, right-handed
                                       ///< about the shaft pointing rearward; ears in one plane: 0

    bool operator==(const TwoJointShaft&) const = default;
};

/// Motion of a two-joint shaft.
struct TwoJointMotion {
    double equivalent_angle = 0.0;  ///< B_e, rad; 0 unless motion.status is ok
    JointMotion motion;             ///< of the one joint at B_e that turns the output alike; its input angles are
                                    ///< counted from the position of greatest output speed

    bool operator==(const TwoJointMotion&) const = default;
};

/// Equivalent angle, speed ratios, lead and lag, peak acceleration of two joints. The status of the motion names what
/// is wrong with the input. The equivalent angle keeps its relative precision down to nothing, because it comes from
/// the sum and the difference of the singular values, never from their quotient near 1.
TwoJointMotion find_two_joint_motion(const TwoJointShaft& shaft);

/// Output speed / input speed of the pair at `input_angle` (rad, from the input yoke's arm square to the first bending
/// plane). Nothing when an angle is not finite or a joint angle is not in [0, pi/2).
std::optional<double> find_two_joint_speed_ratio(const TwoJointShaft& shaft, double input_angle);

/// Angle f (rad, in (-pi, pi]) between the bending planes: from the normal of the second, v x u_b, to the normal of
/// the first, u_a x v, right-handed about v. Counted this way the best yoke phase is -f modulo 180 deg.
/// u_a: stub axis, v: shaft direction from tractor to implement, u_b: input shaft axis; unit vectors, rearward.
/// With a straight joint the plane is undefined and irrelevant: the result is then finite and changes nothing.
/// Parallel machine shafts (Z) give 180 deg, mirror-like ones (W) 0. Not finite only for input that is not.
double find_bending_plane_angle(const Eigen::Vector3d& u_a, const Eigen::Vector3d& v, const Eigen::Vector3d& u_b);

/// Phase (rad, in (-pi/2, pi/2]) the inner yokes should have for the least ripple: -f modulo 180 deg.
/// Not finite only for input that is not.
double find_best_yoke_phase(double bending_plane_angle);

}  // namespace hitchwright
