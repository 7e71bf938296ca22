// The lift in every combination of holes: the same load, another linkage. Links set for the working attitude
// (hole_numbers.h).
#pragma once

#include <string>
#include <vector>

#include "geometry/hole_numbers.h"
#include "geometry/lift_study.h"

namespace hitchwright {

/// One combination.
struct LiftHole {
    HoleCombination holes;
    std::string tractor_pin, mast_pin, rod_hole;  ///< names; rod_hole empty where none are listed
    bool is_present = false;                      ///< what the set-up has chosen
    bool closes = false;  ///< false: the linkage does not close in these holes, `lift` says nothing
    LiftStudy lift;       ///< without the band of the readings
};

/// All combinations, most capacity at the worst height first; what does not close or is not known last, in the order of
/// the lists.
std::vector<LiftHole> study_lift_holes(const Setup& setup);

}  // namespace hitchwright
