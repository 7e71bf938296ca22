// What the fit to direct readings says by itself, beside the distances that have a finding of their own (direct_analysis.h).
#pragma once

#include <vector>

#include "geometry/finding.h"
#include "geometry/model_fit.h"

namespace hitchwright {

/// One finding: used, some readings left out, or a contradiction. Readings of the files that had to move by more than their
/// tolerance are its terms and are to be taken again.
std::vector<Finding> check_fit(const ModelFit& fit);

}  // namespace hitchwright
