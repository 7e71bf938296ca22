// Times of a pose (pitch, shaft length, both joint angles) alone and in columns. "per pose" is what counts.
#include <benchmark/benchmark.h>

#include <vector>

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

}  // namespace
