// The planar three-point linkage assembled by a general multibody solver (Simbody), as an independent closure.
//
// A plain header: the solver's own headers do not compile as C++20 and stay behind simbody_linkage.cpp.
// Bodies on pin joints, distances and heights as constraints; no closed form of the project is involved.
#pragma once

namespace validation {

/// A planar three-point linkage; m, rad. Side view: x rearward, z up.
struct SimbodyLinkage {
    double lower_pivot_x = 0.0, lower_pivot_z = 0.0, lower_length = 0.0;
    double upper_pin_x = 0.0, upper_pin_z = 0.0, upper_length = 0.0;
    double mast_pin_x = 0.0, mast_pin_z = 0.0;  ///< in the implement's frame, from the ball
    double ball_height = 0.0;
};

/// What the solver found.
struct SimbodyPose {
    bool assembled = false;
    double lower_link_angle = 0.0, pitch = 0.0;
    double ball_x = 0.0, ball_z = 0.0, mast_pin_x = 0.0, mast_pin_z = 0.0;
    double upper_link_error = 0.0;  ///< distance of the pins less the link's length: what the solver left
    double height_error = 0.0;
};

/// Assembles the linkage from a rough start: the lower link at `link_guess` and the implement at `pitch_guess`, rad.
/// The root found is the one near the start.
SimbodyPose assemble_with_simbody(const SimbodyLinkage& linkage, double link_guess, double pitch_guess);

}  // namespace validation
