// The driveline between a PTO stub and an implement's input shaft: joint centres, length, joint angles, exact in 3-D.
//
//        stub            Q ------------- S -------------- K            input shaft
//   =====| u_A ->  o----(+)==============================(+)----o  |===== u_B ->
//        stub end   offset                                offset   shaft end
//
// Q = stub end + offset u_A,  K = input shaft end - offset u_B,  S = |K - Q|. u_A, u_B: unit vectors pointing rearward.
// Frame: any one right-handed frame for both ends, usually T (x rearward, y right, z up). Lengths in m, angles in rad.
// Joint angles are atan2(|a x b|, a.b), which is exact also for a nearly straight joint where acos is not.
#pragma once

#include <Eigen/Core>

#include "geometry/attitude.h"

namespace hitchwright {

/// Unit vector of a shaft pointing rearward. `slope`: positive when the rear end is up; `plan_angle`: positive when
/// the rear end points to the right. Both in rad, |slope| <= pi/2.
Eigen::Vector3d make_shaft_axis(double slope, double plan_angle);

/// A machine's shaft and where the joint sits on it.
struct MachineShaft {
    Eigen::Vector3d end = Eigen::Vector3d::Zero();    ///< m, centre of the shaft's free end
    Eigen::Vector3d axis = Eigen::Vector3d::UnitX();  ///< unit vector along the shaft, rearward at both machines
    double joint_offset = 0.0;  ///< m, free end to joint centre along the axis, away from the own machine
    double added_length = 0.0;  ///< m, what a clutch, extender or adapter on this end adds to the offset

    bool operator==(const MachineShaft&) const = default;
};

/// The shaft of an implement, given in frame I, seen in frame T: `origin` is the place of I's origin in T (m).
MachineShaft move_shaft(const MachineShaft& shaft, const Eigen::Matrix3d& rotation, const Eigen::Vector3d& origin);

/// Joint centre Q of the stub, or K of the input shaft (m, frame of the shaft).
Eigen::Vector3d find_tractor_joint(const MachineShaft& stub);
Eigen::Vector3d find_implement_joint(const MachineShaft& input);

/// Angle in [0, pi] between two vectors that are not zero (rad).
double find_angle_between(const Eigen::Vector3d& a, const Eigen::Vector3d& b);

/// Why a driveline pose cannot be given.
enum class DrivelineStatus {
    ok,
    not_finite,             ///< a coordinate or a length is no finite number, or too large to work with
    axis_not_unit,          ///< an axis is not of length 1 to within 1e-9
    joint_centres_coincide  ///< Q and K are closer than 1e-9 m: no shaft, no direction
};

/// A driveline with plain joints at both ends. All values but `status` are zero unless `status` is ok.
struct DrivelinePose {
    DrivelineStatus status = DrivelineStatus::not_finite;
    Eigen::Vector3d tractor_joint = Eigen::Vector3d::Zero();    ///< Q, m
    Eigen::Vector3d implement_joint = Eigen::Vector3d::Zero();  ///< K, m
    Eigen::Vector3d direction = Eigen::Vector3d::Zero();        ///< unit vector from Q to K
    double length = 0.0;                                        ///< S, m between the joint centres
    double tractor_joint_angle = 0.0;                           ///< rad in [0, pi], between stub axis and shaft
    double implement_joint_angle = 0.0;                         ///< rad in [0, pi], between shaft and input axis
    double bending_plane_angle = 0.0;                           ///< f of two_joint.h, rad

    bool operator==(const DrivelinePose&) const = default;
};

/// Pose of a driveline between the tractor's stub and the implement's input shaft, both in the same frame.
DrivelinePose find_driveline_pose(const MachineShaft& stub, const MachineShaft& input);

/// Where the locking grooves lie: signed distances (m) from groove to joint centre along the rearward axes.
struct GrooveOffsets {
    double tractor = 0.0;    ///< g_A: positive when the groove is ahead of Q, as with a yoke slid over the stub
    double implement = 0.0;  ///< g_B: positive when the groove is ahead of K; a yoke slid over the input shaft has its
                             ///< groove behind K, so g_B is then negative

    bool operator==(const GrooveOffsets&) const = default;
};

/// Offsets of a usual shaft, whose grooves lie beyond the joint centres: both distances (m) are taken from the joint
/// centre outwards, away from the tubes, as a tape gives them.
GrooveOffsets make_groove_offsets(double tractor_centre_to_groove, double implement_centre_to_groove);

/// What a tape reads between the grooves of the two machine shafts (m), the machines standing as given:
/// G = |(K - g_B u_B) - (Q - g_A u_A)|. Not S plus a constant once a joint is bent.
double find_groove_distance(const MachineShaft& stub, const MachineShaft& input, const GrooveOffsets& grooves);

}  // namespace hitchwright
