#include "gui/side_camera.h"

#include <algorithm>

namespace hitchwright {
namespace {

constexpr double side_margin_mm = 8.0, top_margin_mm = 9.0, bottom_margin_mm = 5.0;

PagePoint middle_of(const PageRect& area) { return {(area.left + area.right) / 2.0, (area.top + area.bottom) / 2.0}; }

SideCamera camera_of(const Placement& placement, const PageRect& area) {
    return {false, find_drawing_point(placement, middle_of(area)), placement.scale_denominator};
}

}  // namespace

Placement find_placement(const SideCamera& camera, const DrawingBox& box, const PageRect& area) {
    if (!camera.fitted) return {camera.middle, middle_of(area), camera.scale_denominator};
    const PageRect inner{area.left + side_margin_mm, area.top + top_margin_mm, area.right - side_margin_mm,
                         area.bottom - bottom_margin_mm};
    Placement p;
    p.drawing_origin = point_between(box.least, box.most, 0.5);
    p.page_origin = middle_of(inner);
    p.scale_denominator = std::clamp(1000.0 * std::max(box.width() / std::max(inner.width(), 1.0),
                                                       box.height() / std::max(inner.height(), 1.0)),
                                     least_scale, most_scale);
    return p;
}

DrawingPoint find_drawing_point(const Placement& p, PagePoint at) {
    const double metres_per_mm = p.scale_denominator / 1000.0;
    return {p.drawing_origin.x + (at.x - p.page_origin.x) * metres_per_mm,
            p.drawing_origin.z - (at.y - p.page_origin.y) * metres_per_mm};
}

SideCamera zoom_about(const Placement& placement, const PageRect& area, PagePoint at, double factor) {
    Placement nearer = placement;
    nearer.drawing_origin = find_drawing_point(placement, at);
    nearer.page_origin = at;
    nearer.scale_denominator = std::clamp(placement.scale_denominator / factor, least_scale, most_scale);
    return camera_of(nearer, area);
}

SideCamera pan_by(const Placement& placement, const PageRect& area, PagePoint by) {
    Placement moved = placement;
    moved.page_origin = {placement.page_origin.x + by.x, placement.page_origin.y + by.y};
    return camera_of(moved, area);
}

}  // namespace hitchwright
