// See pose_sweep.h.
#include "geometry/pose_sweep.h"

#include "geometry/pose_batch.h"

namespace hitchwright {
namespace {

PoseNumbers solve_alone(const Setup& setup, const MountedModel& model, double height) {
    const PoseReport r = make_pose_report(setup, model, height);
    if (!r.pose.closes) return {};
    return {true, r.pose.pitch, r.shaft_length, r.tractor_angle, r.implement_angle};
}

}  // namespace

std::vector<PoseNumbers> sweep_pose_numbers(const Setup& setup, const MountedModel& model, std::span<const double> heights) {
    const std::size_t n = heights.size();
    std::vector<PoseNumbers> numbers(n);
    if (model.float_kind != UpperLinkKind::rigid) {
        for (std::size_t i = 0; i < n; ++i) numbers[i] = solve_alone(setup, model, heights[i]);
        return numbers;
    }
    std::vector<double> columns(4 * n);
    const auto column = [&](std::size_t i) { return std::span(columns).subspan(i * n, n); };
    const PoseColumns out{column(0), column(1), column(2), column(3)};
    PlanarLinkage linkage = model.linkage;
    linkage.upper_length = effective_upper_lengths(model).low;
    solve_poses(linkage, model.ends, heights, out);
    for (std::size_t i = 0; i < n; ++i) {
        // On the very end of what closes the general kernel has the last word, both ways.
        if (!closes_at(linkage, heights[i])) continue;
        if (!(out.length[i] > 0.0)) numbers[i] = solve_alone(setup, model, heights[i]);
        else if (!model.has_shaft) numbers[i] = {true, out.pitch[i], 0.0, 0.0, 0.0};
        else numbers[i] = {true, out.pitch[i], out.length[i], out.tractor_angle[i], out.implement_angle[i]};
    }
    return numbers;
}

}  // namespace hitchwright
