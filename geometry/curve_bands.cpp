#include "geometry/curve_bands.h"

#include <algorithm>

#include "geometry/carried_bands.h"
#include "geometry/pose_sweep.h"
#include "geometry/telescoping.h"

namespace hitchwright {
namespace {

constexpr int steps = 16;

using Numbers = std::span<std::optional<double>>;

void set_numbers(const MountedModel& m, const PoseNumbers& pose, Numbers out) {
    const auto set = [&](CurveNumber number, double value) { out[static_cast<std::size_t>(number)] = value; };
    if (!pose.closes) return;
    set(CurveNumber::pitch, pose.pitch);
    if (!m.has_shaft) return;
    set(CurveNumber::shaft_length, pose.length);
    set(CurveNumber::tractor_joint, pose.tractor_angle);
    set(CurveNumber::implement_joint, pose.implement_angle);
    if (!m.has_halves) return;
    set(CurveNumber::gap, find_gap(m.halves, pose.length));
    set(CurveNumber::overlap, find_overlap(m.halves, pose.length));
}

}  // namespace

std::optional<ErrorBand> CurveBands::find(double height, CurveNumber number) const {
    if (heights.empty() || height < heights.front() || height > heights.back()) return std::nullopt;
    const auto above = std::lower_bound(heights.begin(), heights.end(), height);
    const auto high = static_cast<std::size_t>(above - heights.begin()), low = high == 0 ? 0 : high - 1;
    const ErrorBand &a = of(low, number), &b = of(high, number);
    if (!(a.width > 0.0) || !(b.width > 0.0)) return std::nullopt;
    const double span = heights[high] - heights[low], share = span > 0.0 ? (height - heights[low]) / span : 1.0;
    const auto between = [share](double from, double to) { return from + share * (to - from); };
    ErrorBand band;
    band.method = std::max(a.method, b.method);
    band.width = between(a.width, b.width);
    band.below = between(a.below, b.below);
    band.above = between(a.above, b.above);
    return band;
}

CurveBands find_curve_bands(const Setup& setup, const Analysis& analysis, std::vector<double> heights) {
    CurveBands bands;
    if (!analysis.linkage || heights.empty()) return bands;
    const std::optional<FittedSetup> fitted = analysis.fit && analysis.fit->used ? fit_model(setup) : std::nullopt;
    const ErrorModel errors(fitted ? fitted->setup : setup, fitted ? fitted->fit.narrowing : ErrorNarrowing{}, BandEffort::second_order);
    const MountedModel& model = analysis.linkage->model;
    const Propagation p = propagate_model(errors, model.pin_decision, heights.size() * curve_numbers, [&](const MovedSetup& moved, const MountedModel& now, Numbers out) {
        const std::size_t first = moved.first() / curve_numbers, count = moved.count(heights.size());
        const std::vector<PoseNumbers> poses = sweep_pose_numbers(moved.setup, now, std::span<const double>(heights).subspan(first, count));
        for (std::size_t i = 0; i < count; ++i) set_numbers(now, poses[i], out.subspan((first + i) * curve_numbers, curve_numbers));
    }, reads_model_and(errors, model, {}));
    bands.at.resize(heights.size());
    for (std::size_t i = 0; i < heights.size() * curve_numbers; ++i) {
        // A number that a reading's error makes impossible has no band.
        if (!p.lost_by[i]) bands.at[i / curve_numbers][i % curve_numbers] = p.bands[i];
    }
    bands.heights = std::move(heights);
    return bands;
}

CurveBands find_curve_bands(const Setup& setup, const Analysis& analysis) {
    if (!analysis.linkage) return {};
    const HeightRange& t = analysis.linkage->model.travel;
    std::vector<double> heights;
    for (int i = 0; i <= steps; ++i) heights.push_back(i == steps ? t.high : t.low + (t.high - t.low) * i / steps);
    return find_curve_bands(setup, analysis, std::move(heights));
}

}  // namespace hitchwright
