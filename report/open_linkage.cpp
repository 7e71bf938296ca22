// See open_linkage.h.
#include "report/open_linkage.h"

#include <cmath>
#include <limits>

namespace hitchwright {
namespace {

constexpr double link_width = 0.042, mast_width_shown = 0.05, lower_link_width_shown = 0.060;  // for the eye, m
constexpr double arc_half_turn = 0.7;  // rad, shown to both sides of the end
constexpr double pin_mm = 2.5;

/// The ends nearest to each other of a bar of length `a` on `from` and one of length `b` on `to`, both along the line
/// through the two.
struct NearestEnds {
    DrawingPoint a, b;
};

NearestEnds find_nearest_ends(DrawingPoint from, DrawingPoint to, double a, double b) {
    const double angle = std::atan2(to.z - from.z, to.x - from.x);
    NearestEnds best{from, to};
    double least = std::numeric_limits<double>::infinity();
    for (const double along : {a, -a}) {
        for (const double back : {-b, b}) {
            const DrawingPoint p = point_toward(from, angle, along), q = point_toward(to, angle, back);
            const double distance = std::hypot(q.x - p.x, q.z - p.z);
            if (distance >= least) continue;
            least = distance;
            best = {p, q};
        }
    }
    return best;
}

void add_arc(Drawing& d, DrawingPoint centre, DrawingPoint end, double radius) {
    const double angle = std::atan2(end.z - centre.z, end.x - centre.x);
    add_shape(d, Role::travel_arc, Arc{centre, radius, angle - arc_half_turn, angle + arc_half_turn});
}

}  // namespace

std::optional<OpenLinkage> find_open_linkage(const Setup& setup) {
    if (setup.implement.attachment == Attachment::drawn) return std::nullopt;
    const MountedModelResult result = make_mounted_model(setup);
    for (const ModelObstacle& o : result.linkage_obstacles) {
        if (o.kind != ModelObstacle::Kind::cannot_close) return std::nullopt;
        const bool upper = o.closure.part == LinkagePart::upper_link || o.closure.part == LinkagePart::mast;
        const PlanarLinkage& k = result.model.linkage;
        const double sine = (o.height - k.lower_pivot.y()) / k.lower_length;
        if (!upper || !(std::fabs(sine) <= 1.0)) continue;
        OpenLinkage open;
        open.lower_pivot = {k.lower_pivot.x(), k.lower_pivot.y()};
        open.ball = {k.lower_pivot.x() + k.lower_length * std::sqrt(1.0 - sine * sine), o.height};
        open.upper_pin = {k.upper_pin.x(), k.upper_pin.y()};
        open.link = k.upper_length;
        open.mast = k.mast_pin.norm();
        open.height = o.height;
        const NearestEnds ends = find_nearest_ends(open.upper_pin, open.ball, open.link, open.mast);
        open.link_end = ends.a;
        open.mast_end = ends.b;
        return open;
    }
    return std::nullopt;
}

void draw_open_linkage(Drawing& d, const OpenLinkage& open) {
    add_shape(d, Role::lower_link, make_bar(open.lower_pivot, open.ball, lower_link_width_shown), "lower link");
    add_shape(d, Role::upper_link, make_bar(open.upper_pin, open.link_end, link_width), "upper link");
    add_shape(d, Role::mast, make_bar(open.ball, open.mast_end, mast_width_shown), "mast");
    add_arc(d, open.upper_pin, open.link_end, open.link);
    add_arc(d, open.ball, open.mast_end, open.mast);
    add_shape(d, Role::clash, Polyline{{open.link_end, open.mast_end}}, "does not meet");
    for (const DrawingPoint& end : {open.link_end, open.mast_end})
        add_shape(d, Role::clash, Marker{end, MarkerForm::cross, pin_mm});
    for (const DrawingPoint& pin : {open.lower_pivot, open.ball, open.upper_pin})
        add_shape(d, Role::pin, Marker{pin, MarkerForm::circle, pin_mm});
    d.labels.push_back({point_between(open.link_end, open.mast_end, 0.5), open.words, 1, true});
    d.labels.push_back({point_between(open.upper_pin, open.link_end, 0.5), "upper link", 3, false});
    d.labels.push_back({point_between(open.ball, open.mast_end, 0.5), "mast", 3, false});
    d.labels.push_back({point_between(open.lower_pivot, open.ball, 0.5), "lower link", 4, false});
}

}  // namespace hitchwright
