// The driveline's part of a mounted model: joint centres and axes at both ends, halves and guard tubes after the cuts.
//
// Lengths are brought to joint centres (shaft_length.h), tubes that nobody measured are assumed and flagged
// (telescoping.h). What is missing or contradicts itself becomes an obstacle of the shaft.
#pragma once

#include "geometry/mounted_model.h"

namespace hitchwright {

/// Adds the shaft to `result.model`, or obstacles to `result.shaft_obstacles`. Does nothing but that.
void build_mounted_shaft(const Setup& setup, MountedModelResult& result);

}  // namespace hitchwright
