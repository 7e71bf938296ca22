// Level from side to side, sway and tyre room, as a short block of a fit.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Roll, balls and edges through the travel, per turn of the levelling screw, rod lengths for a wanted roll, sway, tail,
/// tyre. Empty for a set-up that says nothing of them.
std::string format_space_study(const Analysis& analysis, const TextStyle& style);

/// "4 1/2 turns longer", "2 turns shorter", "as it is".
std::string format_rod_turns(double turns);

}  // namespace hitchwright
