// Findings about what the tractor lifts and what its axles carry. Numbers: lift_study.h, axle_study.h.
#pragma once

#include <vector>

#include "geometry/axle_study.h"
#include "geometry/finding.h"
#include "geometry/lift_study.h"

namespace hitchwright {

/// Lift against what the implement weighs; nothing when mass or lift figures are missing (unjudged.h says so).
std::vector<Finding> check_lift(const ErrorModel& errors, const LiftStudy& lift);

/// Front and rear axle, limits of axles and tyres; nothing when readings are missing.
std::vector<Finding> check_axles(const ErrorModel& errors, const AxleStudy& axles);

/// Fixed words of machine-readable output.
std::string_view ball_force_word(BallForceSource source);
std::string_view load_state_word(LoadState state);
std::string_view carrying_part_word(CarryingPart part);
std::string_view load_base_word(LoadBase base);
std::string_view lift_answer_word(LiftAnswer answer);

}  // namespace hitchwright
