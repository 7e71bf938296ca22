// The driveline's part of a mounted model: joint centres and axes at both ends, halves and guard tubes after the cuts.
//
// Lengths are brought to joint centres (shaft_length.h), tubes that nobody measured are assumed and flagged
// (telescoping.h). What is missing or contradicts itself becomes an obstacle of the shaft.
#pragma once

#include "geometry/mounted_model.h"

namespace hitchwright {

/// The halves of a set-up's shaft and its guard tubes between joint centres, the set-up's cuts made.
struct ShaftHalves {
    bool known = false;
    AssumedHalves uncut;        ///< as measured
    TelescopingHalves halves;   ///< after the cuts
    bool has_guard = false;
    TelescopingHalves guard;    ///< after the cuts
    std::vector<ModelObstacle> obstacles;
};

/// Halves from the shaft's readings alone, whatever the machines are.
ShaftHalves make_shaft_halves(const Setup& setup);

/// Adds the shaft to `result.model`, or obstacles to `result.shaft_obstacles`. Does nothing but that.
void build_mounted_shaft(const Setup& setup, MountedModelResult& result);

/// The same in place of the shaft that is in it, which had no obstacles.
void replace_mounted_shaft(const Setup& setup, MountedModelResult& result);

}  // namespace hitchwright
