// The linkage and the poses of the comparison, and the answers to hold everybody to.
#pragma once

#include <string>

#include "geometry/mounted_model.h"
#include "tests/bench/peers/pose_problem.h"

namespace bench {

/// Linkage A of the tests (sample_setup.h) with a straight driveline.
hitchwright::MountedModel make_pose_model();

/// `poses` heights from the bottom of the travel to its top; of 81 the 33rd has the lower links level. Those who iterate
/// begin at the first pose as a person would guess it.
PoseProblem make_travel_problem(int poses);

/// The same with the PTO a little to one side of the implement's input, so that the shaft lies in no plane along the tractor.
PoseProblem make_askew_problem(int poses);

/// The same poses, but those who iterate begin at the level pose as the closed form gives it: its pitch is zero but for
/// rounding, some 1e-17.
PoseProblem make_problem_from_level(int poses);

/// The answers in long double: Newton's steps from the closed form until they are below its rounding.
std::vector<PoseNumbers> find_reference(const PoseProblem& problem);

/// The problem with its answers as JSON, for the scripts.
std::string write_problem_json(const PoseProblem& problem);

}  // namespace bench
