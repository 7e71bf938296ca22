// See pose_numbers.h.
#include "geometry/pose_numbers.h"

#include <algorithm>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

double find_pitch(double cosine, double sine) {
    if (std::fabs(sine) <= cosine) return std::asin(sine);
    if (std::fabs(cosine) < std::fabs(sine)) return std::copysign(0.5 * pi - std::asin(cosine), sine);
    return std::copysign(pi - std::asin(std::fabs(sine)), sine);
}

double find_joint_angle(const Vec3<double>& u, const Vec3<double>& v) {
    const double chord = detail::find_signed_chord_squared(u, v);
    const double acute = 2.0 * std::asin(0.5 * std::sqrt(std::fabs(chord)));
    return chord < 0.0 ? pi - acute : acute;
}

/// A joint that is no point has no closed form; the general kernel takes it.
PoseNumbers solve_wide_angle_numbers(const PoseConstants& k, const detail::LinkagePlace& at, double h) {
    const KernelPose<double> pose{{at.ball_x, h}, {0.0, 0.0}, at.cosine, at.sine};
    const ShaftState<double> s = find_shaft_state(k.ends, pose);
    return {true, find_pitch(at.cosine, at.sine), s.length, std::acos(std::clamp(s.cos_tractor_joint, -1.0, 1.0)),
            std::acos(std::clamp(s.cos_implement_joint, -1.0, 1.0))};
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
    const detail::LinkagePlace at = detail::place_linkage(k, h);
    if (!at.closes) return {};
    if (k.ends.wide_angle != WideAngleEnd::none) return solve_wide_angle_numbers(k, at, h);
    const detail::ShaftPlace shaft = detail::place_shaft(k.ends, at, h);
    if (!(shaft.length >= least_shaft_length)) return {};
    return {true, find_pitch(at.cosine, at.sine), shaft.length, find_joint_angle(k.ends.stub_axis, shaft.direction),
            find_joint_angle(shaft.input_axis, shaft.direction)};
}

}  // namespace hitchwright
