#include "geometry/wide_angle_joint.h"

#include <algorithm>
#include <limits>

#include <Eigen/Geometry>

#include "geometry/angle.h"

namespace hitchwright {

namespace {

// An axis built from angles or turned by a rotation is of length 1 to 1e-15; a mistake is not.
constexpr double unit_tolerance = 1e-9;

// |X| may pass r by rounding of their squares only.
constexpr double distance_tolerance = 1e-12;

// Newton needs 4 to 6 steps; bisection inside the bracket would need 60.
constexpr int most_steps = 100;

// Root h of sin(2 h - psi) = ratio sin h between psi/2 and the smaller of psi and 90 deg; 0 <= ratio < 1.
// The function is below 0 at the lower end and above at the upper one; between them it has one root.
double solve_half_bend(double psi, double ratio) {
    double low = 0.5 * psi;
    double high = std::min(psi, 0.5 * pi);
    double h = std::min(low * (1.0 + ratio), high);
    for (int step = 0; step < most_steps && low < high; ++step) {
        const double value = std::sin(2.0 * h - psi) - ratio * std::sin(h);
        (value > 0.0 ? high : low) = h;
        const double slope = 2.0 * std::cos(2.0 * h - psi) - ratio * std::cos(h);
        double next = h - value / slope;
        if (!(next >= low && next <= high)) {
            next = 0.5 * (low + high);
        }
        const double moved = std::abs(next - h);
        h = next;
        if (moved <= std::numeric_limits<double>::epsilon() * h) {
            break;
        }
    }
    return h;
}

// Plane problem: K at (axial, across) from C1, across >= 0.
WideAngleSolution solve_in_plane(double axial, double across, double spacing) {
    WideAngleSolution result;
    const double distance = std::hypot(axial, across);
    if (!std::isfinite(distance) || !std::isfinite(spacing)) {
        return result;
    }
    if (spacing < 0.0) {
        result.status = WideAngleStatus::spacing_negative;
        return result;
    }
    if (distance <= spacing) {
        result.status = WideAngleStatus::plain_joint_inside;
        return result;
    }
    // At a bend of 180 deg equation (1) reads r sin psi = w: what lies behind that is out of reach.
    if (axial < 0.0 && across <= spacing) {
        result.status = WideAngleStatus::folded_back;
        return result;
    }
    const double psi = std::atan2(across, axial);
    const double half = solve_half_bend(psi, spacing / distance);
    result.status = WideAngleStatus::ok;
    result.bend_angle = 2.0 * half;
    result.half_bend_cosine = std::cos(half);
    result.straight_part = distance * std::cos(2.0 * half - psi) - spacing * std::cos(half);
    result.shaft_length = result.straight_part + 0.5 * spacing;
    return result;
}

}  // namespace

WideAngleSolution solve_wide_angle(double axial_distance, double distance_squared, double spacing) {
    const double across_squared = distance_squared - axial_distance * axial_distance;
    if (std::isfinite(across_squared) && across_squared < -distance_tolerance * std::abs(distance_squared)) {
        WideAngleSolution result;
        result.status = WideAngleStatus::distances_impossible;
        return result;
    }
    return solve_in_plane(axial_distance, std::sqrt(std::max(across_squared, 0.0)), spacing);
}

BendDerivatives find_bend_derivatives(const WideAngleSolution& solution, double spacing) {
    BendDerivatives result;
    const double half_sine = std::sin(0.5 * solution.bend_angle);
    if (solution.status != WideAngleStatus::ok || half_sine <= 0.0) {
        return result;
    }
    const WideAngleDerivatives<double> d =
        find_wide_angle_derivatives(solution.half_bend_cosine, solution.straight_part, spacing);
    result.finite = true;
    result.by_axial = -2.0 * d.half_cosine_by_axial / half_sine;
    result.by_squared = -2.0 * d.half_cosine_by_squared / half_sine;
    return result;
}

WideAnglePose find_wide_angle_pose(const Eigen::Vector3d& centre, const Eigen::Vector3d& away,
                                   const Eigen::Vector3d& other, double spacing) {
    WideAnglePose pose;
    const Eigen::Vector3d first = centre - 0.5 * spacing * away;
    const Eigen::Vector3d reach = other - first;
    if (!first.allFinite() || !reach.allFinite()) {
        return pose;
    }
    if (std::abs(away.norm() - 1.0) > unit_tolerance) {
        pose.solution.status = WideAngleStatus::axis_not_unit;
        return pose;
    }
    const Eigen::Vector3d normal = away.cross(reach);
    const double across = normal.norm();
    pose.solution = solve_in_plane(away.dot(reach), across, spacing);
    if (pose.solution.status != WideAngleStatus::ok) {
        return pose;
    }
    // Straight: the side the joint bends to is undefined and multiplied by sin 0.
    Eigen::Vector3d side = Eigen::Vector3d::Zero();
    if (across > 0.0) {
        side = normal.cross(away) / across;
    }
    const double half = 0.5 * pose.solution.bend_angle;
    pose.first_cross = first;
    pose.second_cross = first + spacing * (std::cos(half) * away + std::sin(half) * side);
    pose.direction = std::cos(2.0 * half) * away + std::sin(2.0 * half) * side;
    return pose;
}

WideAngleDriveline find_wide_angle_driveline(const MachineShaft& stub, const MachineShaft& input, MachineEnd wide_end,
                                             double spacing) {
    WideAngleDriveline result;
    const Eigen::Vector3d q = find_tractor_joint(stub);
    const Eigen::Vector3d k = find_implement_joint(input);
    const bool at_tractor = wide_end == MachineEnd::tractor;
    const Eigen::Vector3d plain_axis = at_tractor ? input.axis : stub.axis;
    if (at_tractor) {
        result.wide = find_wide_angle_pose(q, stub.axis, k, spacing);
    } else {
        const Eigen::Vector3d away = -input.axis;
        result.wide = find_wide_angle_pose(k, away, q, spacing);
    }
    WideAngleStatus& status = result.wide.solution.status;
    if (status == WideAngleStatus::ok && !(std::abs(plain_axis.norm() - 1.0) <= unit_tolerance)) {
        result.wide = WideAnglePose{};
        status = plain_axis.allFinite() ? WideAngleStatus::axis_not_unit : WideAngleStatus::not_finite;
    }
    if (status != WideAngleStatus::ok) {
        return result;
    }
    result.direction = at_tractor ? result.wide.direction : Eigen::Vector3d(-result.wide.direction);
    result.length = result.wide.solution.shaft_length;
    result.wide_joint_angle = result.wide.solution.bend_angle;
    result.plain_joint_angle = find_angle_between(result.direction, plain_axis);
    return result;
}

}  // namespace hitchwright
