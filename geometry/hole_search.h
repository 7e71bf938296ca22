// The bounded searches of the hole study: shaft length, joint angles and the load's rise over a travel and over parts of it, and
// the heights at which the joints keep their limits, all from the same panels (travel_panels.h) where the link is rigid.
#pragma once

#include <array>
#include <vector>

#include "geometry/lift_ratio.h"
#include "geometry/mounted_model.h"
#include "geometry/travel_panels.h"

namespace hitchwright {

/// What was found over one range of heights; lengths m, angles rad, greatest; rises dz_load/dz_ball.
struct MotionExtremes {
    TravelExtreme shortest, longest, tractor_angle, implement_angle, rise_least, rise_most;
    int evaluations = 0;
};

/// Shaft length, cosines of both joint angles and the load's rise of a pose; zeros for what is not looked for.
struct MotionQuantities {
    const MountedModel& model;
    Point load;                        ///< frame I, m
    bool shaft = false, rise = false;  ///< for the shaft model.has_shaft, for the rise has_bounded_rise

    template <class T>
    std::array<T, 4> operator()(const KernelPose<T>& pose) const {
        std::array<T, 4> q{};
        if (shaft) {
            const ShaftState<T> s = find_shaft_state(model.ends, pose);
            q[0] = s.length;
            q[1] = s.cos_tractor_joint;
            q[2] = s.cos_implement_joint;
        }
        if (rise) q[3] = find_load_rise(model.linkage, pose, load);
        return q;
    }
};

/// What is looked for over a range of heights.
struct MotionQuestions {
    bool longest = false, shortest = false, angles = false, rise = false;
};

/// Two limits (rad) for each joint, in the order tractor, implement, tractor, implement.
using AngleLimits = std::array<double, 4>;
using AngleMarks = std::array<bool, 4>;

/// The motion over the heights of `box` with the link at its lower length. Every pose closes.
class MotionSearch {
public:
    MotionSearch(const TravelBox& box, const MotionQuantities& quantities)
        : box_(box), quantities_(quantities), panels_(quantities.model.linkage, box, quantities_) {}
    MotionSearch(const MotionSearch&) = delete;
    MotionSearch& operator=(const MotionSearch&) = delete;

    /// Over heights of the box.
    MotionExtremes find_extremes(const HeightRange& heights, const MotionQuestions& wanted);

    /// Heights at which the joints keep the limits. Where a limit is not `broken` anywhere it is the whole travel and not
    /// looked for.
    std::array<std::vector<HeightRange>, 4> find_heights_inside(const AngleLimits& limits, const AngleMarks& broken);

private:
    TravelBox box_;
    MotionQuantities quantities_;
    TravelPanels<4, MotionQuantities> panels_;
};

/// Lengths and angles where more than the height moves: one search each.
MotionExtremes find_motion_extremes_in_box(const MountedModel& model, const TravelBox& box);

/// Heights inside the limits where more than the height moves, whatever slack, sway and tilt.
std::array<std::vector<HeightRange>, 4> find_heights_inside_in_box(const MountedModel& model, const TravelBox& box,
                                                                   const AngleLimits& limits, const AngleMarks& broken);

}  // namespace hitchwright
