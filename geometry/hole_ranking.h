// The order of the hole study: which combination goes before which, and by what measure.
//
// Combinations are compared by one measure after the other, each as it is shown (rounded), until one differs: what looks
// equal counts as equal, and the order does not hang on digits nobody can measure. Which measures, in which order:
// list_hole_measures. Ties in all of them share a place.
#pragma once

#include <vector>

#include "geometry/hole_study.h"

namespace hitchwright {

/// Measures of an order, first the most important. Standing comes first in all of them; under a stated wish "fits" and
/// "after a cut" count as the same, since a shaft is cut once and a hole is lived with.
std::vector<HoleMeasure> list_hole_measures(HoleWish wish, bool has_tail);

/// Sorts results, gives places and says what put each behind the first. Sets study.judged_by.
void rank_holes(HoleStudy& study);

}  // namespace hitchwright
