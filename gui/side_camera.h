// From the side view (m) to the panel (mm of a page) and back: fit, zoom about a point, pan.
#pragma once

#include "gui/view_state.h"

namespace hitchwright {

/// Scales the wheel can reach: from a fifth of true size to a tractor the size of a thumbnail.
inline constexpr double least_scale = 0.2, most_scale = 200.0;

/// Placement of the drawing in `area`: the camera's, or the one that shows the whole of `box` when it is fitted.
Placement find_placement(const SideCamera& camera, const DrawingBox& box, const PageRect& area);

/// The point of the drawing at a point of the page.
DrawingPoint find_drawing_point(const Placement& placement, PagePoint at);

/// The camera after zooming by `factor` (above 1: nearer) about a point of the page, which stays where it is.
SideCamera zoom_about(const Placement& placement, const PageRect& area, PagePoint at, double factor);

/// The camera after the picture was dragged by so much on the page, mm.
SideCamera pan_by(const Placement& placement, const PageRect& area, PagePoint by);

}  // namespace hitchwright
