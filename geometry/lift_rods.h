// Left and right lift rods in space: which tilt of the lower hitch points they give, and which lengths a tilt wants.
//
// The lift arms turn together about the rockshaft: ends E = R + arm (cos a, +-half-spread, sin a). A rod's foot Q lies on its
// lower link, l the link's unit vector from pivot to ball: Q = P + along l + offset n, n = unit(l x lateral), above the link;
// with links in planes of their own that is the projected pin of lower_link.h. The rod seen along y is
// rod' = sqrt(rod^2 - (E_y - Q_y)^2), so that each side asks for one arm angle, and both must be the same:
//   F = arm_left x arm_right / arm^2 = sin(a_right - a_left) = 0.
// F is one equation for the tilt at a height and sway of the hitch. Frame T, m, rad.
#pragma once

#include <optional>

#include "geometry/spatial_jets.h"

namespace hitchwright {

/// Lift arms and rods.
struct LiftRods {
    Point arm_pivot = Point::Zero();
    double arm_length = 0.0;
    double arm_half_spread = 0.0;
    double left_length = 0.0, right_length = 0.0;  ///< of the rods, pin to pin
    double pin_along = 0.0;   ///< along the lower link, in space
    double pin_offset = 0.0;  ///< above the link
};

/// Which side, seen from the seat.
enum class TractorSide { left, right };

/// +1 right, -1 left: the sign of y.
inline double find_side_sign(TractorSide side) { return side == TractorSide::right ? 1.0 : -1.0; }

/// Both rods at one place of the hitch.
struct RodPose {
    bool closes = false;
    SpatialSolution hitch;  ///< of the implement; `hitch.closes` may be false where only the upper link does not reach
    double arm_angle = 0.0;
    Vec3<double> left_arm_end{0, 0, 0}, right_arm_end{0, 0, 0};
    Vec3<double> left_foot{0, 0, 0}, right_foot{0, 0, 0};
};

/// Ball of one side: middle of the lower hitch points and their axis.
template <class T>
Vec3<T> find_ball(const SpatialLinkage& k, const Vec3<T>& hitch, const Vec3<T>& right_axis, TractorSide side) {
    return hitch + T(find_side_sign(side) * k.half_spread_at_ball) * right_axis;
}

/// Foot of a lift rod on its lower link.
template <class T>
Vec3<T> find_rod_foot(const SpatialLinkage& k, const LiftRods& rods, const Vec3<T>& ball, TractorSide side) {
    using std::sqrt;
    const Vec3<T> pivot{T(k.side_view.lower_pivot.x()), T(find_side_sign(side) * k.half_spread_at_pivot),
                        T(k.side_view.lower_pivot.y())};
    const Vec3<T> l = T(1.0 / k.lower_length) * (ball - pivot);
    const T across = sqrt(square(l.x) + square(l.z));
    const Vec3<T> n{-(l.z / across), T(0.0), l.x / across};
    return pivot + T(rods.pin_along) * l + T(rods.pin_offset) * n;
}

/// The arm as one rod wants it: from the arm pivot to the arm's end, seen along y. The branch is that of lift_linkage.h, the
/// arm's end left of the line from the arm pivot to the foot.
template <class T>
Vec2<T> find_arm(const LiftRods& rods, const Vec3<T>& foot, double rod, TractorSide side) {
    using std::sqrt;
    const T beside = find_side_sign(side) * rods.arm_half_spread - foot.y;
    const T seen = find_other_leg(rod, beside);
    const Vec2<T> d{foot.x - rods.arm_pivot.x(), foot.z - rods.arm_pivot.y()};
    const T d2 = square(d.x) + square(d.z);
    const T along = 0.5 * (d2 - square(seen) + rods.arm_length * rods.arm_length);
    const T up = 0.5 * clamped_sqrt(find_heron_product(rods.arm_length, sqrt(d2), seen));
    return {(along * d.x - up * d.z) / d2, (along * d.z + up * d.x) / d2};
}

/// F: sine of the right arm's angle less the left one's. Zero where both rods fit one rockshaft.
template <class T>
T find_arm_difference(const SpatialLinkage& k, const LiftRods& rods, const Vec3<T>& hitch, const Vec3<T>& right_axis) {
    const Vec3<T> left = find_rod_foot(k, rods, find_ball(k, hitch, right_axis, TractorSide::left), TractorSide::left);
    const Vec3<T> right = find_rod_foot(k, rods, find_ball(k, hitch, right_axis, TractorSide::right), TractorSide::right);
    const Vec2<T> a = find_arm(rods, left, rods.left_length, TractorSide::left);
    const Vec2<T> b = find_arm(rods, right, rods.right_length, TractorSide::right);
    return (1.0 / (rods.arm_length * rods.arm_length)) * cross(a, b);
}

/// The tilt that the rods give at a mean height and a sway of the lower hitch points. Lengths kept to 1e-9 m.
RodPose solve_on_rods(const SpatialLinkage& linkage, const LiftRods& rods, double height, double sway);

/// The same with the lift arms at an angle: mean height and tilt follow. Nearest to `near_height`.
RodPose solve_at_arm(const SpatialLinkage& linkage, const LiftRods& rods, double arm_angle, double sway, double near_height);

/// Length one rod must have for a place of the hitch with the arms at an angle, m; nothing where the links do not reach it.
std::optional<double> find_rod_length(const SpatialLinkage& linkage, const LiftRods& rods, const HitchPlace<double>& at,
                                      double arm_angle, TractorSide side);

/// The arm angle that one rod as it is gives at a place of the hitch, rad; nothing where arm and rod do not reach.
std::optional<double> find_arm_angle(const SpatialLinkage& linkage, const LiftRods& rods, const HitchPlace<double>& at,
                                     TractorSide side);

/// Tilt (its sine) over heights and sways of a box, enclosed with slopes (variables 0 and 1); whole lines where it cannot be
/// bounded. box[2] and box[3] do not matter.
SpatialJet enclose_rod_tilt(const SpatialLinkage& linkage, const LiftRods& rods, const SpatialBox& box);

}  // namespace hitchwright
