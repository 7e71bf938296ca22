// See spatial_linkage.h.
#include "geometry/spatial_linkage.h"

#include <algorithm>

namespace hitchwright {
namespace {

constexpr int heading_steps = 50;
constexpr double heading_step_end = 1e-10;  ///< of sin(chi): each of Newton's steps squares what is left
constexpr double heading_rounding = 1e-15;  ///< steps that change nothing
constexpr double most_heading_sine = 0.99;  ///< steps stay within a quarter turn
constexpr double closing_error = 1e-10;     ///< m: what may be left of a link's length, a tenth of what is promised

/// The middle of the lower hitch points and the axis through them.
struct HitchAxis {
    Vec3<double> hitch{0, 0, 0};
    detail::PinAxis<double> axis{};
};

std::optional<HitchAxis> solve_hitch_axis(const SpatialLinkage& k, const HitchPlace<double>& at) {
    const std::optional<HitchHeading> heading = solve_heading(k, at);
    if (!heading) return std::nullopt;
    return HitchAxis{{k.side_view.lower_pivot.x() + heading->run, at.sway, at.height}, detail::make_pin_axis(heading->sine, at.tilt_sine)};
}

/// Where Newton begins: G over -y_H cos(tau) X(0) is, to u^3,
///   u + s/(2 X0) u^2 - y_H y_P cos(tau)/(2 X0^2) u^3 - g,   X0 = X(0)
/// and its inverse series in g is some 1e-9 off, 1e-5 at the most, with sines of the tilt and sways in m to 0.12. Farther out 0.
double guess_heading(const SpatialLinkage& k, const HitchPlace<double>& at, double cos_tau) {
    constexpr double farthest = 0.3;
    const double yh = k.half_spread_at_ball, yp = k.half_spread_at_pivot, c = k.lower_length, z = at.height - k.side_view.lower_pivot.y();
    const double spread = yh * yp * cos_tau, run_squared = 2.0 * spread - square(at.sway) - square(z) + (c * c - yh * yh - yp * yp);
    if (!(run_squared > 0.0)) return 0.0;
    const double per_run = 1.0 / std::sqrt(run_squared);
    const double g = (at.sway * (yh * cos_tau - yp) + yh * z * at.tilt_sine) / (yh * cos_tau) * per_run;
    const double a = 0.5 * at.sway * per_run, b = 0.5 * spread * square(per_run);
    if (!(std::fabs(g) < farthest && std::fabs(a) < farthest && b < 1.0)) return 0.0;
    const double near = g - square(g) * (a - (2.0 * a * a + b) * g), nearer = g - square(near) * (a - b * near);
    return g - square(nearer) * (a - b * nearer);
}

}  // namespace

// Newton from near the answer, or from the level, centred one.
std::optional<HitchHeading> solve_heading(const SpatialLinkage& k, const HitchPlace<double>& at) {
    if (!std::isfinite(at.height) || !std::isfinite(at.sway) || !(std::fabs(at.tilt_sine) < 1.0)) return std::nullopt;
    const double cos_tau = detail::cosine_from_sine(at.tilt_sine);
    double u = guess_heading(k, at, cos_tau);
    detail::HeadingTerms<double> t = detail::find_heading_terms(k, at, cos_tau, u);
    for (int i = 0; i < heading_steps; ++i) {
        if (!(t.run > 0.0) || !std::isfinite(t.slope) || t.slope == 0.0) return std::nullopt;
        const double whole = t.error / t.slope, next = std::clamp(u - whole, -most_heading_sine, most_heading_sine);
        if (std::fabs(whole) <= heading_rounding) break;
        const double step = std::fabs(next - u);
        u = next;
        t = detail::find_heading_terms(k, at, cos_tau, u);
        if (step <= heading_step_end) break;
    }
    if (!(t.run > 0.0) || !(std::fabs(t.error) <= closing_error * k.lower_length)) return std::nullopt;
    return HitchHeading{u, t.run};
}

Attitude find_attitude(const SpatialPose<double>& p) {
    // Columns of Rz(yaw) Ry(-pitch) Rx(roll): rearward = (cy cp, sy cp, sp), right.z = cp sr, upward.z = cp cr.
    return {.pitch = std::atan2(p.rearward.z, std::sqrt(p.rearward.x * p.rearward.x + p.rearward.y * p.rearward.y)),
            .roll = std::atan2(p.right.z, p.upward.z),
            .yaw = std::atan2(p.rearward.y, p.rearward.x)};
}

SpatialSolution solve_spatial_pose(const SpatialLinkage& k, const HitchPlace<double>& at) {
    SpatialSolution s;
    s.at = at;
    const std::optional<HitchAxis> h = solve_hitch_axis(k, at);
    if (!h) return s;
    s.reached = true;
    const double e = k.side_view.upper_length;
    const detail::MastTriangle<double> t = detail::make_mast_triangle(k, h->hitch, h->axis, e);
    const double distance = std::sqrt(t.to_pin.x * t.to_pin.x + t.to_pin.z * t.to_pin.z);
    s.closes = std::fabs(t.beside) < e && find_heron_product(k.side_view.mast_pin.norm(), distance, t.upper) >= 0.0;
    const detail::MastTurn<double> turn = s.closes ? detail::solve_mast_turn(k.side_view, t) : detail::MastTurn<double>{1.0, 0.0};
    s.pose = detail::make_spatial_pose(h->hitch, h->axis, turn);
    s.attitude = find_attitude(s.pose);
    const Vec3<double> half = k.half_spread_at_ball * s.pose.right;
    s.left_ball = h->hitch - half;
    s.right_ball = h->hitch + half;
    return s;
}

std::optional<double> find_upper_length(const SpatialLinkage& k, const HitchPlace<double>& at, double turn) {
    const std::optional<HitchAxis> h = solve_hitch_axis(k, at);
    if (!h) return std::nullopt;
    const SpatialPose<double> pose = detail::make_spatial_pose(h->hitch, h->axis, detail::MastTurn<double>{std::cos(turn), std::sin(turn)});
    const Vec3<double> mast = pose.place({k.side_view.mast_pin.x(), 0.0, k.side_view.mast_pin.y()});
    return std::hypot(mast.x - k.side_view.upper_pin.x(), mast.y, mast.z - k.side_view.upper_pin.y());
}

}  // namespace hitchwright
