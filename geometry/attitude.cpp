// Columns of R are the implement's axes seen in T, written out: with the signs of pitch and roll turned against the
// right-hand rule only where the model says so, a product of library rotations would hide which is which.
//   Rx(roll):   y -> ( 0,  cr,  sr), z -> (0, -sr, cr)     right side up
//   Ry(-pitch): x -> (cp,   0,  sp), z -> (-sp, 0, cp)     rear up
//   Rz(yaw):    x -> (cy,  sy,   0), y -> (-sy, cy, 0)     rear to the right
#include "geometry/attitude.h"

#include <cmath>

namespace hitchwright {

Eigen::Matrix3d make_rotation(const Attitude& attitude) {
    const double cp = std::cos(attitude.pitch);
    const double sp = std::sin(attitude.pitch);
    const double cr = std::cos(attitude.roll);
    const double sr = std::sin(attitude.roll);
    const double cy = std::cos(attitude.yaw);
    const double sy = std::sin(attitude.yaw);
    Eigen::Matrix3d rotation;
    rotation.col(0) << cy * cp, sy * cp, sp;
    rotation.col(1) << -sy * cr - cy * sp * sr, cy * cr - sy * sp * sr, cp * sr;
    rotation.col(2) << sy * sr - cy * sp * cr, -cy * sr - sy * sp * cr, cp * cr;
    return rotation;
}

}  // namespace hitchwright
