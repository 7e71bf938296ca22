// The travel in numbers: lowest, working and highest pose side by side, what binds the travel, how far it is bounded,
// and where the readings come from.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "geometry/setup.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Table of the three poses with the extremes of the shaft between them. Empty without a linkage.
std::string format_pose_table(const Analysis& analysis, const TextStyle& style);

/// What ends the travel at the bottom and at the top. Empty without a linkage.
std::string format_travel_bounds(const Analysis& analysis, const TextStyle& style);

/// How far the extremes are proven, and at what effort. Empty without a linkage.
std::string format_bound_statement(const Analysis& analysis, const TextStyle& style);

/// How many readings are measured, from a manual, from a preset, assumed; the assumed ones by key.
std::string format_origins(const Setup& setup, const TextStyle& style);

}  // namespace hitchwright
