#include "geometry/mounted_extremes.h"

#include <algorithm>
#include <cmath>

#include "geometry/space_search.h"
#include "geometry/travel_panels.h"

namespace hitchwright {
namespace {

/// What is searched of the driveline: length, negated cosines of both joint angles, squared non-uniformity.
enum ShaftQuantity : std::size_t { length, tractor_joint, implement_joint, ripple };

/// All of them at a pose in the side plane.
struct ShaftQuantities {
    const DrivelineEnds& ends;
    bool with_ripple = false;

    template <class T>
    std::array<T, 4> operator()(const KernelPose<T>& pose) const {
        const ShaftState<T> s = find_shaft_state(ends, pose);
        return {s.length, -s.cos_tractor_joint, -s.cos_implement_joint,
                with_ripple ? find_non_uniformity_squared(ends, s) : T(0.0)};
    }
};

/// Searches where nothing but the height moves.
class ShaftOverHeights {
public:
    ShaftOverHeights(const MountedModel& m, const TravelBox& box, bool with_ripple)
        : heights_(box.heights), quantities_{m.ends, with_ripple}, panels_(m.linkage, box, quantities_) {}
    ShaftOverHeights(const ShaftOverHeights&) = delete;
    ShaftOverHeights& operator=(const ShaftOverHeights&) = delete;

    template <class Close>
    TravelExtreme find_least(ShaftQuantity q, const Close& close) { return panels_.find_least(q, heights_, close); }
    template <class Close>
    TravelExtreme find_greatest(ShaftQuantity q, const Close& close) { return panels_.find_greatest(q, heights_, close); }
    std::vector<HeightRange> find_not_above(ShaftQuantity q, double limit) { return panels_.find_not_above(q, limit); }
    std::vector<HeightRange> find_not_below(ShaftQuantity q, double limit) { return panels_.find_not_below(q, limit); }

private:
    HeightRange heights_;
    ShaftQuantities quantities_;
    TravelPanels<4, ShaftQuantities> panels_;
};

/// Searches with slack, or in space: in the plane two variables less, the same answer sooner.
class ShaftOverBox {
    template <class Search>
    auto choose(ShaftQuantity q, const Search& search) const {
        switch (q) {
            case length: return place(search, [](const auto& s) { return s.length; });
            case tractor_joint: return place(search, [](const auto& s) { return -s.cos_tractor_joint; });
            case implement_joint: return place(search, [](const auto& s) { return -s.cos_implement_joint; });
            case ripple: break;
        }
        return place(search, [this](const auto& s) { return find_non_uniformity_squared(m_.ends, s); });
    }
    template <class Search, class Q>
    auto place(const Search& search, const Q& q) const {
        const auto f = [&](const auto& pose) { return q(find_shaft_state(m_.ends, pose)); };
        return box_.planar() ? search(m_.linkage, f) : search(m_.space.linkage, f);
    }

    const MountedModel& m_;
    const TravelBox& box_;

public:
    ShaftOverBox(const MountedModel& m, const TravelBox& box) : m_(m), box_(box) {}

