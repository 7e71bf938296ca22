// Times of a pose (pitch, shaft length, both joint angles) alone and in columns. "per pose" is what counts.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <random>
#include <vector>

#include "geometry/machine_sample.h"
#include "geometry/mounted_model.h"
#include "geometry/pose_batch.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

MountedModel make_model() {
    Setup s = make_setup_a();
    s.driveline.closed_length = known(0.760);
    return make_mounted_model(s).model;
}

std::vector<double> list_heights(const MountedModel& m, std::size_t count) {
    std::vector<double> heights;
    for (std::size_t i = 0; i < count; ++i)
        heights.push_back(m.travel.low + (m.travel.high - m.travel.low) * static_cast<double>(i) / static_cast<double>(count));
    return heights;
}

benchmark::Counter per_pose(std::size_t poses) {
    return {static_cast<double>(poses), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert};
}

void pose_numbers(benchmark::State& state) {
    const MountedModel m = make_model();
    const PoseConstants k = make_pose_constants(m.linkage, m.ends);
    const std::vector<double> heights = list_heights(m, 1024);
    for (auto _ : state) {
        for (const double h : heights) {
            PoseNumbers n = solve_pose_numbers(k, h);
            benchmark::DoNotOptimize(n);
        }
    }
    state.counters["per pose"] = per_pose(heights.size());
}
BENCHMARK(pose_numbers)->Unit(benchmark::kMicrosecond);

void pose_batch(benchmark::State& state) {
    const MountedModel m = make_model();
    const std::vector<double> heights = list_heights(m, static_cast<std::size_t>(state.range(0)));
    std::vector<double> pitch(heights.size()), length = pitch, tractor = pitch, implement = pitch;
    for (auto _ : state) {
        solve_poses(m.linkage, m.ends, heights, {pitch, length, tractor, implement});
        benchmark::ClobberMemory();
    }
    state.counters["per pose"] = per_pose(heights.size());
}
BENCHMARK(pose_batch)->Arg(1)->Arg(41)->Arg(1024)->Arg(100000)->Unit(benchmark::kMicrosecond);

/// A set-up drawn within a centimetre of its readings.
std::vector<SampledMachine> draw_machines(std::size_t count) {
    const MountedModel m = make_model();
    std::mt19937 random(1);
    const auto near = [&](double value) { return value + std::uniform_real_distribution<double>(-0.01, 0.01)(random); };
    std::vector<SampledMachine> machines(count, SampledMachine{m.linkage, m.ends, m.travel});
    for (SampledMachine& s : machines) {
        for (double* v : {&s.linkage.lower_length, &s.linkage.upper_length, &s.linkage.upper_pin.x(), &s.linkage.upper_pin.y(),
                          &s.linkage.mast_pin.y(), &s.ends.implement_joint.x, &s.ends.implement_joint.z, &s.ends.tractor_joint.x})
            *v = near(*v);
    }
    return machines;
}

constexpr std::size_t machines_drawn = 100000, poses_each = 200;

SweepExtremes sweep_one_by_one(const SampledMachine& m) {
    const PoseConstants k = make_pose_constants(m.linkage, m.ends);
    SweepExtremes e;
    e.least_length = 1e9;
    for (std::size_t i = 0; i < poses_each; ++i) {
        const double part = static_cast<double>(i) / static_cast<double>(poses_each - 1);
        const PoseNumbers n = solve_pose_numbers(k, m.travel.low + (m.travel.high - m.travel.low) * part);
        if (!n.closes) continue;
        e.least_length = std::min(e.least_length, n.length);
        e.greatest_length = std::max(e.greatest_length, n.length);
        e.greatest_tractor_angle = std::max(e.greatest_tractor_angle, n.tractor_angle);
        e.greatest_implement_angle = std::max(e.greatest_implement_angle, n.implement_angle);
    }
    return e;
}

void monte_carlo_naive(benchmark::State& state) {
    const std::vector<SampledMachine> machines = draw_machines(machines_drawn);
    std::vector<SweepExtremes> out(machines.size());
    for (auto _ : state) {
        std::transform(machines.begin(), machines.end(), out.begin(), sweep_one_by_one);
        benchmark::ClobberMemory();
    }
    state.counters["per pose"] = per_pose(machines_drawn * poses_each);
}
BENCHMARK(monte_carlo_naive)->Unit(benchmark::kMillisecond)->UseRealTime();

void monte_carlo(benchmark::State& state) {
    const std::vector<SampledMachine> machines = draw_machines(machines_drawn);
    std::vector<SweepExtremes> out(machines.size());
    for (auto _ : state) {
        sweep_machines(machines, poses_each, static_cast<std::size_t>(state.range(0)), out);
        benchmark::ClobberMemory();
    }
    state.counters["per pose"] = per_pose(machines_drawn * poses_each);
}
BENCHMARK(monte_carlo)->ArgName("threads")->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

}  // namespace
