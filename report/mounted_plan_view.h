// A mounted set-up from above: what is known sideways, and in words what is not.
//
// Frame of the picture: x rearward of the rear axle, upwards on the paper is the tractor's right (y). Hitch points, links,
// joint centres and the implement's width are the readings; an outline joins the measured half-widths from front to rear.
// Links hang in the side view, so that they show short here. Where the set-up says how far the hitch sways, both ends of the
// sway at this height are dashed, with the way of the rearmost point; check chains and the room beside the tyres are
// drawn where they were measured. m.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/format_length.h"

namespace hitchwright {

/// The picture, and a sentence for each thing that nobody measured sideways.
struct MountedPlan {
    Drawing drawing;
    std::vector<std::string> not_known;
};

/// With the lift at a ball height (brought inside the travel). Empty without a travel.
MountedPlan draw_mounted_plan(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units);

}  // namespace hitchwright
