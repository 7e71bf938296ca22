// What standing on other tyres than those it was measured on does to a tractor, as a finding. Numbers: tyre_change.h.
#pragma once

#include <vector>

#include "geometry/finding.h"
#include "geometry/setup.h"
#include "geometry/tyre_change.h"

namespace hitchwright {

/// One finding on other tyres, none on its own. value: rise of the rear axle, m; `other`: "turned", "level" or "level_assumed"
/// where front radius or wheelbase, named by the remedies, are not known.
std::vector<Finding> check_tyres(const Setup& setup, const TyreChange& tyres);

}  // namespace hitchwright
