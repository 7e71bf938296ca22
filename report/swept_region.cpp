// See swept_region.h.
#include "report/swept_region.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/clearance_view.h"
#include "report/side_view_scene.h"

namespace hitchwright {
namespace {

constexpr double shaft_hatch = 0.020, implement_hatch = 0.050;  // m between lines
constexpr double bare_shaft_width = 0.06;                       // m, where nobody measured the guard
constexpr double most_hatch_lines = 10000.0;
constexpr int wheel_corners = 24;
constexpr double shortest_piece = 1e-9;                         // of an edge

struct Bounds {
    double left = 0.0, right = 0.0, low = 0.0, high = 0.0;
    bool meets(const Bounds& b) const { return left <= b.right && b.left <= right && low <= b.high && b.low <= high; }
};

Bounds find_bounds(const std::vector<DrawingPoint>& points) {
    Bounds b{points.front().x, points.front().x, points.front().z, points.front().z};
    for (const DrawingPoint& p : points)
        b = {std::min(b.left, p.x), std::max(b.right, p.x), std::min(b.low, p.z), std::max(b.high, p.z)};
    return b;
}

/// Where a level line enters and leaves an outline, in rising order.
std::vector<double> cut_level(const std::vector<DrawingPoint>& area, double z) {
    std::vector<double> at;
    for (std::size_t i = 0, j = area.size() - 1; i < area.size(); j = i++) {
        const DrawingPoint &a = area[i], &b = area[j];
        if ((a.z > z) != (b.z > z)) at.push_back(a.x + (b.x - a.x) * (z - a.z) / (b.z - a.z));
    }
    std::sort(at.begin(), at.end());
    return at;
}

bool is_inside(const std::vector<DrawingPoint>& area, DrawingPoint p) {
    const std::vector<double> at = cut_level(area, p.z);
    return std::count_if(at.begin(), at.end(), [&](double x) { return x > p.x; }) % 2 == 1;
}

double cross_of(double ax, double az, double bx, double bz) { return ax * bz - az * bx; }

/// Shares of the way a-b at which the edges of `area` cross it.
void add_crossings(DrawingPoint a, DrawingPoint b, const std::vector<DrawingPoint>& area, std::vector<double>& shares) {
    for (std::size_t i = 0, j = area.size() - 1; i < area.size(); j = i++) {
        const DrawingPoint &c = area[j], &d = area[i];
        const double det = cross_of(b.x - a.x, b.z - a.z, d.x - c.x, d.z - c.z);
        if (det == 0.0) continue;
        const double t = cross_of(c.x - a.x, c.z - a.z, d.x - c.x, d.z - c.z) / det;
        const double u = cross_of(c.x - a.x, c.z - a.z, b.x - a.x, b.z - a.z) / det;
        if (t > 0.0 && t < 1.0 && u >= 0.0 && u <= 1.0) shares.push_back(t);
    }
}

class Uniter {
public:
    explicit Uniter(std::vector<Polygon> outlines) : outlines_(std::move(outlines)) {
        for (const Polygon& p : outlines_) bounds_.push_back(find_bounds(p.points));
    }

    void add_edge(std::size_t own, DrawingPoint a, DrawingPoint b, SweptRegion& region) const {
        const Bounds box = find_bounds({a, b});
        std::vector<std::size_t> near;
        for (std::size_t i = 0; i < outlines_.size(); ++i) {
            if (i != own && bounds_[i].meets(box)) near.push_back(i);
        }
        std::vector<double> shares{0.0, 1.0};
        for (const std::size_t i : near) add_crossings(a, b, outlines_[i].points, shares);
        std::sort(shares.begin(), shares.end());
        for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
            if (shares[i + 1] - shares[i] < shortest_piece) continue;
            const DrawingPoint middle = point_between(a, b, 0.5 * (shares[i] + shares[i + 1]));
            const bool hidden = std::any_of(near.begin(), near.end(), [&](std::size_t k) { return is_inside(outlines_[k].points, middle); });
            if (!hidden) region.edge.push_back({{point_between(a, b, shares[i]), point_between(a, b, shares[i + 1])}});
        }
    }

    void add_hatch(double spacing, SweptRegion& region) const {
        double low = bounds_.front().low, high = bounds_.front().high;
        for (const Bounds& b : bounds_) low = std::min(low, b.low), high = std::max(high, b.high);
        const double lines = std::ceil((high - low) / spacing - 0.5);
        if (!(lines < most_hatch_lines)) return;
        for (int line = 0; line < static_cast<int>(lines); ++line) {
            const double z = low + (line + 0.5) * spacing;
            std::vector<std::pair<double, double>> pieces;
            for (const Polygon& p : outlines_) {
                const std::vector<double> at = cut_level(p.points, z);
                for (std::size_t i = 0; i + 1 < at.size(); i += 2) pieces.emplace_back(at[i], at[i + 1]);
            }
            std::sort(pieces.begin(), pieces.end());
            for (std::size_t i = 0; i < pieces.size();) {
                double right = pieces[i].second;
                std::size_t j = i + 1;
                for (; j < pieces.size() && pieces[j].first <= right; ++j) right = std::max(right, pieces[j].second);
                region.hatch.push_back({{{pieces[i].first, z}, {right, z}}});
                i = j;
            }
        }
    }