    template <class Close>
    TravelExtreme find_least(ShaftQuantity q, const Close& close) {
        return choose(q, [&](const auto& linkage, const auto& f) { return hitchwright::find_least(linkage, box_, f, close); });
    }
    template <class Close>
    TravelExtreme find_greatest(ShaftQuantity q, const Close& close) {
        return choose(q, [&](const auto& linkage, const auto& f) { return hitchwright::find_greatest(linkage, box_, f, close); });
    }
    std::vector<HeightRange> find_not_above(ShaftQuantity q, double limit) {
        return choose(q, [&](const auto& linkage, const auto& f) { return find_heights_inside(linkage, box_, f, limit); });
    }
    std::vector<HeightRange> find_not_below(ShaftQuantity q, double limit) {
        return choose(q, [&](const auto& linkage, const auto& f) {
            return find_heights_inside(linkage, box_, [&f](const auto& pose) { return -f(pose); }, -limit);
        });
    }
};

/// `ask(shaft)` with the search that fits the box.
template <class Ask>
auto search_shaft(const MountedModel& m, const TravelBox& box, bool with_ripple, const Ask& ask) {
    if (is_height_alone(box)) {
        ShaftOverHeights shaft(m, box, with_ripple);
        return ask(shaft);
    }
    ShaftOverBox shaft(m, box);
    return ask(shaft);
}

template <class Shaft>
LengthExtremes find_lengths(Shaft& shaft) {
    const PlainCloseness close{length_closeness};
    return {shaft.find_least(length, close), shaft.find_greatest(length, close)};
}
template <class Shaft>
AngleExtremes find_angles(Shaft& shaft) {
    const auto close = close_in(angle_from_negated_cosine, angle_closeness);
    return {convert_extreme(shaft.find_greatest(tractor_joint, close), angle_from_negated_cosine),
            convert_extreme(shaft.find_greatest(implement_joint, close), angle_from_negated_cosine)};
}
template <class Shaft>
ShaftExtremes find_all(const DrivelineEnds& ends, Shaft& shaft) {
    const LengthExtremes lengths = find_lengths(shaft);
    const AngleExtremes angles = find_angles(shaft);
    ShaftExtremes r;
    r.shortest = lengths.shortest;
    r.longest = lengths.longest;
    r.tractor_angle = angles.tractor;
    r.implement_angle = angles.implement;
    r.turns = angles.tractor.bound < no_turning && angles.implement.bound < no_turning;
    if (!r.turns) return r;
    const auto close = close_in(root_of_square, ratio_closeness);
    r.non_uniformity = convert_extreme(shaft.find_greatest(ripple, close), root_of_square);
    // Near a dead centre the search may end without a bound of its own.
    bound_by_joints(ends, angles.tractor.bound, angles.implement.bound, 0.0, r.non_uniformity);
    return r;
}

double find_pitch_from(double half_tangent) { return 2.0 * std::atan(half_tangent); }

/// tan(pitch / 2) of a pose.
struct HalfTangent {
    template <class T>
    std::array<T, 1> operator()(const KernelPose<T>& pose) const { return {pose.sin_pitch / (pose.cos_pitch + 1.0)}; }
};

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
    const auto close = close_in(find_pitch_from, angle_closeness);
    const HalfTangent half_tangent;
    if (box.upper_lengths.low == box.upper_lengths.high) {
        TravelPanels<1, HalfTangent> panels(m.linkage, box, half_tangent);
        const TravelExtreme least = panels.find_least(0, box.heights, close);
        return {convert_extreme(least, find_pitch_from),
                convert_extreme(panels.find_greatest(0, box.heights, close), find_pitch_from)};
    }
    const auto q = [&](const auto& pose) { return half_tangent(pose)[0]; };
    return {convert_extreme(find_least(m.linkage, box, q, close), find_pitch_from),
            convert_extreme(find_greatest(m.linkage, box, q, close), find_pitch_from)};
}

LengthExtremes find_length_extremes(const MountedModel& m, const TravelBox& box) {
    return search_shaft(m, box, false, [](auto& shaft) { return find_lengths(shaft); });
}

AngleExtremes find_angle_extremes(const MountedModel& m, const TravelBox& box) {
    return search_shaft(m, box, false, [](auto& shaft) { return find_angles(shaft); });
}

ShaftExtremes find_shaft_extremes(const MountedModel& m, const TravelBox& box) {
    return search_shaft(m, box, true, [&m](auto& shaft) { return find_all(m.ends, shaft); });
}

std::vector<HeightRange> find_heights_within_angle(const MountedModel& m, const TravelBox& box, JointEnd joint,
                                                   double limit) {
    const ShaftQuantity q = joint == JointEnd::tractor ? tractor_joint : implement_joint;
    return search_shaft(m, box, false, [&](auto& shaft) { return shaft.find_not_above(q, -std::cos(limit)); });
}

std::vector<HeightRange> find_heights_longer_than(const MountedModel& m, const TravelBox& box, double shortest) {
    return search_shaft(m, box, false, [&](auto& shaft) { return shaft.find_not_below(length, shortest); });
}

std::vector<HeightRange> find_heights_shorter_than(const MountedModel& m, const TravelBox& box, double longest) {
    return search_shaft(m, box, false, [&](auto& shaft) { return shaft.find_not_above(length, longest); });
}

}  // namespace hitchwright
