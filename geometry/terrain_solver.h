// The poses of one rig on one crossing, many places of it: solve_terrain_pose with what stays the same made ready once.
#pragma once

#include "geometry/terrain.h"
#include "geometry/wheel_contact.h"

namespace hitchwright {

class TerrainSolver {
public:
    /// `rig` and `crossing` must outlive it.
    TerrainSolver(const TerrainRig& rig, const Crossing& crossing);

    /// As solve_terrain_pose.
    TerrainPose solve(double place, const TerrainPose* start = nullptr) const;

private:
    const TerrainRig& rig_;
    const Crossing& crossing_;
    WheelGround ground_;
};

}  // namespace hitchwright
