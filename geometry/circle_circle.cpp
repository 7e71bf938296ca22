// See circle_circle.h.
#include "geometry/circle_circle.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

namespace hitchwright {
namespace {

bool is_radius(double r) { return std::isfinite(r) && r >= 0.0; }

CircleIntersection missed(Miss miss, double shortfall) {
    return {.meet = false, .at = Point::Zero(), .miss = miss, .shortfall = shortfall};
}

}  // namespace

CircleIntersection find_circle_intersection(const Point& centre1, double radius1, const Point& centre2, double radius2,
                                            Side side) {
    const Point between = centre2 - centre1;
    const double d = between.norm();
    if (!is_radius(radius1) || !is_radius(radius2) || !std::isfinite(d)) {
        return missed(Miss::undefined, 0.0);
    }
    if (d == 0.0 && radius1 == radius2) {
        return missed(Miss::undefined, 0.0);
    }
    std::array<double, 3> sides = {radius1, radius2, d};
    std::sort(sides.begin(), sides.end(), std::greater<>());
    const auto [a, b, c] = sides;
    // The longest side exceeds the other two by -room: the only way three lengths fail to close.
    const double room = c - (a - b);
    if (room < -tangent_tolerance * (a + b + c)) {
        return missed(a == d ? Miss::apart : Miss::inside, -room);
    }
    if (d == 0.0) {  // equal but for rounding, and concentric: no direction to take
        return missed(Miss::undefined, 0.0);
    }
    const double four_areas = std::sqrt((a + (b + c)) * std::max(room, 0.0) * (c + (a - b)) * (a + (b - c)));
    const double along = 0.5 * (d + (radius1 - radius2) / d * (radius1 + radius2));
    const double aside = (side == Side::left ? 0.5 : -0.5) * four_areas / d;
    const Point forward = between / d;
    return {.meet = true,
            .at = centre1 + along * forward + aside * perpendicular(forward),
            .miss = Miss::none,
            .shortfall = 0.0};
}

}  // namespace hitchwright
