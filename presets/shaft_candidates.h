// The shafts that may be tried in a set-up: every listed one put in, and the set-up's own.
#pragma once

#include <vector>

#include "geometry/shaft_choice.h"

namespace hitchwright {

/// Every listed shaft, uncut and completed as a set-up file that names the shaft would be, and the set-up's own unless it
/// is one of them just as listed.
std::vector<ShaftCandidate> list_shaft_candidates(const Setup& setup, const std::vector<Driveline>& shafts);

}  // namespace hitchwright
