// Attitude of the implement in the tractor frame: R(I -> T) = Rz(yaw) Ry(-pitch) Rx(roll).
//
// Pitch positive: rear of the implement up. Roll positive: right side up. Yaw positive: rear swings to the right.
// Frame T: x rearward, y to the right, z up. The order matters: with the joint off the pin's axis another order
// changes the shaft's length by 9 to 30 mm.
#pragma once

#include <Eigen/Core>

namespace hitchwright {

/// Three angles in rad, applied as roll, then pitch, then yaw about the fixed axes of T.
struct Attitude {
    double pitch = 0.0;  ///< rear of the implement up is positive
    double roll = 0.0;   ///< right side up is positive
    double yaw = 0.0;    ///< rear to the right is positive

    bool operator==(const Attitude&) const = default;
};

/// Rotation that takes components in the implement frame I to components in the tractor frame T.
/// Finite angles give a rotation to rounding; an angle that is not finite gives entries that are not.
Eigen::Matrix3d make_rotation(const Attitude& attitude);

}  // namespace hitchwright
