#include "geometry/hole_search.h"

#include <algorithm>
#include <cmath>

#include "geometry/mounted_extremes.h"

namespace hitchwright {
namespace {

double to_angle(double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); }

}  // namespace

MotionExtremes MotionSearch::find_extremes(const HeightRange& heights, const MotionQuestions& wanted) {
    MotionExtremes r;
    const auto count = [&r](const TravelExtreme& e) {
        r.evaluations += e.evaluations;
        return e;
    };
    const PlainCloseness length{length_closeness}, rise{rise_closeness};
    const auto angle = close_in(to_angle, angle_closeness);
    if (wanted.shortest) r.shortest = count(panels_.find_least(0, heights, length));
    if (wanted.longest) r.longest = count(panels_.find_greatest(0, heights, length));
    if (wanted.angles) {
        // A least cosine is a greatest angle.
        r.tractor_angle = convert_extreme(count(panels_.find_least(1, heights, angle)), to_angle);
        r.implement_angle = convert_extreme(count(panels_.find_least(2, heights, angle)), to_angle);
    }
    if (wanted.rise) {
        r.rise_least = count(panels_.find_least(3, heights, rise));
        r.rise_most = count(panels_.find_greatest(3, heights, rise));
    }
    return r;
}

std::array<std::vector<HeightRange>, 4> MotionSearch::find_heights_inside(const AngleLimits& limits, const AngleMarks& broken) {
    std::array<std::vector<HeightRange>, 4> inside;
    for (std::size_t k = 0; k < 4; ++k) {
        if (!broken[k]) inside[k] = {box_.heights};
        else inside[k] = panels_.find_not_below(1 + k % 2, std::cos(limits[k]));
    }
    return inside;
}

MotionExtremes find_motion_extremes_in_box(const MountedModel& m, const TravelBox& box) {
    const LengthExtremes length = find_length_extremes(m, box);
    const AngleExtremes angle = find_angle_extremes(m, box);
    MotionExtremes r;
    r.shortest = length.shortest;
    r.longest = length.longest;
    r.tractor_angle = angle.tractor;
    r.implement_angle = angle.implement;
    r.evaluations = length.shortest.evaluations + length.longest.evaluations + angle.tractor.evaluations +
                    angle.implement.evaluations;
    return r;
}

std::array<std::vector<HeightRange>, 4> find_heights_inside_in_box(const MountedModel& m, const TravelBox& box,
                                                                   const AngleLimits& limits, const AngleMarks& broken) {
    std::array<std::vector<HeightRange>, 4> inside;
    for (std::size_t k = 0; k < 4; ++k) {
        const JointEnd joint = k % 2 == 0 ? JointEnd::tractor : JointEnd::implement;
        if (!broken[k]) inside[k] = {box.heights};
        else inside[k] = find_heights_within_angle(m, box, joint, limits[k]);
    }
    return inside;
}

}  // namespace hitchwright
