// See drawing.h.
#include "report/drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hitchwright {
namespace {

constexpr int most_arc_points = 721;

/// Grows a box and remembers whether every coordinate was one that can be drawn.
class BoxBuilder {
public:
    void add(DrawingPoint p) { add(p, 0.0); }
    void add(DrawingPoint p, double radius) {
        // Written so that what is not a number fails; std::max would let it slip through.
        const auto near = [](double value) { return std::fabs(value) <= farthest_drawn; };
        if (!near(p.x) || !near(p.z) || !near(radius) || radius < 0.0) {
            drawable_ = false;
            return;
        }
        const DrawingBox around{{p.x - radius, p.z - radius}, {p.x + radius, p.z + radius}};
        if (!any_) box_ = around;
        box_.least = {std::min(box_.least.x, around.least.x), std::min(box_.least.z, around.least.z)};
        box_.most = {std::max(box_.most.x, around.most.x), std::max(box_.most.z, around.most.z)};
        any_ = true;
    }
    void add(const std::vector<DrawingPoint>& points) {
        for (const DrawingPoint& p : points) add(p);
    }
    std::optional<DrawingBox> result() const { return any_ && drawable_ ? std::optional(box_) : std::nullopt; }

private:
    DrawingBox box_;
    bool any_ = false;
    bool drawable_ = true;
};

struct AddForm {
    BoxBuilder& box;
    void operator()(const Polyline& f) const { box.add(f.points); }
    void operator()(const Polygon& f) const { box.add(f.points); }
    void operator()(const Circle& f) const { box.add(f.centre, f.radius); }
    void operator()(const Marker& f) const { box.add(f.at); }
    void operator()(const Arc& f) const {
        if (!std::isfinite(f.start) || !std::isfinite(f.end))
            box.add({f.start, f.end});
        else
            box.add(flatten_arc(f, 1e-4));
    }
};

}  // namespace

std::optional<DrawingBox> find_bounding_box(const Drawing& drawing) {
    BoxBuilder box;
    for (const Shape& shape : drawing.shapes) std::visit(AddForm{box}, shape.form);
    for (const Label& label : drawing.labels) box.add(label.at);
    for (const DimensionMark& mark : drawing.dimensions) {
        box.add(mark.from);
        box.add(mark.to);
    }
    return box.result();
}

std::vector<DrawingPoint> flatten_arc(const Arc& arc, double tolerance) {
    const double sweep = arc.end - arc.start;
    const double ratio = arc.radius > 0.0 ? std::clamp(1.0 - tolerance / arc.radius, 0.0, 1.0) : 0.0;
    const double step = std::max(2.0 * std::acos(ratio), 2.0 * std::numbers::pi / (most_arc_points - 1));
    const int pieces =
        std::clamp(static_cast<int>(std::ceil(std::min(std::fabs(sweep) / step, 1e4))), 1, most_arc_points - 1);
    std::vector<DrawingPoint> points;
    points.reserve(static_cast<std::size_t>(pieces) + 1);
    for (int i = 0; i <= pieces; ++i) {
        const double angle = arc.start + sweep * i / pieces;
        points.push_back({arc.centre.x + arc.radius * std::cos(angle), arc.centre.z + arc.radius * std::sin(angle)});
    }
    return points;
}

DrawingPoint point_along(DrawingPoint from, DrawingPoint to, double along, double across) {
    const double length = std::hypot(to.x - from.x, to.z - from.z);
    // Two equal points have no direction; rearward is as good as any and keeps the picture finite.
    const double ux = length > 0.0 ? (to.x - from.x) / length : 1.0;
    const double uz = length > 0.0 ? (to.z - from.z) / length : 0.0;
    return {from.x + along * ux - across * uz, from.z + along * uz + across * ux};
}

DrawingPoint point_between(DrawingPoint a, DrawingPoint b, double t) {
    return {a.x + t * (b.x - a.x), a.z + t * (b.z - a.z)};
}

DrawingPoint point_toward(DrawingPoint p, double angle, double by) {
    return {p.x + by * std::cos(angle), p.z + by * std::sin(angle)};
}

Polygon make_bar(DrawingPoint from, DrawingPoint to, double width) {
    constexpr int pieces = 12;
    const double length = std::hypot(to.x - from.x, to.z - from.z);
    Polygon bar;
    for (int end = 0; end < 2; ++end) {
        for (int i = 0; i <= pieces; ++i) {
            const double angle = std::numbers::pi * (i / static_cast<double>(pieces) - 0.5 + end);
            const double along = (end == 0 ? length : 0.0) + width / 2.0 * std::cos(angle);
            bar.points.push_back(point_along(from, to, along, width / 2.0 * std::sin(angle)));
        }
    }
    return bar;
}

Polygon make_strip(DrawingPoint from, DrawingPoint to, double begin, double end, double width) {
    return Polygon{{point_along(from, to, begin, width / 2.0), point_along(from, to, end, width / 2.0),
                    point_along(from, to, end, -width / 2.0), point_along(from, to, begin, -width / 2.0)}};
}

}  // namespace hitchwright
