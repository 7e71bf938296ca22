// The envelope of a drawn machine: what is left at every turn and pitch of the implement, without roll.
//
// A table over yaw x pitch for a chart and for spreadsheets. Cells are values at their attitude, exact there; what is
// proven over all attitudes in between stands in drawn_extremes.h. Zero lines are straight between cells. m, rad.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "geometry/drawn_extremes.h"
#include "geometry/turn_limits.h"

namespace hitchwright {

/// One attitude. Margins: what is left beyond the limit, negative: broken.
struct EnvelopeCell {
    double yaw = 0.0, pitch = 0.0;
    double length = 0.0;                 ///< S
    double gap_margin = 0.0;             ///< with the halves known
    double overlap_margin = 0.0;
    double tractor_angle = 0.0, implement_angle = 0.0;
    double joint_margin = 0.0;           ///< the lesser of both joints, to the limits given
};

/// Which margin a zero line is of.
enum class EnvelopeQuantity { gap, overlap, joint };

struct Envelope {
    AngleRange yaw, pitch;           ///< of the table; wider than the box
    std::size_t yaws = 0, pitches = 0;
    bool has_halves = false;
    bool has_joint_limit = false;
    std::vector<EnvelopeCell> cells; ///< pitch rows from low to high, in each yaw from left to right

    const EnvelopeCell& at(std::size_t yaw_index, std::size_t pitch_index) const { return cells[pitch_index * yaws + yaw_index]; }
};

/// A straight piece of a zero line: yaw and pitch of both ends.
struct ZeroSegment {
    double yaw_a = 0.0, pitch_a = 0.0, yaw_b = 0.0, pitch_b = 0.0;
};

/// Margin of a cell.
double find_margin(const EnvelopeCell& cell, EnvelopeQuantity quantity);

/// Turn and pitch the table reaches: the box and somewhat beyond it.
AttitudeBox find_envelope_range(const DrawnModel& model);

/// The table over the box and somewhat beyond it. Needs model.has_shaft; at least 2 values each way.
Envelope study_envelope(const DrawnModel& model, const TurnLimits& limits, std::size_t yaws, std::size_t pitches);

/// Where a margin is zero. None for a quantity that is not known.
std::vector<ZeroSegment> find_zero_line(const Envelope& envelope, EnvelopeQuantity quantity);

}  // namespace hitchwright
