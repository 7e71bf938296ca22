// A drawn set-up from above and from the side, as Drawings in the size of the machine.
//
// From above: x rearward, upwards on the paper is the tractor's right (y). From the side: the left side, as for mounted
// implements. Tyres, bars, pin, joint centres and shaft are the readings; other lines are sketched. Frame T, m.
#pragma once

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/side_view.h"

namespace hitchwright {

/// From above at an attitude; the turns at which something stops it first are ghosted. Needs analysis.drawn.
Drawing draw_plan_view(const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude, UnitSystem units);

/// From the left at an attitude, level ground; the box's pitches are ghosted. Needs analysis.drawn.
Drawing draw_drawn_side_view(const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude, UnitSystem units);

/// The whole page with one of the two.
enum class DrawnView { plan, side };
PagePicture compose_drawn_view(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, DrawnView view, const PageSetup& page,
                               const TextMeasure& measure);

}  // namespace hitchwright
