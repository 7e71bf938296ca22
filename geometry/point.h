// Points and directions of the side view.
//
// Frame: x rearward, z up, seen from the left of the tractor (x to the right of the picture).
// Component 0 is x, component 1 is z. Angles run from +x to +z, so a positive pitch lifts the rear.
#pragma once

#include <cmath>

#include <Eigen/Core>

namespace hitchwright {

/// A point or a vector of the side view, m: (x rearward, z up).
using Point = Eigen::Vector2d;

/// Direction at `angle` (rad), length 1.
inline Point unit_vector(double angle) { return Point(std::cos(angle), std::sin(angle)); }

/// Direction of `v`, rad in [-pi, pi]; 0 for the zero vector.
inline double direction(const Point& v) { return std::atan2(v.y(), v.x()); }

/// `v` turned by a quarter turn from +x to +z: the velocity of its tip per rad/s.
inline Point perpendicular(const Point& v) { return Point(-v.y(), v.x()); }

/// `v` turned by `angle` (rad).
inline Point rotate(const Point& v, double angle) {
    const double c = std::cos(angle);
    const double s = std::sin(angle);
    return Point(c * v.x() - s * v.y(), s * v.x() + c * v.y());
}

/// a.x b.z - a.z b.x, m^2: positive when `b` lies to the left of `a`, that is turned from +x to +z.
inline double cross(const Point& a, const Point& b) { return a.x() * b.y() - a.y() * b.x(); }

}  // namespace hitchwright
