// See outline_sketch.h.
#include "report/outline_sketch.h"

#include <algorithm>

namespace hitchwright {
namespace {

constexpr double thin_outline = 0.12;  // m; an outline flatter than this, or of three corners, gets a skirt
constexpr double skirt_share = 0.6;    // of the way from a point down to the ground
constexpr double most_skirt = 0.35;    // m

double cross_of(DrawingPoint o, DrawingPoint a, DrawingPoint b) {
    return (a.x - o.x) * (b.z - o.z) - (a.z - o.z) * (b.x - o.x);
}

/// One half of the hull through points sorted along the walk.
template <class Walk>
void add_chain(std::vector<DrawingPoint>& hull, Walk begin, Walk end) {
    const std::size_t start = hull.size();
    for (Walk p = begin; p != end; ++p) {
        while (hull.size() >= start + 2 && cross_of(hull[hull.size() - 2], hull.back(), *p) <= 0.0) hull.pop_back();
        hull.push_back(*p);
    }
    hull.pop_back();  // the next chain begins with it
}

}  // namespace

std::vector<DrawingPoint> find_convex_hull(std::vector<DrawingPoint> points) {
    std::sort(points.begin(), points.end(),
              [](DrawingPoint a, DrawingPoint b) { return a.x != b.x ? a.x < b.x : a.z < b.z; });
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) return points;
    std::vector<DrawingPoint> hull;
    add_chain(hull, points.begin(), points.end());
    add_chain(hull, points.rbegin(), points.rend());
    return hull;
}

std::vector<DrawingPoint> sketch_outline(std::vector<DrawingPoint> points, double ground) {
    std::vector<DrawingPoint> hull = find_convex_hull(points);
    if (hull.size() < 2) return {};
    const auto lower = [](DrawingPoint a, DrawingPoint b) { return a.z < b.z; };
    const auto [low, high] = std::minmax_element(hull.begin(), hull.end(), lower);
    if (hull.size() > 3 && high->z - low->z >= thin_outline) return hull;
    points = hull;
    for (const DrawingPoint& p : hull)
        points.push_back({p.x, p.z - std::clamp(skirt_share * (p.z - ground), 0.0, most_skirt)});
    return find_convex_hull(points);
}

}  // namespace hitchwright
