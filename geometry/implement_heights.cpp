// See implement_heights.h.
#include "geometry/implement_heights.h"

#include <algorithm>

namespace hitchwright {

std::vector<HeldPoint> list_held_points(const Implement& implement, const MountedModel& model) {
    std::vector<HeldPoint> points;
    for (const ImplementPoint& p : implement.points) points.push_back({p.name, find_body_point(model, p.x, p.z), 0.0});
    for (const GroundContact& c : implement.ground_contacts)
        points.push_back({c.name, find_body_point(model, c.x, c.z), c.radius.value_or(0.0)});
    return points;
}

double find_point_height(const HeldPoint& point, const PlanarPose& pose) {
    return place_point(pose, point.at).y() - point.radius;
}

std::optional<PointHeight> find_tail_height(const std::vector<HeldPoint>& points, const PlanarPose& pose) {
    const auto rear = std::max_element(
        points.begin(), points.end(), [](const HeldPoint& a, const HeldPoint& b) { return a.at.x() < b.at.x(); });
    if (rear == points.end()) return std::nullopt;
    return PointHeight{rear->name, find_point_height(*rear, pose)};
}

std::optional<PointHeight> find_lowest_height(const std::vector<HeldPoint>& points, const PlanarPose& pose) {
    const auto low = std::min_element(points.begin(), points.end(), [&](const HeldPoint& a, const HeldPoint& b) {
        return find_point_height(a, pose) < find_point_height(b, pose);
    });
    if (low == points.end()) return std::nullopt;
    return PointHeight{low->name, find_point_height(*low, pose)};
}

}  // namespace hitchwright
