// Why direct readings do not fit: what would make all of them fit is looked for, one change at a time.
//
// Other points than the stated ones (grooves, shaft ends, joint centres: lock to lock instead of centre to centre) for the
// readings left out; the one reading that was left out, where the rest fits; other points for all distances; another hole of
// the upper link on the tractor or on the mast, the link as long as it is. A cause is a likely one: nothing is changed by it.
#pragma once

#include <string>
#include <vector>

#include "geometry/model_fit.h"

namespace hitchwright {

/// Sets cause, points and subject. `left_out`: keys of the readings the others speak against; empty: nobody can tell which.
void set_misfit_cause(const Setup& setup, const std::vector<std::string>& left_out, ModelFit& fit);

/// True when all direct readings of a set-up fit its model and each other (model_fit.h).
bool is_consistent(const Setup& setup);

}  // namespace hitchwright
