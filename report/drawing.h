// A drawing as data: shapes with roles, labels and dimensions, in the real size of the machine.
//
// Frame: side view of the tractor frame, metres; x rearward (to the right), z up; angles from +x to +z in rad.
// A drawing knows nothing of paper, scale or fonts. page.h places it on a page; the screen and the writers of SVG, PDF
// and PNG all draw the placed result. Only marker sizes are paper sizes, because a pin hole of true size vanishes.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "report/role_style.h"

namespace hitchwright {

/// Point of the side view, m: x rearward of the rear axle, z above the ground.
struct DrawingPoint {
    double x = 0.0, z = 0.0;
    bool operator==(const DrawingPoint&) const = default;
};

/// Open line through the points.
struct Polyline {
    std::vector<DrawingPoint> points;
    bool operator==(const Polyline&) const = default;
};
/// Closed area; filled and hatched as its role says.
struct Polygon {
    std::vector<DrawingPoint> points;
    bool operator==(const Polygon&) const = default;
};
struct Circle {
    DrawingPoint centre;
    double radius = 0.0;  ///< m
    bool operator==(const Circle&) const = default;
};
/// Arc from `start` to `end`, counterclockwise when end > start, rad.
struct Arc {
    DrawingPoint centre;
    double radius = 0.0;  ///< m
    double start = 0.0, end = 0.0;
    bool operator==(const Arc&) const = default;
};
/// Form of a marker of fixed size on paper.
enum class MarkerForm { circle, target, cross };
struct Marker {
    DrawingPoint at;
    MarkerForm form = MarkerForm::circle;
    double size_mm = 2.0;  ///< diameter on paper
    bool operator==(const Marker&) const = default;
};

/// One shape with what it shows.
struct Shape {
    Role role = Role::label;
    std::variant<Polyline, Polygon, Circle, Arc, Marker> form;
    std::string name;  ///< the named part, when it has a name of its own
    bool operator==(const Shape&) const = default;
};

/// Words belonging to a point. The layout finds the place and draws a leader when the words stand off.
struct Label {
    DrawingPoint at;
    std::string text;
    int rank = 5;  ///< smaller ranks choose their place first
    bool bold = false;
    bool operator==(const Label&) const = default;
};

/// Which distance of its two points a dimension shows.
enum class DimensionDirection { aligned, horizontal, vertical };

/// A dimension line. The text is given, not measured from the picture: a length in space can differ from its side view.
struct DimensionMark {
    DrawingPoint from, to;
    DimensionDirection direction = DimensionDirection::aligned;
    std::string text;
    int rank = 5;
    bool operator==(const DimensionMark&) const = default;
};

/// A whole drawing.
struct Drawing {
    std::vector<Shape> shapes;
    std::vector<Label> labels;
    std::vector<DimensionMark> dimensions;
    bool operator==(const Drawing&) const = default;
};

/// Adds one shape.
template <class Form>
void add_shape(Drawing& drawing, Role role, Form form, std::string name = {}) {
    drawing.shapes.push_back({role, std::move(form), std::move(name)});
}

/// Smallest upright rectangle around something, m.
struct DrawingBox {
    DrawingPoint least, most;
    double width() const { return most.x - least.x; }
    double height() const { return most.z - least.z; }
    bool operator==(const DrawingBox&) const = default;
};

/// Box around all shapes, label and dimension points. No value: the drawing is empty, or holds a coordinate or radius
/// that is not finite or lies further than `farthest_drawn` from the origin.
std::optional<DrawingBox> find_bounding_box(const Drawing& drawing);

/// Points further away than this (m) are not drawn: no set-up is that large, so the number must be wrong.
inline constexpr double farthest_drawn = 1000.0;

/// Points along an arc whose chords stay within `tolerance` (same unit as the radius) of it; at least two.
std::vector<DrawingPoint> flatten_arc(const Arc& arc, double tolerance);

/// Bar with round ends between two points, `width` across, as a polygon.
Polygon make_bar(DrawingPoint from, DrawingPoint to, double width);

/// Rectangle along the line from-to between the distances `begin` and `end` from `from`, `width` across.
Polygon make_strip(DrawingPoint from, DrawingPoint to, double begin, double end, double width);

/// Point at `along` metres on the line from-to and `across` metres to its left.
DrawingPoint point_along(DrawingPoint from, DrawingPoint to, double along, double across = 0.0);

/// Point at the share `t` of the way from `a` to `b`.
DrawingPoint point_between(DrawingPoint a, DrawingPoint b, double t);

/// Point `by` metres from `p` in the direction `angle`, rad.
DrawingPoint point_toward(DrawingPoint p, double angle, double by);

}  // namespace hitchwright
