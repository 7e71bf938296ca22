// See pose_batch.h.
#include "geometry/pose_batch.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/arc_sine.h"
#include "geometry/vector_clones.h"

namespace hitchwright {
namespace {

// Loops run over whole groups, so that no height is left over to be solved by other instructions with another rounding.
constexpr std::size_t group = 8;    // doubles in the widest registers
constexpr std::size_t block = 128;  // columns between the passes stay in the first-level cache

using Block = std::array<double, block>;

/// A driveline that lies in one plane along the tractor, as most do: its joint angles are turns in side view, and take no chords.
struct PlaneDriveline {
    bool given = false;
    double input_turn = 0.0;  ///< from the stub axis to the input axis at pitch 0, rad
};

PlaneDriveline find_plane(const DrivelineEnds& e) {
    const Vec3<double>&u = e.stub_axis, &w = e.input_axis;
    if (u.y != 0.0 || w.y != 0.0 || e.implement_joint.y != e.tractor_joint.y) return {};
    return {true, std::atan2(u.x * w.z - u.z * w.x, u.x * w.x + u.z * w.z)};
}

inline double find_turn(double cosine, double sine) {
    const double c = std::fabs(cosine), s = std::fabs(sine);
    const double least = s < c ? s : c, angle = find_arc_sine(least, least * least);
    const double acute = s < c ? angle : 0.5 * pi - angle;
    return std::copysign(cosine < 0.0 ? pi - acute : acute, sine);
}

inline double find_joint_angle(double signed_chord_squared) {
    const double squared = std::fabs(signed_chord_squared);
    const double acute = find_chord_angle(std::sqrt(squared), squared);
    return std::copysign(1.0, signed_chord_squared) < 0.0 ? pi - acute : acute;  // folded back onto its axis it is -0
}

/// Of the shaft from the stub axis, in their plane; `scale` is one over the shaft's length.
inline double find_shaft_turn(const DrivelineEnds& e, double x, double z, double scale) {
    const Vec3<double>& u = e.stub_axis;
    return find_turn((u.x * x + u.z * z) * scale, (u.x * z - u.z * x) * scale);
}

/// The angle between two directions in a plane, of which one is turned from the other by at most three half turns.
inline double fold_turn(double turn) {
    const double size = std::fabs(turn);
    return size > pi ? std::fabs(2.0 * pi - size) : size;
}

/// `groups` whole groups of heights, at most a block. Passes are short so that the processor works on several groups at
/// once, and one that waits for roots and divisions has one beside it that multiplies; each column a pass needs again is kept.
HITCHWRIGHT_VECTOR_CLONES
void solve_block(const PoseConstants& constants, PlaneDriveline plane, std::size_t groups, const double* __restrict heights,
                 double* __restrict pitch, double* __restrict length, double* __restrict tractor_angle,
                 double* __restrict implement_angle) {
    const PoseConstants k = constants;
    const std::size_t count = groups * group;
    Block ball_x, cosine, sine, closes, x, z, scale, tractor, implement;
    for (std::size_t i = 0; i < count; ++i) ball_x[i] = detail::find_ball_x(k, heights[i]);
    for (std::size_t i = 0; i < count; ++i) {
        const detail::ImplementTurn turn = detail::turn_implement(k, ball_x[i], heights[i]);
        cosine[i] = turn.cosine, sine[i] = turn.sine;
        closes[i] = turn.closes ? 1.0 : 0.0;
    }
    for (std::size_t i = 0; i < count; ++i) {
        pitch[i] = find_turn(cosine[i], sine[i]);
        const detail::ShaftReach to = detail::reach_shaft(k.ends, ball_x[i], heights[i], cosine[i], sine[i]);
        const double reach = std::sqrt(to.squared), inverse = 1.0 / to.squared;  // side by side, not one after the other
        const bool given = closes[i] * to.squared >= least_shaft_length * least_shaft_length;
        length[i] = given ? reach : 0.0;
        x[i] = given ? to.x : 0.0, z[i] = given ? to.z : 0.0;
        scale[i] = given ? reach * inverse : 0.0;
    }
    if (plane.given) {
        for (std::size_t i = 0; i < count; ++i) tractor[i] = find_shaft_turn(k.ends, x[i], z[i], scale[i]);
        for (std::size_t i = 0; i < count; ++i) {
            const bool given = scale[i] > 0.0;
            const double first = std::fabs(tractor[i]), second = fold_turn(tractor[i] - pitch[i] - plane.input_turn);
            tractor_angle[i] = given ? first : 0.0, implement_angle[i] = given ? second : 0.0;
        }
        return;
    }
    for (std::size_t i = 0; i < count; ++i) {
        const detail::JointChords chords = detail::find_joint_chords(k.ends, x[i], z[i], scale[i], cosine[i], sine[i]);
        tractor[i] = chords.tractor, implement[i] = chords.implement;
    }
    for (std::size_t i = 0; i < count; ++i) tractor_angle[i] = (scale[i] > 0.0 ? 1.0 : 0.0) * find_joint_angle(tractor[i]);
    for (std::size_t i = 0; i < count; ++i) implement_angle[i] = (scale[i] > 0.0 ? 1.0 : 0.0) * find_joint_angle(implement[i]);
}

/// What is left over of the last group is solved in a group of its own, filled up with its last height.
void solve_rest(const PoseConstants& k, PlaneDriveline plane, std::span<const double> heights, const PoseColumns& out, std::size_t from) {
    std::array<double, group> filled, pitch, length, tractor_angle, implement_angle;
    filled.fill(heights.back());
    std::copy(heights.begin(), heights.end(), filled.begin());
    solve_block(k, plane, 1, filled.data(), pitch.data(), length.data(), tractor_angle.data(), implement_angle.data());
    const auto copy = [&](const std::array<double, group>& column, std::span<double> to) {
        std::copy_n(column.begin(), heights.size(), to.subspan(from).begin());
    };
    copy(pitch, out.pitch), copy(length, out.length);
    copy(tractor_angle, out.tractor_angle), copy(implement_angle, out.implement_angle);
}

void solve_plain(const PoseConstants& k, std::span<const double> heights, const PoseColumns& out) {
    const PlaneDriveline plane = find_plane(k.ends);
    const std::size_t whole = heights.size() / group * group;
    for (std::size_t i = 0; i < whole; i += block) {
        solve_block(k, plane, std::min(block, whole - i) / group, heights.data() + i, out.pitch.data() + i, out.length.data() + i,
                    out.tractor_angle.data() + i, out.implement_angle.data() + i);
    }
    if (whole < heights.size()) solve_rest(k, plane, heights.subspan(whole), out, whole);
}

void solve_wide_angle(const PoseConstants& k, std::span<const double> heights, const PoseColumns& out) {
    for (std::size_t i = 0; i < heights.size(); ++i) {
        const PoseNumbers n = solve_pose_numbers(k, heights[i]);
        out.pitch[i] = n.pitch, out.length[i] = n.length;
        out.tractor_angle[i] = n.tractor_angle, out.implement_angle[i] = n.implement_angle;
    }
}

HITCHWRIGHT_VECTOR_CLONES
std::size_t count_shafts(std::size_t poses, const double* length) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < poses; ++i) count += length[i] > 0.0 ? 1 : 0;
    return count;
}

}  // namespace

std::size_t solve_poses(const PlanarLinkage& linkage, const DrivelineEnds& ends, std::span<const double> heights,
                        const PoseColumns& out) {
    const std::size_t n = heights.size();
    assert(out.pitch.size() == n && out.length.size() == n && out.tractor_angle.size() == n && out.implement_angle.size() == n);
    const PoseConstants k = make_pose_constants(linkage, ends);
    if (ends.wide_angle == WideAngleEnd::none) solve_plain(k, heights, out);
    else solve_wide_angle(k, heights, out);
    return count_shafts(n, out.length.data());
}

}  // namespace hitchwright
