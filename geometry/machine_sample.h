// Many machines, each swept over its own travel: how short and how long the shaft gets and how far each joint bends.
//
// For tolerance studies (one set-up drawn 100,000 times within the errors of its readings) and for the matrix of many
// set-ups (every tractor with every implement in every hole). Per pose two roots and two divisions and no trigonometry:
// lengths are compared as squares, angles B by cos B |cos B|, and each machine takes its roots and arc cosines once, at
// the end. Poses of a machine stand side by side in block passes that the compiler vectorises (vector_clones.h).
// Poses stand at even steps of ball height, so that extremes between them are missed: where a bound is wanted take
// mounted_extremes.h. As exact as pose_numbers.h, but a greatest joint angle B to 4e-16/B rad only. Frame T; m, rad.
#pragma once

#include <cstddef>
#include <span>

#include "geometry/height_range.h"
#include "geometry/shaft_kernel.h"

namespace hitchwright {

/// A linkage with its upper link at `linkage.upper_length`, its driveline and its travel of ball heights.
struct SampledMachine {
    PlanarLinkage linkage;
    DrivelineEnds ends;
    HeightRange travel;
};

/// What a sweep finds. Lengths in m, angles in rad; all 0 when no pose has a shaft.
struct SweepExtremes {
    double least_length = 0.0, greatest_length = 0.0;
    double greatest_tractor_angle = 0.0, greatest_implement_angle = 0.0;
    std::size_t shafts = 0;  ///< at how many poses the linkage closes and has a shaft whose angles are numbers

    bool operator==(const SweepExtremes&) const = default;
};

/// Sweeps every machine over `poses` >= 2 heights from one end of its travel to the other, ends included, on `threads`
/// threads (1 starts none). The answer is the same, to the last digit, for any number of them. `out` is as long as `machines`.
void sweep_machines(std::span<const SampledMachine> machines, std::size_t poses, std::size_t threads,
                    std::span<SweepExtremes> out);

}  // namespace hitchwright
