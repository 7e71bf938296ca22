// Pitch, shaft length and joint angles of a mounted set-up at many heights, where nothing else of a pose is wanted.
//
// With a rigid link all heights go through pose_batch.h at once. A floating link is asked at each of them (pose_report.h): stops
// and ground decide how long it is there.
#pragma once

#include <span>
#include <vector>

#include "geometry/pose_numbers.h"
#include "geometry/pose_report.h"

namespace hitchwright {

/// The numbers of make_pose_report at every height, to 1e-12 m and rad as pose_numbers.h says; those of the shaft are 0 without one.
/// What closes is what closes for the report, to the last digit.
std::vector<PoseNumbers> sweep_pose_numbers(const Setup& setup, const MountedModel& model, std::span<const double> heights);

}  // namespace hitchwright
