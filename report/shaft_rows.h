// The shaft drawn straight, one row per state: what it is on the left, the two halves to scale, the numbers on the
// right.
//
// All rows share one scale and begin at the same joint, so that lengths can be compared down the page. What is left
// over rounds down, what is needed or lacking rounds up. Frame of the page: mm, y down.
#pragma once

#include "report/side_view.h"

namespace hitchwright {

/// Adds the rows of the scene's shaft with their caption, standing on the bottom of `area`; returns the y above them,
/// the bottom of `area` when there are none.
double add_shaft_rows(PagePicture& page, const SideViewScene& scene, const PageRect& area, const TextMeasure& measure);

}  // namespace hitchwright
