// Two joints with twist and phase by a second method: the crosses carried round in space, no matrix and no B_e.
//
// The input arm p1 is turned about the stub axis. The cross makes the shaft's arm square to p1 and to the shaft axis;
// the second inner yoke stands at that arm turned by the phase g about the shaft; its cross makes the output arm.
// Speeds follow from differentiating "arms stay square": w_out = -w_in (u x p).q / (p.(v x q)).
// Twist and phase are never put together here, so their signs are tested too.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include <Eigen/Geometry>

#include "geometry/angle.h"
#include "geometry/driveline_geometry.h"
#include "geometry/two_joint.h"

using namespace hitchwright;

namespace {

struct ShaftInSpace {
    Eigen::Vector3d u_a, v, u_b;  // rearward unit axes
    double phase = 0.0;           // of the second inner yoke against the first, right-handed about v
};

struct Turned {
    double ratio = 1.0;         // output speed / input speed
    double output_angle = 0.0;  // of the output arm about u_b, in (-pi, pi], from an arbitrary zero
};

Eigen::Vector3d any_square_to(const Eigen::Vector3d& axis) {
    const Eigen::Vector3d other = std::abs(axis.z()) < 0.9 ? Eigen::Vector3d::UnitZ() : Eigen::Vector3d::UnitY();
    return axis.cross(other).normalized();
}

double angle_about(const Eigen::Vector3d& axis, const Eigen::Vector3d& arm) {
    const Eigen::Vector3d zero = any_square_to(axis);
    return std::atan2(axis.dot(zero.cross(arm)), zero.dot(arm));
}

// Speed about `out` over speed about `in` for a cross with arms p (on `in`) and q (on `out`).
double joint_ratio(const Eigen::Vector3d& in, const Eigen::Vector3d& out, const Eigen::Vector3d& p,
                   const Eigen::Vector3d& q) {
    return -in.cross(p).dot(q) / p.dot(out.cross(q));
}

Turned turn_input(const ShaftInSpace& shaft, double input_angle) {
    const Eigen::Vector3d start = any_square_to(shaft.u_a);
    const Eigen::Vector3d p1 = Eigen::AngleAxisd(input_angle, shaft.u_a) * start;
    const Eigen::Vector3d q1 = shaft.v.cross(p1).normalized();
    const Eigen::Vector3d p2 = Eigen::AngleAxisd(shaft.phase, shaft.v) * q1;
    const Eigen::Vector3d q2 = shaft.u_b.cross(p2).normalized();
    return {joint_ratio(shaft.u_a, shaft.v, p1, q1) * joint_ratio(shaft.v, shaft.u_b, p2, q2),
            angle_about(shaft.u_b, q2)};
}

struct Sampled {
    double least = 1e300;
    double most = 0.0;
    double lead_lag = 0.0;      // half the range of output less input angle
    double acceleration = 0.0;  // greatest |d ratio / d input angle|
};

// One half turn (the motion repeats) in steps of 0.02 deg, extremes refined by a parabola through three samples.
Sampled sample(const ShaftInSpace& shaft) {
    constexpr int steps = 9000;
    const double step = pi / steps;
    const auto ratio = [&](int k) { return turn_input(shaft, k * step).ratio; };
    const auto peak = [](double a, double b, double c) {
        const double bend = a - 2.0 * b + c;
        return bend == 0.0 ? b : b - (c - a) * (c - a) / (8.0 * bend);
    };
    Sampled result;
    std::vector<double> values;
    for (int k = -2; k <= steps + 2; ++k) {
        values.push_back(ratio(k));
    }
    double lead_least = 0.0;
    double lead_most = 0.0;
    const double zero = turn_input(shaft, 0.0).output_angle;
    for (std::size_t k = 2; k + 2 < values.size(); ++k) {
        if ((values[k] - values[k - 1]) * (values[k + 1] - values[k]) <= 0.0) {
            const double top = peak(values[k - 1], values[k], values[k + 1]);
            result.least = std::min(result.least, top);
            result.most = std::max(result.most, top);
        }
        // Fourth-order difference: error step^4 times the fifth derivative.
        const double slope =
            (values[k - 2] - 8.0 * values[k - 1] + 8.0 * values[k + 1] - values[k + 2]) / (12.0 * step);
        result.acceleration = std::max(result.acceleration, std::abs(slope));
        const double input = static_cast<double>(k - 2) * step;
        const double lead = wrap_angle(turn_input(shaft, input).output_angle - zero - input);
        lead_least = std::min(lead_least, lead);
        lead_most = std::max(lead_most, lead);
    }
    result.lead_lag = 0.5 * (lead_most - lead_least);
    return result;
}

ShaftInSpace make_random_shaft(std::mt19937& random) {
    std::uniform_real_distribution<double> tilt(-0.9, 0.9);
    std::uniform_real_distribution<double> phase(-pi, pi);
    while (true) {
        const ShaftInSpace shaft{make_shaft_axis(tilt(random), tilt(random)),
                                 make_shaft_axis(tilt(random), tilt(random)),
                                 make_shaft_axis(tilt(random), tilt(random)), phase(random)};
        if (find_angle_between(shaft.u_a, shaft.v) < to_radians(65.0) &&
            find_angle_between(shaft.v, shaft.u_b) < to_radians(65.0)) {
            return shaft;
        }
    }
}

TwoJointMotion find_motion(const ShaftInSpace& s) {
    return find_two_joint_motion({find_angle_between(s.u_a, s.v), find_angle_between(s.v, s.u_b),
                                  find_bending_plane_angle(s.u_a, s.v, s.u_b), s.phase});
}

}  // namespace

