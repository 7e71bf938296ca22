// Findings of a mounted set-up, one builder per part of the question. Verdict and order: finding.h.
#pragma once

#include <vector>

#include "geometry/analysis.h"
#include "geometry/error_band.h"
#include "geometry/finding.h"

namespace hitchwright {

/// What kept the model from being built: missing readings, parts that do not close, contradictions.
std::vector<Finding> report_obstacles(const std::vector<ModelObstacle>& obstacles);

/// Upper-link reach, working pitch, dead centres, pitch over the travel, what binds the travel, floating link.
std::vector<Finding> check_linkage(const Setup& setup, const LinkageAnalysis& linkage);

/// Gap, overlap, cut, joint angles, ripple, guards. `bands` from error_band.h, of the same errors.
std::vector<Finding> check_shaft(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft,
                                 const ErrorModel& errors, const ErrorBands& bands);

/// What ball readings gave: pins found, readings and taped values that do not fit, or what is lacking.
std::vector<Finding> check_hidden_pins(const Setup& setup, const HiddenPins& pins);

/// How the mast sits in a coupler, what an extender of the lower links does.
std::vector<Finding> check_parts(const Setup& setup, const MountedModel& model);

/// Level from side to side, sway, room beside the tyres; only of what the set-up tells.
std::vector<Finding> check_space(const ErrorModel& errors, const MountedModel& model, const SpaceStudy& study);

/// How far a floating link follows humps and hollows.
std::vector<Finding> check_float_study(const ErrorModel& errors, const FloatStudy& study);

/// Clearances through the travel.
std::vector<Finding> check_clearances(const ErrorModel& errors, const MountedModel& model, const std::vector<Clearance>& clearances);

/// Room above the ground.
std::vector<Finding> check_ground(const MountedModel& model, const std::vector<GroundClearance>& ground);

}  // namespace hitchwright
