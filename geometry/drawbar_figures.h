// Figures for the drawbar: PTO end to pin, height, and height of the PTO over it. Sources in docs/references.md.
//
// 14 in with the 540 rpm stub (also common practice), 16 and 20 in with the two 1000 rpm stubs; printed values differ by
// up to 10 mm. Never forced on a typed figure; a pin position is compared with them.
#pragma once

#include "geometry/category.h"

namespace hitchwright {

/// Figures for one PTO type, m; value 0: none known.
struct DrawbarFigures {
    Figure length;                ///< PTO end (with an adapter: its end) to pin, level
    double length_tolerance = 0.010;  ///< covers the printed variants
    Figure top_low, top_high;     ///< drawbar top above ground
    Figure drop_low, drop_preferred, drop_high;  ///< PTO axis above the drawbar's top
};

/// Figures of a PTO type; lengths of 0 for unknown or other stubs.
DrawbarFigures find_drawbar_figures(PtoType type);

}  // namespace hitchwright
