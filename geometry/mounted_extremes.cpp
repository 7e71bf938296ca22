#include "geometry/mounted_extremes.h"

#include <cmath>

namespace hitchwright {
namespace {

template <class T>
T length_of(const ShaftState<T>& s) { return s.length; }
template <class T>
T tractor_of(const ShaftState<T>& s) { return -s.cos_tractor_joint; }
template <class T>
T implement_of(const ShaftState<T>& s) { return -s.cos_implement_joint; }

/// A callable over poses from one over shaft states.
template <class Q>
auto over_poses(const DrivelineEnds& ends, const Q& q) {
    return [&ends, q](const auto& pose) { return q(find_shaft_state(ends, pose)); };
}

}  // namespace

TravelBox make_travel_box(const MountedModel& m) { return {m.travel, effective_upper_lengths(m)}; }

PitchExtremes find_pitch_extremes(const MountedModel& m, const TravelBox& box) {
    const auto half_tangent = [](const auto& pose) { return pose.sin_pitch / (pose.cos_pitch + 1.0); };
    const auto back = [](double x) { return 2.0 * std::atan(x); };
    const auto close = close_in(back, angle_closeness);
    return {convert_extreme(find_least(m.linkage, box, half_tangent, close), back),
            convert_extreme(find_greatest(m.linkage, box, half_tangent, close), back)};
}

LengthExtremes find_length_extremes(const MountedModel& m, const TravelBox& box) {
    const auto length = over_poses(m.ends, [](const auto& s) { return length_of(s); });
    const PlainCloseness close{length_closeness};
    return {find_least(m.linkage, box, length, close), find_greatest(m.linkage, box, length, close)};
}

AngleExtremes find_angle_extremes(const MountedModel& m, const TravelBox& box) {
    const auto tractor = over_poses(m.ends, [](const auto& s) { return tractor_of(s); });
    const auto implement = over_poses(m.ends, [](const auto& s) { return implement_of(s); });
    const auto close = close_in(angle_from_negated_cosine, angle_closeness);
    return {convert_extreme(find_greatest(m.linkage, box, tractor, close), angle_from_negated_cosine),
            convert_extreme(find_greatest(m.linkage, box, implement, close), angle_from_negated_cosine)};
}

ShaftExtremes find_shaft_extremes(const MountedModel& m, const TravelBox& box) {
    const LengthExtremes length = find_length_extremes(m, box);
    const AngleExtremes angle = find_angle_extremes(m, box);
    ShaftExtremes r;
    r.shortest = length.shortest;
    r.longest = length.longest;
    r.tractor_angle = angle.tractor;
    r.implement_angle = angle.implement;
    r.turns = angle.tractor.bound < no_turning && angle.implement.bound < no_turning;
    if (!r.turns) return r;
    const auto ripple = over_poses(m.ends, [&m](const auto& s) { return find_non_uniformity_squared(m.ends, s); });
    r.non_uniformity = convert_extreme(find_greatest(m.linkage, box, ripple, close_in(root_of_square, ratio_closeness)), root_of_square);
    return r;
}

std::vector<HeightRange> find_heights_within_angle(const MountedModel& m, const TravelBox& box, JointEnd joint,
                                                   double limit) {
    const double level = -std::cos(limit);
    if (joint == JointEnd::tractor) {
        const auto q = over_poses(m.ends, [](const auto& s) { return tractor_of(s); });
        return find_heights_inside(m.linkage, box, q, level);
    }
    const auto q = over_poses(m.ends, [](const auto& s) { return implement_of(s); });
    return find_heights_inside(m.linkage, box, q, level);
}

std::vector<HeightRange> find_heights_longer_than(const MountedModel& m, const TravelBox& box, double shortest) {
    const auto q = over_poses(m.ends, [](const auto& s) { return -length_of(s); });
    return find_heights_inside(m.linkage, box, q, -shortest);
}

std::vector<HeightRange> find_heights_shorter_than(const MountedModel& m, const TravelBox& box, double longest) {
    const auto q = over_poses(m.ends, [](const auto& s) { return length_of(s); });
    return find_heights_inside(m.linkage, box, q, longest);
}

}  // namespace hitchwright
