// The numbers of one pose in closed form with the least trigonometry: pitch, shaft length and both joint angles.
//
// The equations are those of planar_linkage.h and shaft_kernel.h, put so that a pose takes five roots, two divisions and
// three inverse functions:
//   4 b^2 = ((m + e)^2 - d^2)(d^2 - (m - e)^2)                       Heron's product without the root of d^2
//   cos p = (a M.D - b M x D)/(d m)^2,  sin p = (a M x D + b M.D)/(d m)^2
//   p from the lesser of the two, by arc sine: the greater one tells little of a small change
//   sin(B/2) = |u - v|/2 for the joint angle B between unit vectors u and v: exact also where the joint is nearly straight
// Condition number k = (d^2 + m^2 + e^2)/(2 b) * c'/run, with run how far the ball is behind its pivot: b is 0 at a dead
// centre, run where the lower link stands upright. Pitch and length are known to 1e-15 (1 + k) times the machine's size in m
// where that is above 1 m, joint angles to that over the shaft's length where it is shorter than 1 m: 1e-12 up to k = 1000
// (docs/theory/batch.md). A wide-angle joint is solved by the general kernel, both angles by chords too. Frame T; m, rad.
#pragma once

#include <cmath>
#include <limits>

#include "geometry/shaft_kernel.h"

namespace hitchwright {

/// A linkage and its driveline reduced to what a pose needs beside the ball height, worked out once for many heights.
struct PoseConstants {
    Vec2<double> lower_pivot{0.0, 0.0};
    double lower_length = 0.0;
    Vec2<double> upper_pin{0.0, 0.0};
    Vec2<double> mast_pin{0.0, 0.0};  ///< frame I
    double mast_squared = 0.0;        ///< m^2
    double stretched_squared = 0.0;   ///< (m + e)^2
    double folded_squared = 0.0;      ///< (m - e)^2
    double half_difference = 0.0;     ///< (m^2 - e^2)/2
    double half_side = 0.0;           ///< half the sign of b
    DrivelineEnds ends;
};

/// Constants of a linkage with its upper link at `linkage.upper_length`.
PoseConstants make_pose_constants(const PlanarLinkage& linkage, const DrivelineEnds& ends);

/// Pitch, shaft and joint angles of one pose; all zero unless it closes. A length of 0 is no shaft.
struct PoseNumbers {
    bool closes = false;
    double pitch = 0.0, length = 0.0, tractor_angle = 0.0, implement_angle = 0.0;

    bool operator==(const PoseNumbers&) const = default;
};

/// The numbers at ball height `h`.
PoseNumbers solve_pose_numbers(const PoseConstants& constants, double h);

/// Joint centres nearer to each other than this (m) are no shaft: its length and its joint angles count as 0.
inline constexpr double least_shaft_length = 1.0e-9;

// The steps of a pose over plain doubles, with selections instead of jumps so that loops over them vectorise.
namespace detail {

/// Where the ball is, on its circle behind the lower-link pivot; straight above or below it where the link does not reach.
inline double find_ball_x(const PoseConstants& k, double h) {
    const double rise = h - k.lower_pivot.z;
    const double run_squared = (k.lower_length - rise) * (k.lower_length + rise);
    return k.lower_pivot.x + std::sqrt(run_squared > 0.0 ? run_squared : 0.0);
}

/// How frame I is turned: pitch as cosine and sine, or no turn where the linkage does not close.
struct ImplementTurn {
    double cosine, sine;
    bool closes;
};

inline ImplementTurn turn_implement(const PoseConstants& k, double ball_x, double h) {
    const double dx = k.upper_pin.x - ball_x, dz = k.upper_pin.z - h;
    const double squared = dx * dx + dz * dz;
    const double to_stretched = k.stretched_squared - squared, to_folded = squared - k.folded_squared;
    const double product = to_stretched * to_folded;
    const double a = 0.5 * squared + k.half_difference;
    const double b = k.half_side * std::sqrt(product > 0.0 ? product : 0.0);
    const double along = k.mast_pin.x * dx + k.mast_pin.z * dz, across = k.mast_pin.x * dz - k.mast_pin.z * dx;
    const double scale = 1.0 / (squared * k.mast_squared);
    const double cosine = (a * along - b * across) * scale, sine = (a * across + b * along) * scale;
    // Not with the ball on the upper-link pin, where any pitch would do.
    const bool closes = to_stretched >= 0.0 && to_folded >= 0.0 && std::fabs(h - k.lower_pivot.z) <= k.lower_length &&
                        scale < std::numeric_limits<double>::infinity();
    return {closes ? cosine : 1.0, closes ? sine : 0.0, closes};
}

/// From Q to K in side view, and the squared length in space.
struct ShaftReach {
    double x, z, squared;
};

inline ShaftReach reach_shaft(const DrivelineEnds& e, double ball_x, double h, double cosine, double sine) {
    const Vec3<double>&i = e.implement_joint, &q = e.tractor_joint;
    const double x = (ball_x - q.x) + (cosine * i.x - sine * i.z), y = i.y - q.y;
    const double z = (h - q.z) + (sine * i.x + cosine * i.z);
    return {x, z, x * x + y * y + z * z};
}

/// 4 sin^2(B/2) of the angle B between unit vectors, or for an obtuse one that of its supplement with the sign minus.
inline double find_signed_chord_squared(const Vec3<double>& u, const Vec3<double>& v) {
    const double cosine = u.x * v.x + u.y * v.y + u.z * v.z, sign = std::copysign(1.0, cosine);
    const double x = u.x - sign * v.x, y = u.y - sign * v.y, z = u.z - sign * v.z;
    return std::copysign(x * x + y * y + z * z, cosine);
}

/// The same for both joints, the shaft being `scale` times the vector (x, ends' y, z).
struct JointChords {
    double tractor, implement;
};

inline JointChords find_joint_chords(const DrivelineEnds& e, double x, double z, double scale, double cosine, double sine) {
    const Vec3<double> v{x * scale, (e.implement_joint.y - e.tractor_joint.y) * scale, z * scale};
    const Vec3<double>& u = e.input_axis;
    return {find_signed_chord_squared(e.stub_axis, v),
            find_signed_chord_squared({cosine * u.x - sine * u.z, u.y, sine * u.x + cosine * u.z}, v)};
}

}  // namespace detail
}  // namespace hitchwright
