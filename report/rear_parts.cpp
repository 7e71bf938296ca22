// See rear_parts.h.
#include "report/rear_parts.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

constexpr double taut_within = 1e-6;  // m

double turn_of(DrawingPoint a, DrawingPoint b, DrawingPoint c) { return (b.x - a.x) * (c.z - a.z) - (b.z - a.z) * (c.x - a.x); }

}  // namespace

std::vector<RearEdge> list_rear_edges(const Implement& implement, const MountedModel& m, const SpacePose& pose) {
    std::vector<RearEdge> edges;
    for (const ImplementPoint& p : implement.points) {
        if (!p.x.known || !p.z.known || !p.half_width.known || p.half_width.value <= 0.0) continue;
        const double middle = p.y.value_or(0.0), half = p.half_width.value;
        edges.push_back({p.name, half, from_behind(place_in_space(m, pose, p.x, p.z, middle - half)), from_behind(place_in_space(m, pose, p.x, p.z, middle + half))});
    }
    return edges;
}

const RearEdge& find_widest_edge(const std::vector<RearEdge>& edges) {
    return *std::max_element(edges.begin(), edges.end(), [](const RearEdge& a, const RearEdge& b) { return a.half_width < b.half_width; });
}

const RearEdge& find_lowest_edge(const std::vector<RearEdge>& edges) {
    const auto low = [](const RearEdge& e) { return std::min(e.left.z, e.right.z); };
    return *std::min_element(edges.begin(), edges.end(), [&](const RearEdge& a, const RearEdge& b) { return low(a) < low(b); });
}

std::vector<DrawingPoint> find_hull(const std::vector<RearEdge>& edges) {
    std::vector<DrawingPoint> all, hull;
    for (const RearEdge& e : edges) all.insert(all.end(), {e.left, e.right});
    std::sort(all.begin(), all.end(), [](DrawingPoint a, DrawingPoint b) { return a.x != b.x ? a.x < b.x : a.z < b.z; });
    const auto wrap = [&](auto first, auto last) {
        const std::size_t begin = hull.size();
        for (auto p = first; p != last; ++p) {
            while (hull.size() >= begin + 2 && turn_of(hull[hull.size() - 2], hull.back(), *p) <= 0.0) hull.pop_back();
            hull.push_back(*p);
        }
        hull.pop_back();
    };
    wrap(all.begin(), all.end());
    wrap(all.rbegin(), all.rend());
    return hull;
}

ChainLine find_chain_line(const MountedSpace& space, const SpacePose& pose, TractorSide side) {
    const double sign = find_side_sign(side);
    const bool right = side == TractorSide::right;
    const CheckChains& c = space.chains;
    ChainLine line;
    line.anchor = {c.anchor_x, sign * c.anchor_half_spread, c.anchor_z};
    const Vec3<double> pivot = right ? pose.right_pivot : pose.left_pivot, ball = right ? pose.hitch.right_ball : pose.hitch.left_ball;
    line.pin = pivot + (c.pin_along / space.linkage.lower_length) * (ball - pivot);
    const Vec3<double> way = line.pin - line.anchor;
    const double beyond = std::sqrt(dot(way, way)) - (right ? c.right_length : c.left_length);
    line.taut = beyond > -taut_within;
    if (beyond > taut_within) line.short_by = beyond;
    return line;
}

TyreRoomLine find_tyre_room_line(const MountedSpace& space, const TyreRoomParts& parts, const TyreRoom& room) {
    const SpatialSolution at = solve_spatial_pose(space.linkage, room.at);
    const bool right = room.side == TractorSide::right;
    const double sign = find_side_sign(room.side);
    const Vec3<double> pivot{space.linkage.side_view.lower_pivot.x(), sign * space.linkage.half_spread_at_pivot, space.linkage.side_view.lower_pivot.y()};
    const Vec3<double> ball = right ? at.right_ball : at.left_ball;
    const Vec3<double> p = pivot + room.along * (ball - pivot);
    TyreRoomLine line;
    line.pivot = from_behind(pivot);
    line.ball = from_behind(ball);
    line.link = {p.y + sign * (parts.outer_half_width + parts.side_play * room.along), p.z};
    line.tyre = {sign * parts.inner_face, p.z};
    line.beside = std::hypot(p.x, p.z - parts.radius) < parts.radius;
    return line;
}

bool is_shown_level(double radians) { return format_angle(std::fabs(radians)) == format_angle(0.0); }

bool is_shown_zero(double metres, const SafeWords& w) { return w.place(std::fabs(metres)) == w.place(0.0); }

}  // namespace hitchwright
