// Bands of the numbers that are drawn over the travel of the lift, or read at stated heights: 95 %, each at its own ball
// height, which is held.
//
// With readings moved the model is built anew and the pose at that height taken (pose_report.h); slopes, and the second
// order where they are not enough (error_model.h). What direct readings have narrowed is taken off.
#pragma once

#include <array>
#include <vector>

#include "geometry/analysis.h"

namespace hitchwright {

/// The numbers; those of a shaft need one, gap and overlap its halves.
enum class CurveNumber { pitch, shaft_length, tractor_joint, implement_joint, gap, overlap };
inline constexpr std::size_t curve_numbers = 6;

/// Bands at rising ball heights.
struct CurveBands {
    std::vector<double> heights;  ///< m
    std::vector<std::array<ErrorBand, curve_numbers>> at;  ///< of each height; width 0: not known, or no reading can be off

    const ErrorBand& of(std::size_t height, CurveNumber number) const { return at[height][static_cast<std::size_t>(number)]; }
    /// Between two heights in a straight line; nothing outside of them, or where either is not known.
    std::optional<ErrorBand> find(double height, CurveNumber number) const;
};

/// At `heights`, rising. Empty without a linkage. `setup`: with the readings of the files.
CurveBands find_curve_bands(const Setup& setup, const Analysis& analysis, std::vector<double> heights);

/// At 17 even steps over the travel.
CurveBands find_curve_bands(const Setup& setup, const Analysis& analysis);

}  // namespace hitchwright
