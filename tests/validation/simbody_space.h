// The whole three-point linkage in space assembled by a general multibody solver (Simbody), as an independent closure.
//
// A plain header, as simbody_linkage.h. Bodies on joints, the rest as constraints; no closed form of the project is involved:
// both lower links on universal joints (raised about the lateral axis, then swayed about their own normal, so that they do not
// spin), the implement free, balls, three rods, and one condition on the sway. Frame T and I, m, rad.
#pragma once

#include <array>

namespace validation {

using SimbodyPoint = std::array<double, 3>;

struct SimbodySpace {
    double lower_pivot_x = 0.0, lower_pivot_z = 0.0, lower_length = 0.0, half_spread_at_pivot = 0.0, half_spread_at_ball = 0.0;
    double upper_pin_x = 0.0, upper_pin_z = 0.0, upper_length = 0.0;
    double mast_pin_x = 0.0, mast_pin_z = 0.0;  ///< in the implement's frame, from the middle between the balls
    double arm_pivot_x = 0.0, arm_pivot_z = 0.0, arm_length = 0.0, arm_half_spread = 0.0, arm_angle = 0.0;
    double left_rod = 0.0, right_rod = 0.0, rod_along = 0.0, rod_offset = 0.0;
    int taut = 0;  ///< 0: the middle of the hitch in the median plane; 1 the right chain taut, -1 the left one
    double anchor_x = 0.0, anchor_half_spread = 0.0, anchor_z = 0.0, chain_along = 0.0, chain_length = 0.0;
};

/// Where the bodies start: links raised and swayed, the implement's middle between the balls and its turn about y, z and x.
struct SimbodyStart {
    double left_raise = 0.0, left_sway = 0.0, right_raise = 0.0, right_sway = 0.0;
    SimbodyPoint hitch{};
    double pitch = 0.0, roll = 0.0, yaw = 0.0;
};

struct SimbodySpacePose {
    bool assembled = false;
    SimbodyPoint left_ball{}, right_ball{}, mast_pin{}, left_foot{}, right_foot{};
    SimbodyPoint behind{};  ///< the point 1 m behind the middle between the balls
    double left_over = 0.0; ///< greatest constraint error, m
};

/// Assembles from the start; the root found is the one near it.
SimbodySpacePose assemble_space_with_simbody(const SimbodySpace& linkage, const SimbodyStart& start);

}  // namespace validation
