// Where a bar that turns about a pin comes within a given distance of standing rectangles, in plan view; exact.
//
// Two convex shapes that were further apart first come within c where a corner of one stands at c from an edge of the
// other, or from a corner. A corner at radius r from the pin moves on a circle, so that every such place is a closed form:
//   corner against edge n.x = k:   r cos(psi - alpha) = k + c - n.pin     (alpha: direction of the outward normal n)
//   corner against corner:         r^2 + d^2 - 2 r d cos(psi - beta) = c^2  (beta, d: the standing corner from the pin)
// An edge of the bar against a standing corner is the same seen from the bar. The first of all these angles is the
// contact; nothing is sampled. Plan view: x rearward, y to the right, both in Point's two components; m, rad.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "geometry/point.h"

namespace hitchwright {

/// A rectangle in plan by its centre line and its width.
struct PlanRectangle {
    Point front = Point::Zero(), rear = Point::Zero();
    double width = 0.0;

    bool operator==(const PlanRectangle&) const = default;
};

/// Corners, going round from +x to +y. A rectangle without length or width is a segment or a point.
std::array<Point, 4> find_corners(const PlanRectangle& rectangle);

/// `rectangle` turned by `yaw` about `pin` (positive: from +x to +y, the rear end to the right).
PlanRectangle turn_about(const PlanRectangle& rectangle, const Point& pin, double yaw);

/// Distance of two rectangles, m; 0 when they touch or overlap.
double find_distance(const PlanRectangle& a, const PlanRectangle& b);

/// A turn is to the right (yaw positive) or to the left.
enum class TurnSide { left, right };

/// First contact of a turn.
struct PlanContact {
    bool found = false;      ///< false: none in half a turn
    double yaw = 0.0;        ///< rad from straight, size; 0: within the distance already when straight
    std::size_t bar = 0;     ///< which of the turning bars
    std::size_t standing = 0;  ///< which of the standing rectangles

    bool operator==(const PlanContact&) const = default;
};

/// First yaw at which one of the `bars`, given straight, comes within `gap` (m, >= 0) of a `standing` rectangle.
PlanContact find_first_contact(std::span<const PlanRectangle> bars, std::span<const PlanRectangle> standing, const Point& pin,
                               TurnSide side, double gap);

/// Least distance of all bars, turned by the signed `yaw`, from all standing rectangles, m.
double find_least_distance(std::span<const PlanRectangle> bars, std::span<const PlanRectangle> standing, const Point& pin,
                           double yaw);

}  // namespace hitchwright
