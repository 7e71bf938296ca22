// How far the readings' tolerances can move the judged quantities: 95 % bands by first-order propagation.
//
// Each reading is moved by its tolerance (two sigma) up and down, the model is built anew and the quantity taken at the
// same place (a travel end stays a travel end, an interior extreme stays at its height: by the envelope theorem that
// is the extreme's derivative). Half the difference is that reading's share; the shares are independent and add as
// squares. First order only: near a dead centre or where two extremes compete the true band is wider.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/reading_band.h"

namespace hitchwright {

/// Bands of the quantities a shaft is judged by.
struct ErrorBands {
    bool known = false;  ///< false: with `broken_by` moved by its tolerance the linkage or the shaft is impossible
    ReadingShare broken_by;  ///< share: the tolerance
    Dimension broken_by_dimension = Dimension::length;
    ErrorBand gap, overlap, tractor_angle_in_work, implement_angle_in_work, overlap_in_work;
    ErrorBand tractor_angle, implement_angle;  ///< greatest over the travel
};

/// Bands at the extremes found. Needs a shaft with halves.
ErrorBands find_error_bands(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft);

/// Bands of least clearances, each at its place. Readings whose tolerance makes the linkage impossible are left out.
std::vector<ErrorBand> find_clearance_bands(const Setup& setup, const MountedModel& model,
                                            const std::vector<Clearance>& clearances);

}  // namespace hitchwright
