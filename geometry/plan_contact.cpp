#include "geometry/plan_contact.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

/// Foot of a perpendicular counts as on the edge to within this (m): rounding of coordinates of a few metres.
constexpr double edge_rounding = 1.0e-12;

using Corners = std::array<Point, 4>;

double find_distance(const Point& p, const Point& a, const Point& b) {
    const Point along = b - a;
    const double length2 = along.squaredNorm();
    const double t = length2 > 0.0 ? std::clamp((p - a).dot(along) / length2, 0.0, 1.0) : 0.0;
    return (p - (a + t * along)).norm();
}

/// True when a line through an edge of `a` has all of `b` on its outer side.
bool is_separated_by_edge(const Corners& a, const Corners& b) {
    for (std::size_t i = 0; i < 4; ++i) {
        const Point edge = a[(i + 1) % 4] - a[i];
        if (edge.squaredNorm() == 0.0) continue;
        const Point outward(edge.y(), -edge.x());
        if (std::all_of(b.begin(), b.end(), [&](const Point& p) { return outward.dot(p - a[i]) > 0.0; })) return true;
    }
    return false;
}

/// Collects the least turn at which something meets; `sense` +1: angles grow, -1: they fall.
class FirstTurn {
public:
    explicit FirstTurn(double sense) : sense_(sense) {}

    /// A corner at `from` about the origin comes to stand at distance `gap` outside the edge a-b.
    void corner_meets_edge(const Point& from, const Point& a, const Point& b, double gap) {
        const Point edge = b - a;
        const double length = edge.norm(), radius = from.norm();
        if (length == 0.0 || radius == 0.0) return;
        const Point outward = Point(edge.y(), -edge.x()) / length;
        const double cosine = (outward.dot(a) + gap) / radius;
        if (std::fabs(cosine) > 1.0) return;
        for (const double side : {1.0, -1.0}) {
            const double psi = direction(outward) + side * std::acos(cosine);
            const double along = (radius * unit_vector(psi) - a).dot(edge) / length;
            if (along >= -edge_rounding && along <= length + edge_rounding) add(psi - direction(from));
        }
    }

    /// The same for a standing corner `to`.
    void corner_meets_corner(const Point& from, const Point& to, double gap) {
        const double r = from.norm(), d = to.norm();
        if (r == 0.0 || d == 0.0) return;
        const double cosine = (r * r + d * d - gap * gap) / (2.0 * r * d);
        if (std::fabs(cosine) > 1.0) return;
        for (const double side : {1.0, -1.0}) add(direction(to) + side * std::acos(cosine) - direction(from));
    }

    double least = std::numeric_limits<double>::infinity();

private:
    void add(double turn) {
        double size = std::fmod(sense_ * turn, 2.0 * pi);
        if (size < 0.0) size += 2.0 * pi;
        least = std::min(least, size);
    }
    double sense_;
};

Corners seen_from(const Corners& corners, const Point& pin) {
    Corners moved = corners;
    for (Point& p : moved) p -= pin;
    return moved;
}

double find_first_turn(const PlanRectangle& bar, const PlanRectangle& standing, const Point& pin, double sense, double gap) {
    const Corners b = seen_from(find_corners(bar), pin), s = seen_from(find_corners(standing), pin);
    FirstTurn first(sense), seen_from_bar(-sense);  // seen from the bar the standing corners turn the other way
    for (const Point& corner : b) {
        for (std::size_t i = 0; i < 4; ++i) {
            first.corner_meets_edge(corner, s[i], s[(i + 1) % 4], gap);
            first.corner_meets_corner(corner, s[i], gap);
        }
    }
    for (const Point& corner : s) {
        for (std::size_t i = 0; i < 4; ++i) seen_from_bar.corner_meets_edge(corner, b[i], b[(i + 1) % 4], gap);
    }
    return std::min(first.least, seen_from_bar.least);
}

}  // namespace

Corners find_corners(const PlanRectangle& r) {
    const Point along = r.rear - r.front;
    const double length = along.norm();
    const Point across = length > 0.0 ? Point(perpendicular(along) / length) : Point(0.0, 1.0);
    const Point half = 0.5 * r.width * across;
    return {Point(r.front - half), Point(r.rear - half), Point(r.rear + half), Point(r.front + half)};
}

PlanRectangle turn_about(const PlanRectangle& r, const Point& pin, double yaw) {
    return {pin + rotate(r.front - pin, yaw), pin + rotate(r.rear - pin, yaw), r.width};
}

double find_distance(const PlanRectangle& a, const PlanRectangle& b) {
    const Corners p = find_corners(a), q = find_corners(b);
    if (!is_separated_by_edge(p, q) && !is_separated_by_edge(q, p)) return 0.0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < 4; ++i) {
        for (std::size_t k = 0; k < 4; ++k) {
            least = std::min(least, find_distance(p[i], q[k], q[(k + 1) % 4]));
            least = std::min(least, find_distance(q[i], p[k], p[(k + 1) % 4]));
        }
    }
    return least;
}

PlanContact find_first_contact(std::span<const PlanRectangle> bars, std::span<const PlanRectangle> standing, const Point& pin,
                               TurnSide side, double gap) {
    const double sense = side == TurnSide::right ? 1.0 : -1.0;
    PlanContact first;
    double least = pi;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        for (std::size_t k = 0; k < standing.size(); ++k) {
            const bool straight = find_distance(bars[i], standing[k]) <= gap;
            const double turn = straight ? 0.0 : find_first_turn(bars[i], standing[k], pin, sense, gap);
            if (turn > least || (first.found && turn == least)) continue;
            least = turn;
            first = {true, turn, i, k};
        }
    }
    return first;
}

double find_least_distance(std::span<const PlanRectangle> bars, std::span<const PlanRectangle> standing, const Point& pin,
                           double yaw) {
    double least = std::numeric_limits<double>::infinity();
    for (const PlanRectangle& bar : bars) {
        for (const PlanRectangle& s : standing) least = std::min(least, find_distance(turn_about(bar, pin, yaw), s));
    }
    return least;
}

}  // namespace hitchwright
