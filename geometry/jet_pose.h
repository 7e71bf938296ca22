// The pose kernel over interval jets, sharper than its formulas evaluated with jets throughout.
//
// The kernel divides by d^2 and takes a root, so that intervals carried through it forget that everything depends on
// the same ball height: bounds of the slope come out ten times too wide. Here the box gets its natural enclosure, and the
// slopes follow from the closed loop itself. With W = mast arm, L = H + W - U (along the upper link), perp(W) = (-W_z, W_x):
//   L . (H' + p' perp(W)) = e e'   =>   dp/dh = -L . (-tan(theta), 1) / (L . perp(W)),   dp/de = e / (L . perp(W))
// They sharpen the values by the mean-value form about the middle of the box, and the values sharpen the slopes once more.
// The values are the kernel's (planar_linkage.h); L . perp(W) = 0 is the dead centre, where slopes are not bounded.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "geometry/interval_jet.h"
#include "geometry/planar_linkage.h"

namespace hitchwright {

namespace detail {

/// Slopes of a pose over a box: of the ball's x with its height, of the pitch with height and upper-link length.
struct PoseSlopes {
    Interval ball_x_by_height, pitch_by_height, pitch_by_length;
};

/// `with_length`: the slope with the upper link's length is wanted too.
inline PoseSlopes find_pose_slopes(const PlanarLinkage& k, const KernelPose<Interval>& pose, const Interval& length,
                                   bool with_length) {
    const Interval tangent = (pose.ball.z - k.lower_pivot.y()) / (pose.ball.x - k.lower_pivot.x());
    const Vec2<Interval> link{pose.ball.x + pose.mast_arm.x - k.upper_pin.x(), pose.ball.z + pose.mast_arm.z - k.upper_pin.y()};
    const Interval lever = link.z * pose.mast_arm.x - link.x * pose.mast_arm.z;
    return {-tangent, (link.x * tangent - link.z) / lever, with_length ? length / lever : Interval()};
}

/// The part of `known` inside `found`; `known` when rounding leaves none.
inline Interval narrow(const Interval& known, const Interval& found) {
    const Interval both(std::max(known.lo, found.lo), std::min(known.hi, found.hi));
    return both.lo <= both.hi ? both : known;
}

/// Slope times distance from the middle; nothing where there is no distance, also when the slope is not bounded.
inline Interval step(const Interval& slope, const Interval& side) {
    return side.lo == side.hi ? Interval(0.0) : slope * (side - Interval(side.middle()));
}

/// Sharpens an enclosure over a box by the mean-value form about the pose at the box's middle.
inline void sharpen(KernelPose<Interval>& box, const KernelPose<Interval>& middle, const PoseSlopes& slopes,
                    const Interval& height, const Interval& length) {
    const Interval turn = step(slopes.pitch_by_height, height) + step(slopes.pitch_by_length, length);
    box.ball.x = narrow(box.ball.x, middle.ball.x + step(slopes.ball_x_by_height, height));
    const KernelPose<Interval> before = box;
    box.mast_arm.x = narrow(box.mast_arm.x, middle.mast_arm.x - before.mast_arm.z * turn);
    box.mast_arm.z = narrow(box.mast_arm.z, middle.mast_arm.z + before.mast_arm.x * turn);
    box.cos_pitch = narrow(box.cos_pitch, middle.cos_pitch - before.sin_pitch * turn);
    box.sin_pitch = narrow(box.sin_pitch, middle.sin_pitch + before.cos_pitch * turn);
}

template <std::size_t N>
IntervalJet<N> make_jet(const Interval& value, const Interval& slope, const std::array<Interval, N>& by) {
    IntervalJet<N> jet(value);
    for (std::size_t i = 0; i < N; ++i) jet.d[i] = slope * by[i];
    return jet;
}

}  // namespace detail

/// Enclosure of the poses over h and e with their slopes. Only for heights that close throughout.
template <std::size_t N>
KernelPose<IntervalJet<N>> solve_jet_pose(const PlanarLinkage& k, const IntervalJet<N>& h, const IntervalJet<N>& e) {
    KernelPose<Interval> box = solve_kernel<Interval>(k, h.v, e.v);
    if constexpr (N == 0) {
        return {{box.ball.x, box.ball.z}, {box.mast_arm.x, box.mast_arm.z}, box.cos_pitch, box.sin_pitch};
    }
    const bool point = h.v.lo == h.v.hi && e.v.lo == e.v.hi;
    const KernelPose<Interval> middle =
        point ? box : solve_kernel<Interval>(k, Interval(h.v.middle()), Interval(e.v.middle()));
    // A length that is one number and moves with nothing has no slope to bound.
    const bool with_length = e.v.lo != e.v.hi || e.d != std::array<Interval, N>{};
    // Turning keeps lengths: bounds that hold whatever the intervals have lost.
    const double reach = outward::above(k.mast_pin.norm());
    for (Interval* side : {&box.mast_arm.x, &box.mast_arm.z}) *side = detail::narrow(*side, Interval(-reach, reach));
    for (Interval* side : {&box.cos_pitch, &box.sin_pitch}) *side = detail::narrow(*side, Interval(-1.0, 1.0));
    detail::PoseSlopes slopes = detail::find_pose_slopes(k, box, e.v, with_length);
    if (!point) {
        detail::sharpen(box, middle, slopes, h.v, e.v);
        slopes = detail::find_pose_slopes(k, box, e.v, with_length);
        detail::sharpen(box, middle, slopes, h.v, e.v);
        slopes = detail::find_pose_slopes(k, box, e.v, with_length);
    }
    std::array<Interval, N> turn;
    for (std::size_t i = 0; i < N; ++i) {
        turn[i] = h.d[i] == Interval() ? Interval() : slopes.pitch_by_height * h.d[i];
        if (e.d[i] != Interval()) turn[i] = turn[i] + slopes.pitch_by_length * e.d[i];
    }
    // The ball's height is the height asked for: its slope is 1.
    return {{detail::make_jet<N>(box.ball.x, slopes.ball_x_by_height, h.d), detail::make_jet<N>(box.ball.z, Interval(1.0), h.d)},
            {detail::make_jet<N>(box.mast_arm.x, -box.mast_arm.z, turn), detail::make_jet<N>(box.mast_arm.z, box.mast_arm.x, turn)},
            detail::make_jet<N>(box.cos_pitch, -box.sin_pitch, turn),
            detail::make_jet<N>(box.sin_pitch, box.cos_pitch, turn)};
}

}  // namespace hitchwright
