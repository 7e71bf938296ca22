// The travel of the lift in the side view: lowest, working and highest ball height, and where the PTO must be off.
#pragma once

#include "geometry/travel_bands.h"
#include "report/drawing.h"
#include "report/format_length.h"

namespace hitchwright {

/// Marks on the path of the ball ends. Lowest and highest are named by the drawing itself (side_view.h); here the working
/// height, and the heights of `bands` at which a joint bends further than the PTO may turn, drawn beside the path with
/// the height where they begin or end.
Drawing draw_travel_marks(const Setup& setup, const MountedModel& model, const TravelBands& bands, UnitSystem units);

}  // namespace hitchwright
