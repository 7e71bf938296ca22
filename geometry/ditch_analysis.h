// The ditch of a drawn set-up as pieces of work: its study, then at once with all else the depth and the angle that still pass and the
// positions of the drawbar that would.
#pragma once

#include "geometry/do_both.h"
#include "geometry/drawn_analysis.h"

namespace hitchwright {

/// Adds what fills `ditch`, new, to the work. Needs has_ditch(setup); all must outlive the work.
void add_ditch(const Setup& setup, const DrawnModel& model, DitchAnalysis& ditch, SharedWork& work);

}  // namespace hitchwright
