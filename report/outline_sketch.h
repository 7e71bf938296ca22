// The outline of an implement sketched through the few points that anyone measures on it.
//
// Convex hull by Andrew's monotone chain; what is nearly flat gets a skirt part of the way down to the ground. A sketch
// for the eye: clearances are judged by the points, never by this outline. Frame I: x behind, z above the lower pins,
// m.
#pragma once

#include <vector>

#include "report/drawing.h"

namespace hitchwright {

/// Convex hull of the points, counterclockwise from the leftmost, without points on its sides.
std::vector<DrawingPoint> find_convex_hull(std::vector<DrawingPoint> points);

/// Hull of the points, given a skirt when they lie nearly on one line or are no more than three. `ground` is the
/// ground's height in frame I at work. Fewer than two points give no outline.
std::vector<DrawingPoint> sketch_outline(std::vector<DrawingPoint> points, double ground);

}  // namespace hitchwright
