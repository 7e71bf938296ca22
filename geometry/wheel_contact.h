// Where a wheel comes nearest to the ground, and how the gap changes when the wheel is moved.
//
// The gap of ground_profile.h, least over the points P of the wheel, with its slopes: by the envelope theorem
//   d gap = n . dP,   n = z - m a          a: unit vector across the ditch, m: slope of the ground at P
// and where P lies over a corner m is the wheel's own slope there (the corner holds P to s = s_corner). So one look at
// the ground gives gap and slopes, where differences need two more looks for each unknown. m, rad.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "geometry/ground_profile.h"

namespace hitchwright {

/// Least gap of a wheel and what moves it.
struct WheelContact {
    double gap = 0.0;
    Eigen::Vector3d arm = Eigen::Vector3d::Zero();      ///< from the wheel's centre to P
    Eigen::Vector3d normal = Eigen::Vector3d::UnitZ();  ///< n
};

/// A ground made ready for many looks: its stretches with their slopes. `across`: horizontal unit vector along which s
/// is measured.
class WheelGround {
public:
    WheelGround(const GroundProfile& profile, const Eigen::Vector3d& across);

    WheelContact find(const WheelCircle& wheel) const;

private:
    /// z = z0 + slope (s - s0) from `low` to `high`. After the first (s0, z0) is the corner it begins at.
    struct Stretch {
        double low, high, s0, z0, slope;
    };
    std::vector<Stretch> stretches_;
    Eigen::Vector3d across_;
};

}  // namespace hitchwright
