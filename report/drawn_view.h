// A drawn set-up from above and from the side, as Drawings in the size of the machine.
//
// From above: x rearward, upwards on the paper is the tractor's right (y). From the side: the left side, as for mounted
// implements. Tyres, bars, pin, joint centres and shaft are the readings; other lines are sketched. Frame T, m.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/side_view.h"

namespace hitchwright {

/// Another drawn set-up at an attitude of its own: its implement, wheels, drawbar, pin and shaft are ghosted in place of what
/// is ghosted else, with words for it.
struct DrawnGhost {
    const Setup& setup;
    const DrawnAnalysis& drawn;
    Attitude attitude;
    std::string words;
};

/// From above at an attitude; the turns at which something stops it first are ghosted, or `other`. Needs analysis.drawn.
Drawing draw_plan_view(const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude, UnitSystem units, const DrawnGhost* other = nullptr);

/// From the left at an attitude, level ground; the box's pitches are ghosted, or `other`. Needs analysis.drawn.
Drawing draw_drawn_side_view(const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude, UnitSystem units,
                             const DrawnGhost* other = nullptr);

/// The whole page with one of the two.
enum class DrawnView { plan, side };
PagePicture compose_drawn_view(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, DrawnView view, const PageSetup& page,
                               const TextMeasure& measure);

}  // namespace hitchwright
