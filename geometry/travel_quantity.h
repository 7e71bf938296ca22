// The quantities that are drawn as lines over the travel of the lift, one value for one pose; the same over the turn of
// a drawn implement.
//
// Poses are pose_report.h's and drawn_extremes.h's; nothing is interpolated. SI.
#pragma once

#include <optional>

#include "geometry/analysis.h"

namespace hitchwright {

/// What a line shows.
enum class TravelQuantity {
    pitch,            ///< rad, rear up positive
    tail_height,      ///< m, rearmost point of the implement over level ground
    lowest_height,    ///< m, lowest point of the implement over level ground
    shaft_length,     ///< m between joint centres
    tractor_joint,    ///< rad
    implement_joint,  ///< rad
    overlap,          ///< m of tube overlap, the halves as the set-up has them
    capacity          ///< kg the lift carries at the load's centre of gravity
};

/// The quantity in a pose of the set-up's linkage. Nothing: the pose does not close, or what it needs is not known. The
/// capacity is known only for the heights that `load` judges: from the working height up.
std::optional<double> find_travel_quantity(const Setup& setup, const Analysis& analysis, const PoseReport& pose,
                                           TravelQuantity quantity);

/// The quantity of a drawn set-up at an attitude; nothing for what a drawn one has not, or without its shaft.
std::optional<double> find_turn_quantity(const DrawnAnalysis& drawn, const Attitude& attitude, TravelQuantity quantity);

/// True when a ball height is among those at which the lift is judged.
bool judges_lift_at(const LiftStudy& lift, double ball_height);

}  // namespace hitchwright
