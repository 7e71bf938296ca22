// Pitch of the implement over the travel as a short list of points: the small curve that stands beside a pair of holes.
//
// Poses are those of pose_report.h at even steps of ball height; heights at which the linkage does not close are left
// out. m, rad.
#pragma once

#include <vector>

#include "geometry/pose_report.h"

namespace hitchwright {

struct PitchPoint {
    double ball_height = 0.0, pitch = 0.0;
    bool operator==(const PitchPoint&) const = default;
};

/// `count` >= 2 steps over the model's travel.
std::vector<PitchPoint> sweep_pitch(const Setup& setup, const MountedModel& model, int count);

}  // namespace hitchwright
