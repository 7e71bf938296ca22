// See clearance_view.h.
#include "report/clearance_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

DrawingPoint side_view_of(const Vec3<double>& p) { return {p.x, p.z}; }

DrawingPoint nearest_on(DrawingPoint a, DrawingPoint b, DrawingPoint p) {
    const double dx = b.x - a.x, dz = b.z - a.z, d2 = dx * dx + dz * dz;
    const double t = d2 > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.z - a.z) * dz) / d2, 0.0, 1.0) : 0.0;
    return {a.x + t * dx, a.z + t * dz};
}

DrawingPoint nearest_on_cab(const TractorView& tractor, DrawingPoint p) {
    DrawingPoint best = tractor.cab_line.empty() ? p : tractor.cab_line.front();
    const auto off = [&](DrawingPoint q) { return std::hypot(q.x - p.x, q.z - p.z); };
    for (std::size_t i = 0; i + 1 < tractor.cab_line.size(); ++i) {
        const DrawingPoint q = nearest_on(tractor.cab_line[i], tractor.cab_line[i + 1], p);
        if (off(q) < off(best)) best = q;
    }
    return best;
}

const char* other_part(ClearanceKind kind) {
    switch (kind) {
        case ClearanceKind::guard_to_deck_edge:
        case ClearanceKind::guard_to_drawbar:
            return "guard";
        case ClearanceKind::point_to_tyre:
            return "rear tyre";
        case ClearanceKind::point_to_cab:
            return "cab or ROPS";
        case ClearanceKind::point_to_upper_link:
            return "upper link";
    }
    return "";
}

/// The implement's point (or the drawbar's end) of a clearance, in the pose where it is least.
std::optional<DrawingPoint> find_clearance_point(const Setup& setup, const MountedModel& model,
                                                 const TractorView& tractor, const Clearance& c,
                                                 const KernelPose<double>& k) {
    if (c.kind == ClearanceKind::guard_to_drawbar) return tractor.drawbar_end;
    for (const ImplementPoint& p : setup.implement.points) {
        if (p.name != c.part) continue;
        const Point point = find_body_point(model, p.x, p.z);
        const Vec2<double> at = k.place(point.x(), point.y());
        return DrawingPoint{at.x, at.z};
    }
    return std::nullopt;
}

std::optional<ClearanceView> make_clearance_view(const Setup& setup, const MountedModel& model,
                                                 const TractorView& tractor, const Clearance& c, UnitSystem units) {
    const KernelPose<double> k = solve_kernel<double>(model.linkage, c.least.height, c.least.upper_length);
    const auto point = find_clearance_point(setup, model, tractor, c, k);
    if (!point) return std::nullopt;
    ClearanceView view;
    view.to = *point;
    view.clearance = c.least.value;
    if (setup.rules.clearance.set) view.required = setup.rules.clearance.value;
    view.what =
        fmt::format("{} to {} ({})", other_part(c.kind), c.part, "ball height " + format_length(c.least.height, units));
    const Vec2<double> mast = k.ball + k.mast_arm;
    switch (c.kind) {
        case ClearanceKind::guard_to_deck_edge:
        case ClearanceKind::guard_to_drawbar: {
            const ShaftState<double> s = find_shaft_state(model.ends, k);
            view.from = point_along(nearest_on(side_view_of(s.from), side_view_of(s.to), *point), *point,
                                    setup.driveline.guard_radius.value_or(0.0));
            break;
        }
        case ClearanceKind::point_to_tyre: {
            const double radius = tractor.rear_tyre_radius.value_or(0.0);
            view.from = point_along({0.0, radius}, *point, radius);
            break;
        }
        case ClearanceKind::point_to_cab:
            view.from = nearest_on_cab(tractor, *point);
            break;
        case ClearanceKind::point_to_upper_link:
            view.from =
                nearest_on({model.linkage.upper_pin.x(), model.linkage.upper_pin.y()}, {mast.x, mast.z}, *point);
            break;
    }
    return view;
}

}  // namespace

std::vector<ClearanceView> make_clearance_views(const Setup& setup, const MountedModel& model,
                                                const TractorView& tractor, const std::vector<Clearance>& clearances,
                                                UnitSystem units) {
    const Limit& rule = setup.rules.clearance;
    const double near = std::max(rule.set ? rule.value : 0.0, near_clearance);
    std::vector<Clearance> order = clearances;
    std::stable_sort(order.begin(), order.end(),
                     [](const Clearance& a, const Clearance& b) { return a.least.value < b.least.value; });
    std::vector<ClearanceView> views;
    for (const Clearance& c : order) {
        const bool guard = c.kind == ClearanceKind::guard_to_deck_edge || c.kind == ClearanceKind::guard_to_drawbar;
        if (!guard && c.least.value > near) continue;
        if (views.size() == clearances_shown) break;
        if (const auto view = make_clearance_view(setup, model, tractor, c, units)) views.push_back(*view);
    }
    return views;
}

}  // namespace hitchwright
