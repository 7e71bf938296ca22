// See machine_sample.h.
#include "geometry/machine_sample.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cassert>
#include <cmath>
#include <exception>
#include <limits>
#include <vector>

#include "geometry/angle.h"
#include "geometry/pose_numbers.h"
#include "geometry/vector_clones.h"
#include "geometry/work_thread.h"

namespace hitchwright {
namespace {

constexpr std::size_t group = 8;    // doubles in the widest registers
constexpr std::size_t block = 256;  // columns between the passes stay in the first-level cache
constexpr std::size_t share = 64;   // machines a thread takes at a time

using Block = std::array<double, block>;
using Group = std::array<double, group>;

/// 0, 1, 2, ...: read sooner than converted from a counter.
constexpr Block ordinals = [] {
    Block b{};
    for (std::size_t i = 0; i < block; ++i) b[i] = static_cast<double>(i);
    return b;
}();

/// Extremes so far, every place of a group for itself.
struct GroupExtremes {
    Group least, greatest;     ///< squared lengths
    Group tractor, implement;  ///< least cos |cos|
    Group shafts;

    GroupExtremes() {
        least.fill(std::numeric_limits<double>::infinity());
        greatest.fill(0.0), shafts.fill(0.0);
        tractor.fill(1.0), implement.fill(1.0);
    }
};

/// Poses of one machine at even steps of height.
struct Steps {
    HeightRange travel;
    std::size_t count;
};

/// The shaft's squared length, and cos |cos| of both joint angles: it falls as the angle rises.
struct JointCosines {
    double squared, tractor, implement;
};

inline JointCosines find_joint_cosines(const DrivelineEnds& e, double ball_x, double h, double c, double s) {
    const detail::ShaftReach to = detail::reach_shaft(e, ball_x, h, c, s);
    const Vec3<double>&u = e.stub_axis, &w = e.input_axis;
    const double y = e.implement_joint.y - e.tractor_joint.y, inverse = 1.0 / to.squared;
    const double along_stub = u.x * to.x + u.y * y + u.z * to.z;
    const double along_input = (c * w.x - s * w.z) * to.x + w.y * y + (s * w.x + c * w.z) * to.z;
    return {to.squared, along_stub * std::fabs(along_stub) * inverse, along_input * std::fabs(along_input) * inverse};
}

/// The poses from `first` on, `groups` whole groups of them; those beyond the last are no poses, and neither are those that do
/// not close: they are given numbers that change no extreme.
HITCHWRIGHT_VECTOR_CLONES
void sweep_block(const PoseConstants& constants, const Steps& steps, std::size_t first, std::size_t groups, GroupExtremes& e) {
    const PoseConstants k = constants;
    const std::size_t count = groups * group;
    const double low = steps.travel.low, high = steps.travel.high, last = static_cast<double>(steps.count - 1);
    const double step = (high - low) / last, start = static_cast<double>(first);
    Block height, ball_x, cosine, sine, shaft, least, greatest, tractor, implement;
    for (std::size_t i = 0; i < count; ++i) {
        const double place = start + ordinals[i];
        height[i] = place < last ? low + step * place : high;
        shaft[i] = place <= last ? 1.0 : 0.0;
        ball_x[i] = detail::find_ball_x(k, height[i]);
    }
    for (std::size_t i = 0; i < count; ++i) {
        const detail::ImplementTurn turn = detail::turn_implement(k, ball_x[i], height[i]);
        cosine[i] = turn.cosine, sine[i] = turn.sine;
        shaft[i] *= turn.closes ? 1.0 : 0.0;
    }
    for (std::size_t i = 0; i < count; ++i) {
        const JointCosines found = find_joint_cosines(k.ends, ball_x[i], height[i], cosine[i], sine[i]);
        // An angle that is not a number is no shaft's: comparisons would pass over it as if the joint were straight.
        const bool angles = found.tractor - found.tractor == 0.0 && found.implement - found.implement == 0.0;
        const bool there = shaft[i] * found.squared >= least_shaft_length * least_shaft_length && angles;
        least[i] = there ? found.squared : std::numeric_limits<double>::infinity();
        greatest[i] = there ? found.squared : 0.0;
        tractor[i] = there ? found.tractor : 1.0;
        implement[i] = there ? found.implement : 1.0;
        shaft[i] = there ? 1.0 : 0.0;
    }
    for (std::size_t i = 0; i < count; i += group) {
// Unrolled it would be taken apart into single numbers.
#pragma GCC unroll 1
        for (std::size_t j = 0; j < group; ++j) {
            e.least[j] = std::min(e.least[j], least[i + j]);
            e.greatest[j] = std::max(e.greatest[j], greatest[i + j]);
            e.tractor[j] = std::min(e.tractor[j], tractor[i + j]);
            e.implement[j] = std::min(e.implement[j], implement[i + j]);
            e.shafts[j] += shaft[i + j];
        }
    }
}

double find_angle(double signed_squared) {
    const double cosine = std::copysign(std::sqrt(std::fabs(signed_squared)), signed_squared);
    return std::acos(std::max(cosine, -1.0));  // never above 1, where the comparison starts
}

SweepExtremes gather(const GroupExtremes& e) {
    double shafts = 0.0;
    for (const double s : e.shafts) shafts += s;
    if (shafts == 0.0) return {};
    return {std::sqrt(*std::min_element(e.least.begin(), e.least.end())),
            std::sqrt(*std::max_element(e.greatest.begin(), e.greatest.end())),
            find_angle(*std::min_element(e.tractor.begin(), e.tractor.end())),
            find_angle(*std::min_element(e.implement.begin(), e.implement.end())), static_cast<std::size_t>(shafts)};
}

SweepExtremes sweep_plain(const PoseConstants& k, const Steps& steps) {
    GroupExtremes e;
    for (std::size_t first = 0; first < steps.count; first += block) {
        const std::size_t left = std::min(block, steps.count - first);
        sweep_block(k, steps, first, (left + group - 1) / group, e);
    }
    return gather(e);
}

SweepExtremes sweep_wide_angle(const PoseConstants& k, const Steps& steps) {
    const auto [travel, count] = steps;
    SweepExtremes e;
    e.least_length = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < count; ++i) {
        const double share_of_travel = static_cast<double>(i) / static_cast<double>(count - 1);
        const PoseNumbers n = solve_pose_numbers(k, i + 1 == count ? travel.high : travel.low + (travel.high - travel.low) * share_of_travel);
        if (!(n.length > 0.0 && n.tractor_angle <= pi && n.implement_angle <= pi)) continue;  // nor what is not a number
        ++e.shafts;
        e.least_length = std::min(e.least_length, n.length);
        e.greatest_length = std::max(e.greatest_length, n.length);
        e.greatest_tractor_angle = std::max(e.greatest_tractor_angle, n.tractor_angle);
        e.greatest_implement_angle = std::max(e.greatest_implement_angle, n.implement_angle);
    }
    return e.shafts > 0 ? e : SweepExtremes{};
}

SweepExtremes sweep_machine(const SampledMachine& m, std::size_t poses) {
    const PoseConstants k = make_pose_constants(m.linkage, m.ends);
    const Steps steps{m.travel, poses};
    return m.ends.wide_angle == WideAngleEnd::none ? sweep_plain(k, steps) : sweep_wide_angle(k, steps);
}

}  // namespace

void sweep_machines(std::span<const SampledMachine> machines, std::size_t poses, std::size_t threads, std::span<SweepExtremes> out) {
    assert(poses >= 2 && threads >= 1 && out.size() == machines.size());
    std::atomic<std::size_t> next = 0;
    // Every machine by itself, whoever takes it: nothing is added up across machines.
    const auto work = [&] {
        for (std::size_t first = next.fetch_add(share); first < machines.size(); first = next.fetch_add(share)) {
            const std::size_t end = std::min(first + share, machines.size());
            for (std::size_t i = first; i < end; ++i) out[i] = sweep_machine(machines[i], poses);
        }
    };
    std::vector<WorkThread> others;
    try {
        others.reserve(threads - 1);
        while (others.size() + 1 < threads) others.emplace_back(work);
    } catch (const std::exception&) {
        // No more to be had, or no room to note them: fewer give the same answer.
    }
    work();
    others.clear();  // joined
}

}  // namespace hitchwright
