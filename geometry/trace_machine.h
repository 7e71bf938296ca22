// The machine as it is believed, one input of it changed, and what would then be seen.
//
// What is believed is the set-up with its upper link held at the length the model gives it: on the machine a link stays
// as long as it is when a hole or a reading turns out to be another. Changes beyond single readings:
// - a tyre of another radius than when heights were taped tips the tractor about its other axle; the floor is then a
// sloping
//   line in frame T, and heights and pitch are taken against it (held in place: ground contact in frame T);
// - a lift rod turned, or moved along the link, after heights were taped carries both ends of the travel over by the
// arm
//   angle (tractor_lift.h).
// Extremes over the travel are taken from 33 heights and a parabola through the least: good to 0.01 mm on the built-in
// machines (tested), far inside any reading; what `fit` judges is bounded, this is not.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "geometry/drawn_model.h"
#include "geometry/mounted_model.h"
#include "geometry/trace_seen.h"

namespace hitchwright {

/// A set-up with what no reading of it can say.
struct TraceMachine {
    Setup setup;
    double rear_tyre = 0.0, front_tyre = 0.0;  ///< m, loaded radius more than when heights were taped
    /// Lift rod as it was when heights were taped, where it has been changed since.
    std::optional<LiftRodReadings> taped_rod;
};

/// The set-up as it is believed: the upper link typed at the model's length. `pin_error` is the tolerance of that
/// length.
TraceMachine make_believed_machine(const Setup& setup);

/// The value of each observation on this machine; a complaint: its margin, broken where negative. Nothing where it
/// cannot be reckoned (a reading is missing, the pose does not close).
std::vector<std::optional<double>> predict_seen(const TraceMachine& machine, std::span<const Seen> seen);

/// Why an observation cannot be reckoned even for the believed machine: keys that are missing or a reason in words;
/// empty: it can.
std::string find_seen_obstacle(const TraceMachine& machine, const Seen& seen);

/// Key of the believed upper link's length.
inline constexpr const char* link_length_key = "choices.upper_link_length";

}  // namespace hitchwright
