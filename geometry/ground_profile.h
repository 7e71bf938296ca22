// Ground with a ditch or ridge, and a rigid wheel that rolls on it; exact contact.
//
// The ground is a polyline z(s) square to the line of the ditch, level beyond its first and last corner, the same all along
// the ditch. A wheel is a thin rigid circle of its loaded radius in any plane in space. Along a straight stretch of ground
// z - (z0 + m (s - s0)) of its points P(t) = C + r (cos t e1 + sin t e2) is a sine wave, least in closed form; where that place
// lies outside the stretch the least is at a corner, s(P) = s_corner, again closed form. So the gap between wheel and ground,
// least over all points, is exact; nothing is sampled. Upright and square to the ditch the wheel's centre follows the
// profile's offset curve: in a V of 45 deg sides a wheel of radius 21 in stays 8.7 in above the vertex.
#pragma once

#include <optional>
#include <vector>

#include <Eigen/Core>

#include "geometry/drawn_readings.h"
#include "geometry/point.h"

namespace hitchwright {

/// Corners (s, z) of the ground, s strictly rising, m. No corner: level ground at 0.
struct GroundProfile {
    std::vector<Point> corners;

    bool operator==(const GroundProfile&) const = default;
};

/// A ditch (depth > 0) or ridge (depth < 0) symmetrical about s = 0: level bottom, straight sides. A side slope of 0 with
/// a depth has no sides and no profile; so have measures that are not finite, a negative width, a slope of 90 deg.
std::optional<GroundProfile> make_ditch_profile(double depth, double bottom_width, double side_slope);

/// The profile of the readings: points first, else the measures. Nothing when neither is complete or they contradict
/// themselves (points not in rising order).
std::optional<GroundProfile> make_profile(const DitchReadings& ditch);

/// The same ground seen from the other side: s turned round.
GroundProfile mirror(const GroundProfile& profile);

/// The same shape, heights multiplied by `factor`.
GroundProfile scale_heights(const GroundProfile& profile, double factor);

/// Height of the ground at s, m.
double find_ground_height(const GroundProfile& profile, double s);

/// A wheel in space: centre, two unit vectors square to each other in its plane, loaded radius. m.
struct WheelCircle {
    Eigen::Vector3d centre = Eigen::Vector3d::Zero();
    Eigen::Vector3d along = Eigen::Vector3d::UnitX(), up = Eigen::Vector3d::UnitZ();
    double radius = 0.0;
};

/// Where a wheel comes nearest to the ground, measured vertically.
struct WheelGap {
    double gap = 0.0;  ///< m; 0: it touches, negative: it is in the ground
    Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< point of the wheel
};

/// `across`: horizontal unit vector along which s is measured.
WheelGap find_wheel_gap(const GroundProfile& profile, const WheelCircle& wheel, const Eigen::Vector3d& across);

}  // namespace hitchwright
