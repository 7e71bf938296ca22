// Whether the shaft of a drawn implement stays within a length all over a box of attitudes.
//
// The searches of drawn_extremes.h, ended as soon as the answer is certain: at an attitude beyond the limit, or with a
// bound within it. The answer is that of the whole search; where the limit is far from the extreme it comes with the
// first boxes.
#pragma once

#include <optional>

#include "geometry/drawn_extremes.h"

namespace hitchwright {

/// An attitude that was the worst of an earlier search over the same box, with the driveline a little otherwise: looked
/// at first, it often settles the matter alone. The searches leave the worst they came to.
using WorstAttitude = std::optional<Attitude>;

/// True: no attitude of the box makes the shaft shorter than `least` (m), proven. False: one does, or comes as near to
/// it as the search is fine (`length_closeness`). Adds the evaluations made. Needs model.has_shaft.
bool stays_longer_than(const DrawnModel& model, const AttitudeBox& box, double least, WorstAttitude& worst,
                       int& evaluations);

/// The same for longer than `most`.
bool stays_shorter_than(const DrawnModel& model, const AttitudeBox& box, double most, WorstAttitude& worst,
                        int& evaluations);

/// Upper bound of the length over the box (m), as close as find_longest gives it, when it is at most `most`; nothing
/// when it is not. For who asks about neighbours next: with plain joints the length changes no more than the pin moves.
std::optional<double> find_longest_within(const DrawnModel& model, const AttitudeBox& box, double most,
                                          WorstAttitude& worst, int& evaluations);

/// Fills in what `extremes` does not hold yet (0 evaluations made) of lengths, joint angles and ripple; out_of_plane,
/// which only a study of yokes asks for, stays as it is. Needs model.has_shaft.
void complete_extremes(const DrawnModel& model, const AttitudeBox& box, DrawnExtremes& extremes);

/// Length and joint angles of find_driveline_state alone, all else as it is in a new DrivelineState. Needs
/// model.has_shaft.
DrivelineState find_limited_state(const DrawnModel& model, const Attitude& attitude);

}  // namespace hitchwright
