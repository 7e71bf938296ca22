// Many poses of one linkage at once: pitch, shaft length and both joint angles as columns over a column of ball heights.
//
// The closed form of pose_numbers.h in block passes over small columns on the stack, which the compiler vectorises for
// the processor at hand (vector_clones.h); arc sines are a polynomial (arc_sine.h). Where the driveline lies in one plane
// along the tractor, joint angles are differences of directions instead of chords (docs/theory/batch.md, 2). Plain joints only:
// with a wide-angle joint every pose is solved alone. Nothing is allocated. What a height gives does not depend on where in the
// column it stands.
// As exact as one pose at a time: 1e-12 m and 1e-12 rad up to condition number 1000 of pose_numbers.h, in proportion to it
// beyond. Frame T; m, rad.
#pragma once

#include <cstddef>
#include <span>

#include "geometry/pose_numbers.h"

namespace hitchwright {

/// Columns to write, each as long as that of the heights. Where the linkage does not close all four are 0, where the joint
/// centres coincide all but the pitch: a length of 0 is no shaft's, and says so.
struct PoseColumns {
    std::span<double> pitch, length, tractor_angle, implement_angle;
};

/// The numbers at every height, the upper link at `linkage.upper_length`. Returns at how many of them there is a shaft.
/// Columns of another length than the heights', or that overlap them or each other, are a programmer's error.
std::size_t solve_poses(const PlanarLinkage& linkage, const DrivelineEnds& ends, std::span<const double> heights,
                        const PoseColumns& out);

}  // namespace hitchwright
