// Sizes of the side view on demand: dimensions of the machine as it stands, and the distance between two points picked.
//
// The machine's dimensions carry the readings' own words, as taped; a distance between two picked points is that of the
// picture: side view or plan, a sideways (or upright) offset not in it. Metres, frame of the picture (drawing.h).
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/format_length.h"
#include "report/picture_points.h"

namespace hitchwright {

/// Heights, mast height, link lengths and offsets of a mounted set-up with the lift at a ball height; the nearest two parts
/// there with the room between them. Empty without a travel. Ranks behind those of the drawing's own dimensions.
std::vector<DimensionMark> list_size_marks(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units);

/// Distance of two points of a picture and its two parts, m.
struct PictureDistance {
    double straight = 0.0, horizontal = 0.0, vertical = 0.0;  ///< the parts: from the first to the second, with sign
};
PictureDistance find_distance(DrawingPoint from, DrawingPoint to);

/// The same as dimensions: the straight one, and both parts where the two points are not level or plumb.
std::vector<DimensionMark> measure_between(DrawingPoint from, DrawingPoint to, UnitSystem units);

/// "From A to B: 12 1/2 in; 10 in rearward, 7 1/2 in up. In side view: ..."
std::string say_distance(const PicturePoint& from, const PicturePoint& to, PictureFrame frame, UnitSystem units);

}  // namespace hitchwright
