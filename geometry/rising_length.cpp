#include "geometry/rising_length.h"

#include <vector>

#include "geometry/bounded_extreme.h"

namespace hitchwright {
namespace {

using Jet = IntervalJet<4>;

/// A box as small as this (m, rad) that is still open holds a place where the length stands still.
constexpr double finest_side = 1.0e-6;

/// dS/d(drawbar length) over a box.
Interval enclose_slope(const DrawnModel& m, const IntervalBox<4>& box) {
    std::array<Jet, 4> x;
    for (std::size_t i = 0; i < 4; ++i) x[i] = Jet::variable(box[i], i);
    const AttitudeKernel<Jet> turned = make_attitude_kernel(x[1], x[2], x[3]);
    const DrivelineEnds& e = m.driveline.ends;
    Vec3<Jet> joint = detail::lift<Jet>({m.pto_end_x, m.driveline.pin.y, m.driveline.pin.z}) + turned.turn(e.implement_joint);
    joint.x = joint.x + x[0];
    return find_shaft_state(e, PlacedInput<Jet>{joint, turned.turn(e.input_axis)}).length.d[0];
}

std::size_t find_longest_side(const IntervalBox<4>& box) {
    std::size_t longest = 0;
    for (std::size_t i = 1; i < 4; ++i) {
        if (box[i].width() > box[longest].width()) longest = i;
    }
    return longest;
}

}  // namespace

bool is_length_rising(const DrawnModel& m, const HeightRange& lengths, int& evaluations) {
    const AttitudeBox& b = m.box;
    std::vector<IntervalBox<4>> open{{Interval(lengths.low, lengths.high), Interval(b.yaw.low, b.yaw.high),
                                      Interval(b.pitch.low, b.pitch.high), Interval(b.roll.low, b.roll.high)}};
    int made = 0;
    bool refuted = false;
    while (!open.empty() && !refuted && made < evaluation_limit) {
        const IntervalBox<4> box = open.back();
        open.pop_back();
        ++made;
        const Interval slope = enclose_slope(m, box);
        if (slope.lo > 0.0) continue;
        const std::size_t side = find_longest_side(box);
        refuted = slope.hi <= 0.0 || box[side].width() < finest_side;
        open.push_back(box);
        open.back()[side].hi = box[side].middle();
        open.push_back(box);
        open.back()[side].lo = box[side].middle();
    }
    evaluations += made;
    return open.empty() && !refuted;
}

}  // namespace hitchwright
