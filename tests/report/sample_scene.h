// Invented set-ups for the drawing tests, posed by a few lines of their own so that no solver of ours is needed.
#pragma once

#include "report/side_view.h"

namespace hitchwright::sample {

/// Compact tractor and 5 ft tiller with a 31 in shaft that bottoms out; saw marks and the state after the cut.
SideViewScene compact_tiller();
/// Utility tractor and 7 ft rotary cutter with a 43 in shaft; cab line, drawbar, guard against deck lip.
SideViewScene utility_cutter();
/// Compact tractor and box blade: no PTO input, no shaft.
SideViewScene compact_blade();
/// Compact tractor and flail mower with a 24 in shaft that comes apart at the top.
SideViewScene compact_flail();

}  // namespace hitchwright::sample