TEST_CASE("two joints: ripple, lead and acceleration of 40 random set-ups agree with crosses carried round in space",
          "[oracle][random]") {
    constexpr unsigned seed = 20240117u;
    std::mt19937 random(seed);
    double greatest = 0.0;
    for (int i = 0; i < 40; ++i) {
        const ShaftInSpace shaft = make_random_shaft(random);
        const TwoJointMotion motion = find_motion(shaft);
        REQUIRE(motion.motion.status == JointMotionStatus::ok);
        const Sampled sampled = sample(shaft);
        CAPTURE(seed, i, to_degrees(motion.equivalent_angle), shaft.phase);
        greatest = std::max(greatest, motion.equivalent_angle);
        // Parabola through samples 0.02 deg apart: error step^4 times the fourth derivative, below 1e-8 relative.
        CHECK(std::abs(sampled.most / motion.motion.speed_ratio_most - 1.0) < 1e-7);
        CHECK(std::abs(sampled.least / motion.motion.speed_ratio_least - 1.0) < 1e-7);
        // The greatest of samples, not refined: curvature times (step/2)^2 / 2, below 1e-5 relative at 80 deg.
        CHECK(std::abs(sampled.lead_lag - motion.motion.lead_lag_most) < 1e-5 * motion.motion.lead_lag_most + 1e-9);
        CHECK(std::abs(sampled.acceleration / motion.motion.peak_acceleration - 1.0) < 1e-4);
    }
    // The sample must reach set-ups that ripple.
    CHECK(to_degrees(greatest) > 45.0);
}

TEST_CASE("two joints: the phase that cancels the twist ripples least, found by trying phases in space",
          "[oracle][random]") {
    constexpr unsigned seed = 5u;
    std::mt19937 random(seed);
    for (int i = 0; i < 20; ++i) {
        ShaftInSpace shaft = make_random_shaft(random);
        const double best = find_best_yoke_phase(find_bending_plane_angle(shaft.u_a, shaft.v, shaft.u_b));
        const auto ripple = [&](double phase) {
            shaft.phase = phase;
            double least = 1e300;
            double most = 0.0;
            for (int k = 0; k < 720; ++k) {
                const double ratio = turn_input(shaft, pi * k / 720.0).ratio;
                least = std::min(least, ratio);
                most = std::max(most, ratio);
            }
            return most - least;
        };
        CAPTURE(seed, i, to_degrees(best));
        const double at_best = ripple(best);
        for (int k = 1; k < 36; ++k) {
            // Samples 0.25 deg apart: ripple uncertain by about 1e-4 of itself.
            CHECK(ripple(best + to_radians(5.0 * k)) >= at_best * (1.0 - 1e-3));
        }
    }
}

TEST_CASE("two joints: the speed ratio at every input angle is that of the crosses in space", "[oracle][random]") {
    constexpr unsigned seed = 99u;
    std::mt19937 random(seed);
    for (int i = 0; i < 20; ++i) {
        const ShaftInSpace s = make_random_shaft(random);
        const TwoJointShaft shaft{find_angle_between(s.u_a, s.v), find_angle_between(s.v, s.u_b),
                                  find_bending_plane_angle(s.u_a, s.v, s.u_b), s.phase};
        // The library counts from the arm square to the first bending plane.
        const double zero = angle_about(s.u_a, s.u_a.cross(s.v).normalized());
        for (int k = 0; k < 72; ++k) {
            const double t = to_radians(5.0 * k);
            CAPTURE(seed, i, k);
            CHECK(std::abs(find_two_joint_speed_ratio(shaft, t).value() / turn_input(s, zero + t).ratio - 1.0) < 1e-11);
        }
    }
}
