// Peak acceleration: with x = cos 2t and k = s^2/(2 - s^2) the acceleration / speed^2 is proportional to
// sqrt(1 - x^2)/(1 - k x)^2. Its only stationary point in -1 < x < 1 solves k x^2 + x - 2 k = 0:
//   x = 4 k / (1 + sqrt(1 + 8 k^2)).
// Near B = 90 deg both k and x go to 1, so 1 - k and 1 - x are built from cos^2 B without subtraction.
#include "geometry/universal_joint.h"

#include <cmath>

#include "geometry/angle.h"

namespace hitchwright {

namespace {

struct PeakAcceleration {
    double value = 0.0;        // per input speed squared
    double input_angle = 0.0;  // rad
};

PeakAcceleration find_peak_acceleration(double joint_angle) {
    const double c = std::cos(joint_angle);
    const double s = std::sin(joint_angle);
    const double k = s * s / (1.0 + c * c);
    const double one_less_k = 2.0 * c * c / (1.0 + c * c);
    const double root = std::sqrt(1.0 + 8.0 * k * k);
    const double x = 4.0 * k / (1.0 + root);
    const double one_less_x = one_less_k * (1.0 + (1.0 + k) / (root + 3.0 * k)) / (1.0 + root);
    const double sin_2t = std::sqrt(one_less_x * (1.0 + x));
    const double one_less_kx = one_less_k + k * one_less_x;
    const double denominator = 0.5 * (1.0 + c * c) * one_less_kx;  // 1 - s^2 cos^2 t
    return {c * s * s * sin_2t / (denominator * denominator), 0.5 * std::atan2(sin_2t, x)};
}

bool usable(double joint_angle, double input_angle) {
    return check_joint_angle(joint_angle) == JointMotionStatus::ok && std::isfinite(input_angle);
}

}  // namespace

JointMotionStatus check_joint_angle(double joint_angle) {
    if (!std::isfinite(joint_angle)) {
        return JointMotionStatus::not_finite;
    }
    if (joint_angle < 0.0 || joint_angle >= 0.5 * pi) {
        return JointMotionStatus::angle_out_of_range;
    }
    return JointMotionStatus::ok;
}

JointMotion find_joint_motion(double joint_angle) {
    JointMotion motion;
    motion.status = check_joint_angle(joint_angle);
    if (motion.status != JointMotionStatus::ok) {
        return motion;
    }
    const double c = std::cos(joint_angle);
    const double s = std::sin(joint_angle);
    const double half = std::sin(0.5 * joint_angle);
    motion.speed_ratio_least = c;
    motion.speed_ratio_most = 1.0 / c;
    motion.non_uniformity = s * s / c;
    // tan(lead) = (1 - c)/(2 sqrt c) with 1 - c = 2 sin^2(B/2), reached at the angle of equal speed.
    motion.lead_lag_most = std::atan(half * half / std::sqrt(c));
    motion.equal_speed_input_angle = std::atan(std::sqrt(c));
    const PeakAcceleration peak = find_peak_acceleration(joint_angle);
    motion.peak_acceleration = peak.value;
    motion.peak_acceleration_input_angle = peak.input_angle;
    return motion;
}

std::optional<double> find_speed_ratio(double joint_angle, double input_angle) {
    if (!usable(joint_angle, input_angle)) {
        return std::nullopt;
    }
    const double c = std::cos(joint_angle);
    const double ct = std::cos(input_angle);
    const double st = std::sin(input_angle);
    return c / (c * c * ct * ct + st * st);
}

std::optional<double> find_output_lead(double joint_angle, double input_angle) {
    if (!usable(joint_angle, input_angle)) {
        return std::nullopt;
    }
    const double c = std::cos(joint_angle);
    const double half = std::sin(0.5 * joint_angle);
    const double ct = std::cos(input_angle);
    const double st = std::sin(input_angle);
    return std::atan2(2.0 * half * half * st * ct, c * ct * ct + st * st);
}

}  // namespace hitchwright
