// The small pitch curves of the hole table: one for each pair of holes, all on one scale.
#pragma once

#include <vector>

#include "geometry/hole_study.h"
#include "geometry/pitch_curve.h"

namespace hitchwright {

/// Curves in the order of the study's results, with what all of them are drawn by.
struct HoleCurves {
    std::vector<std::vector<PitchPoint>> curves;  ///< empty for a pair that does not close
    double height_low = 0.0, height_high = 0.0;   ///< m, over all
    double pitch_low = 0.0, pitch_high = 0.0;     ///< rad, over all and level
};

/// The curves of a study.
HoleCurves make_hole_curves(const Setup& setup, const HoleStudy& study);

}  // namespace hitchwright
