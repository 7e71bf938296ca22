// See linkage_quantities.h.
#include "geometry/linkage_quantities.h"

#include <cmath>

#include "geometry/lower_link.h"

namespace hitchwright {
namespace {

/// Sine between the links below which they count as parallel for a point to be drawn: V beyond 1e8 m or so.
constexpr double parallel_sine = 1e-9;

double length_of(const Point& v) { return std::hypot(v.x(), v.y()); }

/// Lever, or nothing at dead centre.
std::optional<double> find_working_lever(const LinkPoints& points) {
    const double lever = find_mast_lever(points);
    const double mast = length_of(points.mast_pin - points.ball);
    // Negated so that a lever that is not a number counts as none.
    if (!(std::abs(lever) > dead_centre_share * mast)) {
        return std::nullopt;
    }
    return lever;
}

/// Sine of the angle from lower to upper link.
double find_link_sine(const LinkPoints& points) {
    const Point lower = points.ball - points.lower_pivot;
    const Point upper = points.mast_pin - points.upper_pin;
    return cross(lower, upper) / (length_of(lower) * length_of(upper));
}

bool is_upright(const Point& lower) { return !(std::abs(lower.x()) > dead_centre_share * length_of(lower)); }

}  // namespace

LinkPoints find_link_points(const PlanarLinkage& linkage, const PlanarPose& pose) {
    return {linkage.lower_pivot, pose.ball, linkage.upper_pin, pose.mast_pin};
}

double find_mast_lever(const LinkPoints& points) {
    const Point upper = points.mast_pin - points.upper_pin;
    const double length = length_of(upper);
    return length > 0.0 ? cross(points.ball - points.mast_pin, upper) / length : 0.0;
}

std::optional<double> find_inverse_hitch_distance(const LinkPoints& points) {
    const std::optional<double> lever = find_working_lever(points);
    const Point lower = points.ball - points.lower_pivot;
    if (!lever || is_upright(lower)) {
        return std::nullopt;
    }
    const double cosine = lower.x() / length_of(lower);
    return find_link_sine(points) / (*lever * cosine);
}

std::optional<Point> find_virtual_hitch_point(const LinkPoints& points) {
    const double sine = find_link_sine(points);
    if (!(std::abs(sine) > parallel_sine)) {
        return std::nullopt;
    }
    const Point lower = points.ball - points.lower_pivot;
    const double along = find_mast_lever(points) / sine;  // from the ball forward along the lower link
    return Point(points.ball - lower * (along / length_of(lower)));
}

std::optional<double> find_inverse_vertical_convergence(const PlanarLinkage& linkage) {
    const PlanarPose level = solve_pose(linkage, linkage.lower_pivot.y());
    if (!level.closes) {
        return std::nullopt;
    }
    return find_inverse_hitch_distance(find_link_points(linkage, level));
}

std::optional<double> find_inverse_horizontal_convergence(double half_spread_at_pivot, double half_spread_at_ball,
                                                          double plan_length) {
    const bool sound = std::isfinite(half_spread_at_pivot) && std::isfinite(half_spread_at_ball) &&
                       std::isfinite(plan_length) && half_spread_at_ball > 0.0 && plan_length > 0.0;
    if (!sound) {
        return std::nullopt;
    }
    return (half_spread_at_ball - half_spread_at_pivot) / half_spread_at_ball / plan_length;
}

std::optional<double> find_pitch_per_length(const LinkPoints& points) {
    const std::optional<double> lever = find_working_lever(points);
    if (!lever) {
        return std::nullopt;
    }
    return -1.0 / *lever;
}

std::optional<double> find_pitch_per_turn(const LinkPoints& points, double advance_per_turn) {
    const std::optional<double> rate = find_pitch_per_length(points);
    if (!rate) {
        return std::nullopt;
    }
    return *rate * advance_per_turn;
}

std::optional<double> find_pitch_rate(const LinkPoints& points) {
    const Point lower = points.ball - points.lower_pivot;
    if (!find_working_lever(points) || is_upright(lower)) {
        return std::nullopt;
    }
    // Ball velocity for 1 m/s of rise; then the upper link keeps its length:
    // (M - U) . (vH + rate x perp(M - H)) = 0.
    const Point ball_velocity = perpendicular(lower) / lower.x();
    const Point upper = points.mast_pin - points.upper_pin;
    const Point mast = points.mast_pin - points.ball;
    return -upper.dot(ball_velocity) / upper.dot(perpendicular(mast));
}

std::optional<double> find_rise_ratio(const LinkPoints& points, const Point& point) {
    const std::optional<double> rate = find_pitch_rate(points);
    if (!rate) {
        return std::nullopt;
    }
    return 1.0 + *rate * (point.x() - points.ball.x());
}

DeadCentreDistance find_dead_centre_distance(const LinkPoints& points) {
    const double mast = length_of(points.mast_pin - points.ball);
    const double link = length_of(points.mast_pin - points.upper_pin);
    const double apart = length_of(points.upper_pin - points.ball);
    return {.sine = mast > 0.0 ? find_mast_lever(points) / mast : 0.0,
            .to_stretched = mast + link - apart,
            .to_folded = apart - std::abs(mast - link)};
}

}  // namespace hitchwright
