// Tractor, implement and ground of the side view as shapes.
//
// The tractor is a hint of our own, drawn around its measured points; the implement's body is the outline of the scene,
// with a gearbox at the input shaft and bars to what would otherwise float. Widths are drawn for the eye. Frame:
// drawing.h.
#pragma once

#include "report/side_view.h"

namespace hitchwright {

/// Widths of shaft stub and mast as drawn, m.
inline constexpr double stub_width = 0.045;
inline constexpr double mast_width = 0.050;

/// Tyre, body, drawbar and PTO stub of the tractor, without its linkage and cab.
void draw_tractor(Drawing& drawing, const TractorView& tractor);

/// Body, wheels, measured points and mast of the implement.
void draw_implement(Drawing& drawing, const PoseView& pose);

/// Gearbox and input shaft, when the pose has one.
void draw_input_shaft(Drawing& drawing, const PoseView& pose);

/// Holes with the one in use filled; it is labelled "`what` NAME" when there are several.
void draw_pins(Drawing& drawing, const std::vector<PinHole>& pins, const char* what);

/// Cab or ROPS as far up as something drawn before comes; a whole cab would shrink what matters.
void draw_cab(Drawing& drawing, const TractorView& tractor);

/// Ground line under everything drawn before.
void draw_ground(Drawing& drawing);

/// Corner of the outlines nearest to `p`; none without an outline.
std::optional<DrawingPoint> nearest_outline_point(const PoseView& pose, DrawingPoint p);

}  // namespace hitchwright
