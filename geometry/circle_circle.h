// Where two circles of the side view meet: the one step behind every linkage closure.
//
// With d the distance of the centres, the meeting point lies
//     along = (d + (r1 - r2) (r1 + r2) / d) / 2   from centre 1 towards centre 2, and
//     aside = 2 area / d                          to the left or right of that line,
// where the area of the triangle (r1, r2, d) comes from Heron's formula in the ordering of
// W. Kahan, "Miscalculating area and angles of a needle-like triangle": no digits are lost near tangency.
// Two solutions exist; which one is taken is the caller's choice (Side), never "the first root".
#pragma once

#include <limits>

#include "geometry/point.h"

namespace hitchwright {

/// Side of the directed line from centre 1 to centre 2; left is a quarter turn from +x towards +z.
enum class Side { left, right };

/// Why two circles have no single meeting point on a side.
enum class Miss {
    none,       ///< they meet
    apart,      ///< the centres are farther apart than r1 + r2
    inside,     ///< one circle lies inside the other
    undefined,  ///< the circles coincide, or an input is negative or not a finite number
};

/// A miss below this part of r1 + r2 + d is rounding (inputs of 1 m: below 1e-13 m) and counts as tangent.
inline constexpr double tangent_tolerance = 64.0 * std::numeric_limits<double>::epsilon();

/// Where two circles meet, or by how much they miss.
struct CircleIntersection {
    bool meet = false;
    Point at = Point::Zero();  ///< meeting point, m; zero when they miss
    Miss miss = Miss::undefined;
    double shortfall = 0.0;  ///< m, positive for apart and inside, else 0

    bool operator==(const CircleIntersection&) const = default;
};

/// Intersection of the circles (centre1, radius1) and (centre2, radius2), m, on `side` of centre1 -> centre2.
/// Both radii are met within about 1e-15 of the lengths involved; a tangent pair returns its one point for both sides.
/// Never throws; bad numbers give Miss::undefined.
CircleIntersection find_circle_intersection(const Point& centre1, double radius1, const Point& centre2, double radius2,
                                            Side side);

}  // namespace hitchwright
