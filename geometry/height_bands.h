// Sets of ball heights as bands in rising order: what is left of a range, and what two sets have together.
// Heights m above the ground.
#pragma once

#include <vector>

#include "geometry/height_range.h"

namespace hitchwright {

/// The parts of `whole` that lie in none of `inside`; both in rising order. Ends that touch leave no band.
std::vector<HeightRange> find_remaining_heights(const HeightRange& whole, const std::vector<HeightRange>& inside);

/// The union of bands and one more, in rising order.
std::vector<HeightRange> add_heights(std::vector<HeightRange> bands, const HeightRange& more);

}  // namespace hitchwright
