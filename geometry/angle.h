// Angles in radians: conversion to and from degrees, and the wrap to one turn.
//
// Side-view angles run from +x (rearward) to +z (up); plan-view angles from +x to +y.
// Degrees exist only at the edge of the program; everything below works in radians.
#pragma once

#include <cmath>
#include <numbers>

namespace hitchwright {

inline constexpr double pi = std::numbers::pi;

/// Degrees to radians.
constexpr double to_radians(double degrees) { return degrees * (pi / 180.0); }

/// Radians to degrees.
constexpr double to_degrees(double radians) { return radians * (180.0 / pi); }

/// The same direction in (-pi, pi]. Exact reduction, so large turns lose no accuracy of their own;
/// an argument that is not finite comes back as NaN, as every arithmetic on it would.
inline double wrap_angle(double angle) {
    const double wrapped = std::remainder(angle, 2.0 * pi);
    return wrapped <= -pi ? pi : wrapped;
}

}  // namespace hitchwright