    const std::vector<Polygon>& outlines() const { return outlines_; }

private:
    std::vector<Polygon> outlines_;
    std::vector<Bounds> bounds_;
};

Polygon make_wheel(const ContactWheel& w) {
    Polygon p;
    for (int i = 0; i < wheel_corners; ++i) p.points.push_back(point_toward(w.centre, 2.0 * 3.14159265358979323846 * i / wheel_corners, w.radius));
    return p;
}

/// Both parts in one pose.
void add_pose(const PoseView& pose, double half_width, std::vector<Polygon>& shaft, std::vector<Polygon>& implement) {
    if (pose.tractor_joint && pose.implement_joint) {
        const DrawingPoint a = *pose.tractor_joint, b = *pose.implement_joint;
        shaft.push_back(make_strip(a, b, 0.0, std::hypot(b.x - a.x, b.z - a.z), 2.0 * half_width));
    }
    for (const std::vector<DrawingPoint>& outline : pose.outlines) implement.push_back({outline});
    for (const ContactWheel& w : pose.wheels) {
        if (w.radius > 0.0) implement.push_back(make_wheel(w));
    }
}

void add_region(Drawing& d, const std::vector<Polygon>& outlines, double spacing, const std::string& name, const std::string& drawn_through) {
    if (outlines.empty()) return;
    const SweptRegion region = unite_outlines(outlines, spacing);
    for (const Polyline& l : region.hatch) add_shape(d, Role::swept, l);
    for (const Polyline& l : region.edge) add_shape(d, Role::swept, l, name);
    DrawingPoint top = outlines.front().points.front();
    for (const Polygon& p : outlines) {
        for (const DrawingPoint& q : p.points) top = q.z > top.z ? q : top;
    }
    d.labels.push_back({top, name + drawn_through, 5, false});
}

void add_tightest(Drawing& d, const Setup& setup, const Analysis& analysis, const TractorView& tractor, UnitSystem units) {
    const auto least = std::min_element(analysis.clearances.begin(), analysis.clearances.end(),
                                        [](const Clearance& a, const Clearance& b) { return a.least.value < b.least.value; });
    if (least == analysis.clearances.end()) return;
    for (const ClearanceView& c : make_clearance_views(setup, analysis.linkage->model, tractor, {*least}, units)) {
        const Role role = c.clearance < 0.0 ? Role::clash : Role::clearance;
        add_shape(d, role, Polyline{{c.from, c.to}}, c.what);
        add_shape(d, role, Marker{c.to, MarkerForm::target, 3.6}, c.what);
        const std::string room = c.clearance < 0.0 ? "touches by " + format_length(-c.clearance, units, Rounding::up) : format_length(c.clearance, units, Rounding::down) + " clear";
        d.labels.push_back({c.to, "tightest: " + c.what + ", " + room, 1, true});
    }
}

}  // namespace

SweptRegion unite_outlines(const std::vector<Polygon>& outlines, double spacing) {
    std::vector<Polygon> different;
    for (const Polygon& p : outlines) {
        if (p.points.size() > 2 && std::find(different.begin(), different.end(), p) == different.end()) different.push_back(p);
    }
    SweptRegion region;
    if (different.empty()) return region;
    const Uniter uniter(std::move(different));
    for (std::size_t i = 0; i < uniter.outlines().size(); ++i) {
        const std::vector<DrawingPoint>& p = uniter.outlines()[i].points;
        for (std::size_t k = 0; k < p.size(); ++k) uniter.add_edge(i, p[k], p[(k + 1) % p.size()], region);
    }
    uniter.add_hatch(spacing, region);
    return region;
}

Drawing draw_swept(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    Drawing d;
    if (!analysis.linkage) return d;
    const HeightRange& travel = analysis.linkage->model.travel;
    const Reading& guard = setup.driveline.guard_radius;
    std::vector<Polygon> shaft, implement;
    int drawn = 0;
    std::optional<TractorView> tractor;
    for (int i = 0; i < swept_poses; ++i) {
        const double height = travel.low + (travel.high - travel.low) * i / (swept_poses - 1);
        SideViewScene scene = make_bare_scene(setup, analysis, height, units);
        if (!scene.working) continue;
        ++drawn;
        add_pose(*scene.working, guard.known && guard.value > 0.0 ? guard.value : 0.5 * bare_shaft_width, shaft, implement);
        if (!tractor) tractor = scene.tractor;
    }
    if (shaft.empty() && implement.empty()) {
        const char* why = drawn == 0 ? "the linkage closes at none of its heights" : "no outline of the implement and no shaft is known";
        d.labels.push_back({{0.0, 1.0}, std::string("nothing swept to draw: ") + why, 5, false});
        return d;
    }
    // Said once.
    const std::string heights = fmt::format(", drawn through {} heights", drawn);
    add_region(d, implement, implement_hatch, "swept by the implement", heights);
    add_region(d, shaft, shaft_hatch, guard.known ? "swept by the shaft with its guard" : "swept by the shaft (its guard is not measured)", implement.empty() ? heights : std::string());
    if (tractor) add_tightest(d, setup, analysis, *tractor, units);
    return d;
}

}  // namespace hitchwright
