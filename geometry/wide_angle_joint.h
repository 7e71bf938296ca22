// A wide-angle (double) joint: two crosses at a spacing w, centred so that each takes half the bend.
//
// The first cross C1 is fixed on the machine's shaft axis u, the second is C2 = C1 + w b, with b bisecting u and the
// shaft's direction d. The maker's centre C lies half way between the crosses when straight: C1 = C - (w/2) u.
// From C2 the shaft runs straight to the plain joint K at the other end; its length on the closed-length convention
// of the maker's centre is S = |K - C2| + w/2. Taking the joint as a point at C overstates S by 14 to 22 mm at 80 deg
// for w = 80 to 120 mm, on the unsafe side.
//
//              b  . C2 - - - - - - K        h = half the bend = angle(u, b) = angle(b, d)
//              . '    d (bend 2h from u)     psi = angle(u, K - C1), r = |K - C1|
//   u --->  C1                               r sin(2 h - psi) = w sin h          (1)
//
// (1) has one root with h <= psi <= 2 h for r > w; solved by Newton inside a bracket to rounding. The joint itself
// passes rotation steadily; the ripple of the shaft is that of the plain joint at its other end alone.
// Lengths in m, angles in rad. For a wide-angle joint at the implement everything is seen from that end.
#pragma once

#include <cmath>

#include <Eigen/Core>

#include "geometry/driveline_geometry.h"

namespace hitchwright {

/// Why a wide-angle joint's pose cannot be given.
enum class WideAngleStatus {
    ok,
    not_finite,            ///< a number is not finite, or too large to work with
    spacing_negative,      ///< w < 0
    axis_not_unit,         ///< an axis is not of length 1 to within 1e-9
    distances_impossible,  ///< |X| is greater than r: no such point
    plain_joint_inside,    ///< r <= w: the other joint lies within the double joint
    folded_back            ///< the bend would pass 180 deg
};

/// Pose of the joint in the plane of its axis and the other joint. All values but `status` are 0 unless it is ok.
struct WideAngleSolution {
    WideAngleStatus status = WideAngleStatus::not_finite;
    double shaft_length = 0.0;      ///< S, m, on the convention of the maker's centre
    double straight_part = 0.0;     ///< L = |K - C2|, m
    double bend_angle = 0.0;        ///< phi = 2 h, rad in [0, pi], between machine shaft and driveline
    double half_bend_cosine = 0.0;  ///< s = cos(phi/2)

    bool operator==(const WideAngleSolution&) const = default;
};

/// Solves the joint from X = u.(K - C1) (m), r2 = |K - C1|^2 (m^2) and w (m). S falls strictly with X and rises
/// strictly with r2, s rises with X; so the extremes of S over a box of X and r2 lie at two of its corners.
/// From X and r2 alone a bend near 0 is known to about 1e-8 rad only; `find_wide_angle_pose` has no such limit.
WideAngleSolution solve_wide_angle(double axial_distance, double distance_squared, double spacing);

/// Partial derivatives of a solution with respect to X and r2, by the implicit function theorem.
template <class Scalar>
struct WideAngleDerivatives {
    Scalar length_by_axial;         ///< dS/dX, below 0
    Scalar length_by_squared;       ///< dS/dr2, 1/m, above 0
    Scalar half_cosine_by_axial;    ///< ds/dX, 1/m, above 0
    Scalar half_cosine_by_squared;  ///< ds/dr2, 1/m^2, below 0 while the bend is below 90 deg
    Scalar bend_cosine_by_axial;    ///< d cos(phi)/dX = 4 s ds/dX, 1/m
    Scalar bend_cosine_by_squared;  ///< d cos(phi)/dr2, 1/m^2
};

/// Derivatives at s = half_bend_cosine (0 <= s <= 1), L = straight_part (> 0), w = spacing. Only + - * / are used, so
/// an interval type with enclosures of s and L gives enclosures of the derivatives. The angle itself has no derivative
/// at 0 bend (it goes as the root of r2 - X^2); its cosine has.
/// F(s) = w s + L(s) (2 s^2 - 1) - X = 0,  L(s) = -w s + sqrt(w^2 s^2 - w^2 + r2),  N = L + w s.
template <class Scalar>
WideAngleDerivatives<Scalar> find_wide_angle_derivatives(const Scalar& s, const Scalar& straight_part,
                                                         const Scalar& spacing) {
    const Scalar& length = straight_part;
    const Scalar& w = spacing;
    const Scalar root = length + w * s;  // N
    const Scalar bend_cosine = 2.0 * s * s - 1.0;
    const Scalar rise = w + 4.0 * s * length;                     // dF/ds with L held
    const Scalar slope = rise * root - bend_cosine * w * length;  // N dF/ds > 0
    WideAngleDerivatives<Scalar> d;
    d.half_cosine_by_axial = root / slope;
    d.half_cosine_by_squared = -0.5 * bend_cosine / slope;
    d.length_by_axial = -1.0 * (w * length) / slope;
    d.length_by_squared = 0.5 * rise / slope;
    d.bend_cosine_by_axial = 4.0 * s * d.half_cosine_by_axial;
    d.bend_cosine_by_squared = 4.0 * s * d.half_cosine_by_squared;
    return d;
}

/// Derivatives of the bend angle itself; `finite` is false when the joint is straight, where they do not exist.
struct BendDerivatives {
    bool finite = false;
    double by_axial = 0.0;    ///< dphi/dX, rad/m
    double by_squared = 0.0;  ///< dphi/dr2, rad/m^2

    bool operator==(const BendDerivatives&) const = default;
};

/// Derivatives of phi at a solution whose status is ok.
BendDerivatives find_bend_derivatives(const WideAngleSolution& solution, double spacing);

/// A wide-angle joint in space, seen from its own machine. Zero where `solution.status` is not ok.
struct WideAnglePose {
    WideAngleSolution solution;
    Eigen::Vector3d first_cross = Eigen::Vector3d::Zero();   ///< C1, m
    Eigen::Vector3d second_cross = Eigen::Vector3d::Zero();  ///< C2, m
    Eigen::Vector3d direction = Eigen::Vector3d::Zero();     ///< unit vector d from C2 to the other joint

    bool operator==(const WideAnglePose&) const = default;
};

/// Pose of a wide-angle joint with maker's centre `centre`, on a machine shaft whose unit vector `away` points from
/// the machine toward the driveline (u_A at the tractor, -u_B at the implement); `other` is the plain joint's centre.
WideAnglePose find_wide_angle_pose(const Eigen::Vector3d& centre, const Eigen::Vector3d& away,
                                   const Eigen::Vector3d& other, double spacing);

/// The machine at one end of a driveline.
enum class MachineEnd { tractor, implement };

/// A driveline with a wide-angle joint at one end and a plain joint at the other.
struct WideAngleDriveline {
    WideAnglePose wide;  ///< seen from its own machine; wide.solution.status says whether all is well
    Eigen::Vector3d direction = Eigen::Vector3d::Zero();  ///< unit vector along the shaft, rearward
    double length = 0.0;                                  ///< S, m
    double wide_joint_angle = 0.0;                        ///< phi, rad
    double plain_joint_angle = 0.0;                       ///< rad in [0, pi]; all the ripple there is comes from it

    bool operator==(const WideAngleDriveline&) const = default;
};

/// Pose with the wide-angle joint of the given spacing (m) at `wide_end`. The offsets of that machine shaft reach to
/// the maker's centre, those of the other to its joint centre.
WideAngleDriveline find_wide_angle_driveline(const MachineShaft& stub, const MachineShaft& input, MachineEnd wide_end,
                                             double spacing);

}  // namespace hitchwright
