// See shaft_drawing.h.
#include "report/shaft_drawing.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

constexpr double mark_overhang = 1.5;  // clash and separation stand out by this share of the tube's width
constexpr double equal_gaps = 5e-4;    // m; gaps this close are both marked
constexpr double yoke_width = 1.15;    // share of the outer tube's width at the joint

/// A shaft in the drawing: its axis and the ratio between drawn and true lengths along it.
struct Axis {
    DrawingPoint from, to;
    double ratio = 1.0;

    DrawingPoint at(double along, double across = 0.0) const { return point_along(from, to, along * ratio, across); }
    Polygon strip(double begin, double end, double width) const {
        return make_strip(from, to, begin * ratio, end * ratio, width);
    }
};

Axis axis_of(DrawingPoint from, DrawingPoint to, double length) {
    const double drawn = std::hypot(to.x - from.x, to.z - from.z);
    return {from, to, length > 0.0 ? drawn / length : 1.0};
}

void add_root(Drawing& drawing, Role role, const Axis& axis, double joint, double root, double joint_width,
              double root_width) {
    drawing.shapes.push_back({role,
                              Polygon{{axis.at(joint, joint_width / 2.0), axis.at(root, root_width / 2.0),
                                       axis.at(root, -root_width / 2.0), axis.at(joint, -joint_width / 2.0)}},
                              {}});
}

void add_joint(Drawing& drawing, const Axis& axis, double along, double width) {
    const double r = width / 2.0;
    drawing.shapes.push_back({Role::joint, Circle{axis.at(along), r}, {}});
    drawing.shapes.push_back({Role::joint, Polyline{{axis.at(along, -r), axis.at(along, r)}}, {}});
    const double reach = axis.ratio > 0.0 ? r / axis.ratio : r;
    drawing.shapes.push_back({Role::joint, Polyline{{axis.at(along - reach), axis.at(along + reach)}}, {}});
}

/// Hatched overlap with the inner tube's hidden edges.
void add_overlap(Drawing& drawing, const Axis& axis, const ShaftLayout& s, double inner_width) {
    const double begin = std::max(s.implement_end, s.tractor_root);
    const double end = std::min(s.tractor_end, s.implement_root);
    if (end <= begin) return;
    drawing.shapes.push_back({Role::overlap, axis.strip(begin, end, inner_width), "overlap"});
}

/// Gap, clash or separation between a tube's end and the root it runs toward.
void add_marks(Drawing& drawing, const Axis& axis, const ShaftLayout& s, double width, bool mark_gap) {
    const double least = std::min(s.tractor_gap(), s.implement_gap());
    const auto mark = [&](double gap, double begin, double end) {
        if (gap < 0.0)
            drawing.shapes.push_back({Role::clash, axis.strip(end, begin, mark_overhang * width), "clash"});
        else if (mark_gap && gap <= least + equal_gaps && gap > 0.0)
            drawing.shapes.push_back({Role::gap, axis.strip(begin, end, width), "gap"});
    };
    mark(s.tractor_gap(), s.tractor_end, s.implement_root);
    mark(s.implement_gap(), s.tractor_root, s.implement_end);
    if (s.overlap() < 0.0) {
        drawing.shapes.push_back(
            {Role::separation, axis.strip(s.tractor_end, s.implement_end, mark_overhang * width), "separation"});
    }
}

}  // namespace

ShaftLayout lay_out_shaft(const TelescopingHalves& halves, double length) {
    const double root = find_root_length(halves) / 2.0;
    return {root, root + halves.tube_a, length - root - halves.tube_b, length - root};
}

void draw_shaft(Drawing& drawing, DrawingPoint tractor_joint, DrawingPoint implement_joint, double length,
                const TelescopingHalves& halves, const ShaftLook& look) {
    const Axis axis = axis_of(tractor_joint, implement_joint, length);
    const ShaftLayout s = lay_out_shaft(halves, length);
    const double wide = look.outer_width, slim = look.inner_width;
    // The inner tube first: within one layer shapes are drawn in this order, and the outer tube covers it.
    add_root(drawing, Role::shaft_implement_half, axis, length, s.implement_root, yoke_width * wide, wide);
    drawing.shapes.push_back(
        {Role::shaft_implement_half, axis.strip(s.implement_end, s.implement_root, slim), "implement half"});
    add_root(drawing, Role::shaft_tractor_half, axis, 0.0, s.tractor_root, yoke_width * wide, wide);
    drawing.shapes.push_back(
        {Role::shaft_tractor_half, axis.strip(s.tractor_root, s.tractor_end, wide), "tractor half"});
    add_overlap(drawing, axis, s, slim);
    add_marks(drawing, axis, s, wide, look.mark_gap);
    add_joint(drawing, axis, 0.0, yoke_width * wide);
    add_joint(drawing, axis, length, yoke_width * wide);
}

void draw_cut_marks(Drawing& drawing, DrawingPoint tractor_joint, DrawingPoint implement_joint, double length,
                    const TelescopingHalves& halves, const CutPair& cut, const ShaftLook& look) {
    const Axis axis = axis_of(tractor_joint, implement_joint, length);
    const ShaftLayout s = lay_out_shaft(halves, length);
    const double reach = look.outer_width;
    const auto mark = [&](double along) {
        drawing.shapes.push_back({Role::cut, Polyline{{axis.at(along, -reach), axis.at(along, reach)}}, "saw mark"});
    };
    if (cut.a > 0.0) mark(s.tractor_end - cut.a);
    if (cut.b > 0.0) mark(s.implement_end + cut.b);
}

DrawingPoint find_gap_point(DrawingPoint tractor_joint, DrawingPoint implement_joint, double length,
                            const TelescopingHalves& halves) {
    const Axis axis = axis_of(tractor_joint, implement_joint, length);
    const ShaftLayout s = lay_out_shaft(halves, length);
    if (s.overlap() < 0.0) return axis.at((s.tractor_end + s.implement_end) / 2.0);
    if (s.tractor_gap() <= s.implement_gap()) return axis.at((s.tractor_end + s.implement_root) / 2.0);
    return axis.at((s.tractor_root + s.implement_end) / 2.0);
}

}  // namespace hitchwright
