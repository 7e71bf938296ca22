// See pose_numbers.h.
#include "geometry/pose_numbers.h"

#include "geometry/angle.h"

namespace hitchwright {
namespace {

double find_pitch(double cosine, double sine) {
    if (std::fabs(sine) <= cosine) return std::asin(sine);
    if (std::fabs(cosine) < std::fabs(sine)) return std::copysign(0.5 * pi - std::asin(cosine), sine);
    return std::copysign(pi - std::asin(std::fabs(sine)), sine);
}

double find_joint_angle(double chord) {
    const double acute = 2.0 * std::asin(0.5 * std::sqrt(std::fabs(chord)));
    return std::signbit(chord) ? pi - acute : acute;  // folded back onto its axis the chord is -0
}

/// A joint that is no point has no closed form: the general kernel finds the shaft's direction, chords both angles.
PoseNumbers solve_wide_angle_numbers(const PoseConstants& k, double ball_x, double h, const detail::ImplementTurn& turn) {
    const KernelPose<double> pose{{ball_x, h}, {0.0, 0.0}, turn.cosine, turn.sine};
    const DrivelineEnds& e = k.ends;
    const Vec3<double> joint = detail::place_in_space(pose, e.implement_joint), axis = detail::turn_in_space(pose, e.input_axis);
    const bool at_tractor = e.wide_angle == WideAngleEnd::tractor;
    const detail::WideAngleReach<double> reach = at_tractor ? detail::reach_wide_angle(e.tractor_joint, e.stub_axis, joint, e.spacing)
                                                            : detail::reach_wide_angle(joint, -1.0 * axis, e.tractor_joint, e.spacing);
    const double pitch = find_pitch(turn.cosine, turn.sine);
    if (reach.length < least_shaft_length) return {true, pitch, 0.0, 0.0, 0.0};
    const Vec3<double> v = (at_tractor ? 1.0 : -1.0) * reach.direction;  // rearward
    return {true, pitch, reach.length, find_joint_angle(detail::find_signed_chord_squared(e.stub_axis, v)),
            find_joint_angle(detail::find_signed_chord_squared(axis, v))};
}

}  // namespace

PoseConstants make_pose_constants(const PlanarLinkage& linkage, const DrivelineEnds& ends) {
    const double mast = linkage.mast_pin.norm(), upper = linkage.upper_length;
    PoseConstants k;
    k.lower_pivot = {linkage.lower_pivot.x(), linkage.lower_pivot.y()};
    k.lower_length = linkage.lower_length;
    k.upper_pin = {linkage.upper_pin.x(), linkage.upper_pin.y()};
    k.mast_pin = {linkage.mast_pin.x(), linkage.mast_pin.y()};
    k.mast_squared = linkage.mast_pin.squaredNorm();
    k.stretched_squared = square(mast + upper);
    k.folded_squared = square(mast - upper);
    k.half_difference = 0.5 * (mast - upper) * (mast + upper);
    k.half_side = linkage.side == MastSide::above ? -0.5 : 0.5;
    k.ends = ends;
    return k;
}

PoseNumbers solve_pose_numbers(const PoseConstants& k, double h) {
    const double ball_x = detail::find_ball_x(k, h);
    const detail::ImplementTurn turn = detail::turn_implement(k, ball_x, h);
    if (!turn.closes) return {};
    if (k.ends.wide_angle != WideAngleEnd::none) return solve_wide_angle_numbers(k, ball_x, h, turn);
    const double pitch = find_pitch(turn.cosine, turn.sine);
    const detail::ShaftReach to = detail::reach_shaft(k.ends, ball_x, h, turn.cosine, turn.sine);
    if (!(to.squared >= square(least_shaft_length))) return {true, pitch, 0.0, 0.0, 0.0};
    const double length = std::sqrt(to.squared), inverse = 1.0 / to.squared;  // side by side, not one after the other
    const detail::JointChords chords = detail::find_joint_chords(k.ends, to.x, to.z, length * inverse, turn.cosine, turn.sine);
    return {true, pitch, length, find_joint_angle(chords.tractor), find_joint_angle(chords.implement)};
}

}  // namespace hitchwright
