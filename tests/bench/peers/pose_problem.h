// The pose as the peers get it: closure of a mounted linkage in side view, and the driveline on it, in plain numbers.
//
// Unknowns of those who iterate: the lower link's angle theta and the pitch p. With P, U, M, c, e of planar_linkage.h
//   r1 = z_P + c sin(theta) - h,   r2 = |H + R(p) M - U| - e,   H = P + c (cos theta, sin theta)
// or, as one writes it who thinks in points: ball x_H, z_H and pitch, with |H - P| - c as a third equation.
// Lengths m, angles rad. Also read by C++17 (simbody_peer.cpp), so no header of the project is in here.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

namespace bench {

using Triple = std::array<double, 3>;

/// A mounted linkage with its driveline and the ball heights of the poses that are wanted, in that order.
struct PoseProblem {
    double lower_pivot_x = 0.0, lower_pivot_z = 0.0, lower_length = 0.0;
    double upper_pin_x = 0.0, upper_pin_z = 0.0, upper_length = 0.0;
    double mast_pin_x = 0.0, mast_pin_z = 0.0;      ///< frame I
    Triple tractor_joint{}, stub_axis{};            ///< frame T
    Triple implement_joint{}, input_axis{};         ///< frame I
    double first_link_angle = 0.0, first_pitch = 0.0;  ///< start of the first pose, as a person would guess it
    std::vector<double> heights;
};

/// What is wanted of a pose.
struct PoseNumbers {
    double pitch = 0.0, length = 0.0, tractor_angle = 0.0, implement_angle = 0.0;
};

/// What two unknowns leave open, m.
template <class T>
void find_closure(const PoseProblem& k, double height, const T* x, T* left) {
    using std::cos;
    using std::sin;
    using std::sqrt;
    const T s = sin(x[1]), c = cos(x[1]);
    const T across = k.lower_pivot_x + k.lower_length * cos(x[0]) + c * k.mast_pin_x - s * k.mast_pin_z - k.upper_pin_x;
    const T up = k.lower_pivot_z + k.lower_length * sin(x[0]) + s * k.mast_pin_x + c * k.mast_pin_z - k.upper_pin_z;
    left[0] = k.lower_pivot_z + k.lower_length * sin(x[0]) - height;
    left[1] = sqrt(across * across + up * up) - k.upper_length;
}

/// The same for ball and pitch as unknowns, three equations.
inline void find_ball_closure(const PoseProblem& k, double height, const double* x, double* left) {
    const double s = std::sin(x[2]), c = std::cos(x[2]);
    const double across = x[0] + c * k.mast_pin_x - s * k.mast_pin_z - k.upper_pin_x;
    const double up = x[1] + s * k.mast_pin_x + c * k.mast_pin_z - k.upper_pin_z;
    left[0] = x[1] - height;
    left[1] = std::hypot(x[0] - k.lower_pivot_x, x[1] - k.lower_pivot_z) - k.lower_length;
    left[2] = std::hypot(across, up) - k.upper_length;
}

/// Derivatives by hand of the two equations: {dr1/dtheta, dr1/dp, dr2/dtheta, dr2/dp}.
inline std::array<double, 4> find_closure_slopes(const PoseProblem& k, const double* x) {
    const double s = std::sin(x[1]), c = std::cos(x[1]), st = std::sin(x[0]), ct = std::cos(x[0]);
    const double arm_x = c * k.mast_pin_x - s * k.mast_pin_z, arm_z = s * k.mast_pin_x + c * k.mast_pin_z;
    const double across = k.lower_pivot_x + k.lower_length * ct + arm_x - k.upper_pin_x;
    const double up = k.lower_pivot_z + k.lower_length * st + arm_z - k.upper_pin_z;
    const double distance = std::sqrt(across * across + up * up);
    return {k.lower_length * ct, 0.0, k.lower_length * (up * ct - across * st) / distance,
            (up * arm_x - across * arm_z) / distance};
}

/// The driveline once the unknowns are known.
template <class T>
std::array<T, 4> find_numbers(const PoseProblem& k, T link_angle, T pitch) {
    using std::acos;
    using std::cos;
    using std::sin;
    using std::sqrt;
    const T s = sin(pitch), c = cos(pitch);
    const Triple &q = k.tractor_joint, &joint = k.implement_joint, &u = k.stub_axis, &axis = k.input_axis;
    const T x = k.lower_pivot_x + k.lower_length * cos(link_angle) + c * joint[0] - s * joint[2] - q[0];
    const T y = joint[1] - q[1];
    const T z = k.lower_pivot_z + k.lower_length * sin(link_angle) + s * joint[0] + c * joint[2] - q[2];
    const T length = sqrt(x * x + y * y + z * z);
    const T first = (u[0] * x + u[1] * y + u[2] * z) / length;
    const T second = ((c * axis[0] - s * axis[2]) * x + axis[1] * y + (s * axis[0] + c * axis[2]) * z) / length;
    return {pitch, length, acos(std::clamp(first, T(-1), T(1))), acos(std::clamp(second, T(-1), T(1)))};
}

inline PoseNumbers find_pose_numbers(const PoseProblem& k, const double* x) {
    const std::array<double, 4> n = find_numbers(k, x[0], x[1]);
    return {n[0], n[1], n[2], n[3]};
}

}  // namespace bench
