// M = [ a b ] = [ c2 C   -c1 c2 S ]   C = cos(f + g), S = sin(f + g), c1 = cos B1, c2 = cos B2
//     [ c d ]   [ S       c1 C    ]
// The singular values of a 2 x 2 matrix obey  s_most + s_least = |(a + d, b - c)|,  s_most - s_least = |(a - d, b +
// c)|. Both are written without cancellation, and tan^2(B_e/2) = (1 - cos B_e)/(1 + cos B_e) = difference / sum. Signs
// of f and g: the inner yoke at joint 2 stands at the first inner yoke's angle plus g, and angles in the second bending
// plane's frame are less by the right-handed turn from the first normal to the second, which is -f.
#include "geometry/two_joint.h"

#include <cmath>

#include <Eigen/Geometry>

#include "geometry/angle.h"

namespace hitchwright {

namespace {

// 1 - cos x without cancellation.
double versine(double x) {
    const double half = std::sin(0.5 * x);
    return 2.0 * half * half;
}

JointMotionStatus check_shaft(const TwoJointShaft& shaft) {
    const JointMotionStatus first = check_joint_angle(shaft.joint_angle_1);
    const JointMotionStatus second = check_joint_angle(shaft.joint_angle_2);
    const bool finite = std::isfinite(shaft.bending_plane_angle + shaft.yoke_phase_error);
    if (!finite || first == JointMotionStatus::not_finite || second == JointMotionStatus::not_finite) {
        return JointMotionStatus::not_finite;
    }
    return first != JointMotionStatus::ok ? first : second;
}

double find_equivalent_angle(const TwoJointShaft& shaft) {
    const double b1 = shaft.joint_angle_1;
    const double b2 = shaft.joint_angle_2;
    const double turn = shaft.bending_plane_angle + shaft.yoke_phase_error;
    const double c1 = std::cos(b1);
    const double c2 = std::cos(b2);
    const double cosine_difference = 2.0 * std::sin(0.5 * (b1 + b2)) * std::sin(0.5 * (b1 - b2));  // c2 - c1
    const double one_less_product = versine(b1) + c1 * versine(b2);                                // 1 - c1 c2
    const double difference = std::hypot(cosine_difference * std::cos(turn), one_less_product * std::sin(turn));
    const double sum = std::hypot((c1 + c2) * std::cos(turn), (1.0 + c1 * c2) * std::sin(turn));
    return 2.0 * std::atan(std::sqrt(difference / sum));
}

}  // namespace

TwoJointMotion find_two_joint_motion(const TwoJointShaft& shaft) {
    TwoJointMotion result;
    result.motion.status = check_shaft(shaft);
    if (result.motion.status != JointMotionStatus::ok) {
        return result;
    }
    const double equivalent = find_equivalent_angle(shaft);
    result.motion = find_joint_motion(equivalent);
    if (result.motion.status == JointMotionStatus::ok) {
        result.equivalent_angle = equivalent;
    }
    return result;
}

std::optional<double> find_two_joint_speed_ratio(const TwoJointShaft& shaft, double input_angle) {
    if (check_shaft(shaft) != JointMotionStatus::ok || !std::isfinite(input_angle)) {
        return std::nullopt;
    }
    const double c1 = std::cos(shaft.joint_angle_1);
    const double c2 = std::cos(shaft.joint_angle_2);
    const double turn = shaft.bending_plane_angle + shaft.yoke_phase_error;
    const double along = std::cos(input_angle);
    const double across = c1 * std::sin(input_angle);
    const double x = c2 * (std::cos(turn) * along - std::sin(turn) * across);
    const double y = std::sin(turn) * along + std::cos(turn) * across;
    return c1 * c2 / (x * x + y * y);
}

double find_bending_plane_angle(const Eigen::Vector3d& u_a, const Eigen::Vector3d& v, const Eigen::Vector3d& u_b) {
    const Eigen::Vector3d first = u_a.cross(v);
    const Eigen::Vector3d second = v.cross(u_b);
    const double sine = v.dot(second.cross(first));
    const double cosine = second.dot(first);
    // atan2 gives -pi for a negative zero; one name for one angle.
    const double angle = std::atan2(sine, cosine);
    return angle <= -pi ? pi : angle;
}

double find_best_yoke_phase(double bending_plane_angle) {
    const double phase = std::remainder(-bending_plane_angle, pi);
    return phase <= -0.5 * pi ? 0.5 * pi : phase;
}

}  // namespace hitchwright
