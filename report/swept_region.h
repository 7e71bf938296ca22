// What a part sweeps through the whole travel of the lift: the union of its outlines in many poses, as shapes of a drawing.
//
// The boundary of the union is found exactly for the poses taken: of every edge those pieces that lie in none of the other
// outlines (edges are split where they cross, pieces are judged by their middle). Between two poses the true boundary stands
// out by less than a pose's step squared over its distance, which at the steps used is below a line's width. Hatch lines:
// level lines cut with every outline, the pieces joined. Metres, frame of the picture (drawing.h).
#pragma once

#include <vector>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/format_length.h"

namespace hitchwright {

/// A union of closed outlines.
struct SweptRegion {
    std::vector<Polyline> edge;   ///< pieces of its boundary, in no order
    std::vector<Polyline> hatch;  ///< level lines through it
};

/// Unites outlines; equal ones count once. `spacing`: between hatch lines, m, above 0.
SweptRegion unite_outlines(const std::vector<Polygon>& outlines, double spacing);

/// The sweeps of a set-up's travel, with the tightest spot of it: shaft with its guard, and the implement with its wheels.
/// As shapes of Role::swept with the name of the part, and a label for each; the first says
/// through how many heights. Heights at which the linkage does not close are left out. Where nothing is left, one label
/// says why. Empty without a travel.
Drawing draw_swept(const Setup& setup, const Analysis& analysis, UnitSystem units);

/// Poses that draw_swept takes.
inline constexpr int swept_poses = 72;

}  // namespace hitchwright
