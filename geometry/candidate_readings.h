// Readings that could be taken next on the coupled machine, each with its slopes by the readings there are.
//
// Distances of the shafts, pitches and the height of the rearmost outline point at the lowest, middle, working and greatest
// ball height, both ball heights, the upper link's length at work, and every reading of the files once more. The height a
// reading is taken at is taped too (1/8 in): its part is in `error`. Drawn: distances straight on and at the sharpest turns.
#pragma once

#include <vector>

#include "geometry/error_model.h"
#include "geometry/model_fit.h"

namespace hitchwright {

struct CandidateReading {
    NextReading reading;         ///< bands not set
    std::vector<double> slopes;  ///< two-sigma units, SI
    double error = 0.0;          ///< two sigma, SI
};

/// Candidates for the set-up of `errors`; empty when its model cannot be built.
std::vector<CandidateReading> list_candidates(const ErrorModel& errors);

}  // namespace hitchwright
