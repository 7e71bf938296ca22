// One pair of clearance.h over a range of heights, for searches that ask many times about it alone.
#pragma once

#include "geometry/clearance.h"

namespace hitchwright {

/// The clearance of the pair that `like` names (kind and part) over the box; nothing when there is no such pair.
std::optional<Clearance> find_pair_clearance(const Setup& setup, const MountedModel& model, const TravelBox& box,
                                             const Clearance& like);

}  // namespace hitchwright
