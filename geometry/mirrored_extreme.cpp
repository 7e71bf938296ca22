#include "geometry/mirrored_extreme.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

constexpr double rounding = 1.0e-12;  // rad, and of squares of lengths, angles and shares

/// Puts an angle that is beyond an end by a rounding onto it; false where it is beyond by more.
bool bring_inside(const AngleRange& range, double& angle) {
    const double inside = std::clamp(angle, range.low, range.high);
    if (std::fabs(inside - angle) > rounding) return false;
    angle = inside;
    return true;
}

/// Squares, because a small unevenness is the root of a rounded square; a great one moves by its own size.
bool are_same(double a, double b) {
    const double square_of_a = a * a, square_of_b = b * b;
    return std::fabs(square_of_a - square_of_b) <= rounding * std::max(1.0, square_of_a);
}

}  // namespace

Attitude mirror(const Attitude& a) { return {a.pitch, 0.0 - a.roll, 0.0 - a.yaw}; }  // never -0

void name_left_side(const DrawnModel& m, const AttitudeBox& box, double (*quantity)(const DrivelineState&), AttitudeExtreme& e) {
    if (e.at.yaw < 0.0 || (e.at.yaw == 0.0 && e.at.roll <= 0.0)) return;
    Attitude other = mirror(e.at);
    if (!bring_inside(box.yaw, other.yaw) || !bring_inside(box.roll, other.roll)) return;
    if (are_same(quantity(find_driveline_state(m, e.at)), quantity(find_driveline_state(m, other)))) e.at = other;
}

}  // namespace hitchwright
