#include "geometry/mounted_extremes.h"

#include <algorithm>
#include <cmath>

#include "geometry/space_search.h"

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

// In the plane one variable less, or three: the same answer sooner.
template <class Q, class Close>
TravelExtreme least(const MountedModel& m, const TravelBox& box, const Q& q, const Close& close) {
    return box.planar() ? find_least(m.linkage, box, q, close) : find_least(m.space.linkage, box, q, close);
}
template <class Q, class Close>
TravelExtreme greatest(const MountedModel& m, const TravelBox& box, const Q& q, const Close& close) {
    return box.planar() ? find_greatest(m.linkage, box, q, close) : find_greatest(m.space.linkage, box, q, close);
}
template <class Q>
std::vector<HeightRange> heights_inside(const MountedModel& m, const TravelBox& box, const Q& q, double limit) {
    return box.planar() ? find_heights_inside(m.linkage, box, q, limit) : find_heights_inside(m.space.linkage, box, q, limit);
}

}  // namespace

TravelBox make_travel_box(const MountedModel& m) {
    return {m.travel, effective_upper_lengths(m), m.space.side.sway, m.space.side.tilt_sine};
}

std::optional<ShaftState<double>> find_shaft_at(const MountedModel& m, const TravelBox& at) {
    const double h = at.heights.low, e = at.upper_lengths.low;
    if (at.planar()) {
        PlanarLinkage k = m.linkage;
        k.upper_length = e;
        if (!closes_at(k, h)) return std::nullopt;
        return find_shaft_state(m.ends, solve_kernel<double>(k, h, e));
    }
    SpatialLinkage k = m.space.linkage;
    k.side_view.upper_length = e;
    const SpatialSolution s = solve_spatial_pose(k, {h, at.sway.low, at.tilt_sine.low});
    if (!s.closes) return std::nullopt;
    return find_shaft_state(m.ends, s.pose);
}

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
    return {least(m, box, length, close), greatest(m, box, length, close)};
}

AngleExtremes find_angle_extremes(const MountedModel& m, const TravelBox& box) {
    const auto tractor = over_poses(m.ends, [](const auto& s) { return tractor_of(s); });
    const auto implement = over_poses(m.ends, [](const auto& s) { return implement_of(s); });
    const auto close = close_in(angle_from_negated_cosine, angle_closeness);
    return {convert_extreme(greatest(m, box, tractor, close), angle_from_negated_cosine),
            convert_extreme(greatest(m, box, implement, close), angle_from_negated_cosine)};
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
    r.non_uniformity = convert_extreme(greatest(m, box, ripple, close_in(root_of_square, ratio_closeness)), root_of_square);
    return r;
}

std::vector<HeightRange> find_heights_within_angle(const MountedModel& m, const TravelBox& box, JointEnd joint,
                                                   double limit) {
    const double level = -std::cos(limit);
    if (joint == JointEnd::tractor) {
        const auto q = over_poses(m.ends, [](const auto& s) { return tractor_of(s); });
        return heights_inside(m, box, q, level);
    }
    const auto q = over_poses(m.ends, [](const auto& s) { return implement_of(s); });
    return heights_inside(m, box, q, level);
}

std::vector<HeightRange> find_heights_longer_than(const MountedModel& m, const TravelBox& box, double shortest) {
    const auto q = over_poses(m.ends, [](const auto& s) { return -length_of(s); });
    return heights_inside(m, box, q, -shortest);
}

std::vector<HeightRange> find_heights_shorter_than(const MountedModel& m, const TravelBox& box, double longest) {
    const auto q = over_poses(m.ends, [](const auto& s) { return length_of(s); });
    return heights_inside(m, box, q, longest);
}

}  // namespace hitchwright
