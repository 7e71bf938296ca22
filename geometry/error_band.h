// How far the readings' errors can move what a mounted shaft and the room around it are judged by: 95 % bands (error_model.h).
//
// With readings moved the model is built anew and each number taken at its place: an end of the travel stays one, an extreme
// inside is looked for anew beside its height (a parabola through three heights), and both ends of the travel and of the
// slack, and extremes inside that are nearly as far out, compete with it. So a number that changes its place within the errors shows, and is then found by random draws.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/error_model.h"

namespace hitchwright {

/// Bands of what a shaft is judged by.
struct ErrorBands {
    /// False: with `broken_by` moved by its tolerance the linkage or the shaft is impossible. Numbers that this takes away have no band then.
    bool known = false;
    ReadingShare broken_by;  ///< share: the tolerance; nameless: gap or overlap is not there at its place as read, so it has no band
    Dimension broken_by_dimension = Dimension::length;
    ErrorBand gap;                       ///< m
    ErrorBand overlap, overlap_in_work;  ///< m, beyond what is needed with the tubes as they are
    ErrorBand tractor_angle_in_work, implement_angle_in_work;  ///< less the free limit, rad
    ErrorBand tractor_angle, implement_angle;  ///< greatest over the travel, less the joint's stop
    ErrorBand non_uniformity;                  ///< in work
    ErrorBand guard_gap, guard_overlap;        ///< with a guard, m
    ErrorBand shortest, longest;               ///< distance of the joint centres over the travel, m
};

/// Bands at the extremes found. Needs a shaft with halves.
ErrorBands find_error_bands(const ErrorModel& errors, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft);

/// Bands of least clearances. Readings whose tolerance makes the linkage impossible are left out.
std::vector<ErrorBand> find_clearance_bands(const ErrorModel& errors, const MountedModel& model,
                                            const std::vector<Clearance>& clearances);

}  // namespace hitchwright
