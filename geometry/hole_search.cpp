#include "geometry/hole_search.h"

#include <algorithm>
#include <cmath>

#include "geometry/lift_ratio.h"
#include "geometry/mounted_extremes.h"
#include "geometry/shared_extremes.h"
#include "geometry/shared_inside.h"

namespace hitchwright {
namespace {

double to_angle(double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); }

TravelExtreme make_extreme(const BoundedExtreme<1>& e, const TravelBox& box) {
    return {e.value, e.bound, e.at[0], box.upper_lengths.low, 0.0, 0.0, e.evaluations, e.converged};
}
/// A least value of the negated quantity is a greatest one.
TravelExtreme negate(TravelExtreme e) {
    e.value = -e.value;
    e.bound = -e.bound;
    return e;
}
TravelExtreme make_angle(TravelExtreme e) {
    e.value = to_angle(e.value);
    e.bound = to_angle(e.bound);
    return e;
}

/// K functions of a pose as the searches want them: `evaluate(pose, asked)` gives an array of values or jets.
template <std::size_t K, class Evaluate>
struct PoseFunctions {
    const PlanarLinkage& linkage;
    double upper_length;
    Evaluate evaluate;

    PointValues<K> at_point(double height, const FunctionMarks<K>& asked) const {
        return evaluate(solve_jet_pose(linkage, IntervalJet<0>(height), IntervalJet<0>(upper_length)), asked);
    }
    PieceValues<K> over_piece(const Interval& heights, const FunctionMarks<K>& asked) const {
        using Jet = IntervalJet<0>;
        KernelPose<Interval> m{};
        const auto pose = solve_jet_pose(linkage, IntervalJet<1>::variable(heights, 0), IntervalJet<1>(upper_length), &m);
        const KernelPose<Jet> middle{{m.ball.x, m.ball.z}, {m.mast_arm.x, m.mast_arm.z}, m.cos_pitch, m.sin_pitch};
        return {evaluate(pose, asked), evaluate(middle, asked)};
    }
};
template <std::size_t K, class Evaluate>
PoseFunctions<K, Evaluate> make_pose_functions(const PlanarLinkage& linkage, double upper_length, Evaluate evaluate) {
    return {linkage, upper_length, evaluate};
}

constexpr std::size_t searched = 6;

}  // namespace

MotionExtremes find_motion_extremes(const MountedModel& m, const TravelBox& box, const Point& load, const MotionQuestions& wanted) {
    const auto evaluate = [&](const auto& pose, const FunctionMarks<searched>& asked) {
        using T = std::decay_t<decltype(pose.cos_pitch)>;
        std::array<T, searched> f{};
        if (asked[0] || asked[1] || asked[2] || asked[3]) {
            const ShaftState<T> s = find_shaft_state(m.ends, pose);
            f[0] = s.length;
            f[1] = -s.length;
            f[2] = s.cos_tractor_joint;
            f[3] = s.cos_implement_joint;
        }
        if (asked[4] || asked[5]) {
            f[4] = find_load_rise(m.linkage, pose, load);
            f[5] = -f[4];
        }
        return f;
    };
    const auto functions = make_pose_functions<searched>(m.linkage, box.upper_lengths.low, evaluate);
    const FunctionMarks<searched> asked{wanted.lengths, wanted.lengths, wanted.angles, wanted.angles, wanted.rise, wanted.rise};
    const auto close = [](std::size_t k, double value, double bound) {
        if (k == 2 || k == 3) return std::fabs(to_angle(value) - to_angle(bound)) <= angle_closeness;
        return std::fabs(value - bound) <= (k < 2 ? length_closeness : rise_closeness);
    };
    const auto found = find_minima_together<searched>(functions, Interval(box.heights.low, box.heights.high), close, asked);
    std::array<TravelExtreme, searched> e;
    int evaluations = 0;
    for (std::size_t k = 0; k < searched; ++k) {
        e[k] = make_extreme(found[k], box);
        evaluations = std::max(evaluations, e[k].evaluations);
    }
    return {e[0], negate(e[1]), make_angle(e[2]), make_angle(e[3]), e[4], negate(e[5]), evaluations};
}

bool is_height_alone(const TravelBox& box) { return box.planar() && box.upper_lengths.low == box.upper_lengths.high; }

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

std::array<std::vector<HeightRange>, 4> find_heights_inside_angles(const MountedModel& m, const TravelBox& box,
                                                                   const AngleLimits& angles,
                                                                   const AngleMarks& broken) {
    std::array<std::vector<HeightRange>, 4> inside;
    const bool any = std::any_of(broken.begin(), broken.end(), [](bool b) { return b; });
    const bool alone = is_height_alone(box);
    if (any && alone) {
        const auto evaluate = [&](const auto& pose, const FunctionMarks<4>&) {
            const auto s = find_shaft_state(m.ends, pose);
            const auto tractor = -s.cos_tractor_joint, implement = -s.cos_implement_joint;
            return std::array{tractor, implement, tractor, implement};
        };
        std::array<double, 4> levels{};
        for (std::size_t k = 0; k < 4; ++k) levels[k] = -std::cos(angles[k]);
        const auto functions = make_pose_functions<4>(m.linkage, box.upper_lengths.low, evaluate);
        inside = find_inside_together<4>(functions, levels, Interval(box.heights.low, box.heights.high), broken);
    }
    for (std::size_t k = 0; k < 4; ++k) {
        const JointEnd joint = k % 2 == 0 ? JointEnd::tractor : JointEnd::implement;
        if (!broken[k]) inside[k] = {box.heights};
        else if (!alone) inside[k] = find_heights_within_angle(m, box, joint, angles[k]);
    }
    return inside;
}

}  // namespace hitchwright
