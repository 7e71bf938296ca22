// The positions of a sweep as a table to read and as CSV to compute with.
//
// Text: lengths in fractions or whole millimetres, gap and overlap rounded down, angles up. CSV: full precision (the
// shortest decimals that give the same number back), a point as decimal sign whatever the locale, units in the header.
#pragma once

#include <string>
#include <vector>

#include "geometry/pose_report.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Which columns a sweep has.
struct SweepContents {
    bool shaft = false;     ///< length and joint angles
    bool halves = false;    ///< gap and overlap
    bool floating = false;  ///< the upper link floats, so who decides the pitch is named
};

/// Columns that a set-up's readings allow.
SweepContents find_sweep_contents(const Setup& setup);

/// Table of at most 80 columns with a line on its signs. Empty rows give a sentence.
std::string format_sweep_table(const std::vector<PoseReport>& rows, const SweepContents& contents,
                               const TextStyle& style);

/// CSV with a header. All columns are always there; what does not apply is empty.
std::string format_sweep_csv(const std::vector<PoseReport>& rows, const SweepContents& contents, UnitSystem units);

/// Fixed word of who decides the pitch: ground_borne, carried, against_stop, no_pitch.
std::string_view float_state_word(FloatState state);

}  // namespace hitchwright
