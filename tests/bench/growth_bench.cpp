// Time against size: poses of one linkage in columns, combinations of holes, machines of a Monte Carlo run. `each` is the
// time of one of them, which stays level where the time is in proportion to their number; Google Benchmark fits the rest.
#include <benchmark/benchmark.h>

#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "geometry/hole_study.h"
#include "geometry/machine_sample.h"
#include "geometry/mounted_model.h"
#include "geometry/pose_batch.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_setup() {
    Setup s = make_setup_a();
    s.driveline.closed_length = known(0.760);
    return s;
}

void finish(benchmark::State& state) {
    using benchmark::Counter;
    const std::int64_t size = state.range(0);
    state.SetComplexityN(size);
    state.counters["each"] = Counter(static_cast<double>(size), Counter::kIsIterationInvariantRate | Counter::kInvert);
}

std::vector<double> list_heights(const MountedModel& m, std::size_t count) {
    std::vector<double> heights;
    for (std::size_t i = 0; i < count; ++i)
        heights.push_back(m.travel.low + (m.travel.high - m.travel.low) * static_cast<double>(i) / static_cast<double>(count));
    return heights;
}

/// Columns of answers.
struct Answers {
    explicit Answers(std::size_t count) : pitch(count), length(count), tractor(count), implement(count) {}
    PoseColumns columns() { return {pitch, length, tractor, implement}; }

    std::vector<double> pitch, length, tractor, implement;
};

void grow_poses(benchmark::State& state) {
    const MountedModel m = make_mounted_model(make_setup()).model;
    const std::vector<double> heights = list_heights(m, static_cast<std::size_t>(state.range(0)));
    Answers answers(heights.size());
    for (auto _ : state) {
        solve_poses(m.linkage, m.ends, heights, answers.columns());
        benchmark::ClobberMemory();
    }
    finish(state);
}
BENCHMARK(grow_poses)->RangeMultiplier(8)->Range(64, 1 << 18)->Complexity(benchmark::oN);

/// Pins 20 mm apart on the tractor, 30 mm on the mast: `mast` of those, and as many as it takes of the others.
Setup make_holes(int combinations, int mast) {
    Setup s = make_setup();
    s.choices.upper_link_length = Reading{};
    s.tractor.upper_link_pins.clear();
    for (int i = 0; i < combinations / mast; ++i)
        s.tractor.upper_link_pins.push_back({std::to_string(i + 1), known(0.240), known(0.900 + 0.020 * i)});
    s.implement.mast_pins.clear();
    for (int i = 0; i < mast; ++i)
        s.implement.mast_pins.push_back({std::to_string(i + 1), known(0.580 + 0.030 * i), known(0.0)});
    return s;
}

void grow_holes(benchmark::State& state) {
    const Setup s = make_holes(static_cast<int>(state.range(0)), state.range(0) % 2 == 0 ? 2 : 1);
    std::size_t rows = 0;
    for (auto _ : state) {
        rows = find_all_hole_numbers(s, millimetre_mark).size();
        benchmark::DoNotOptimize(rows);
    }
    if (rows != static_cast<std::size_t>(state.range(0))) state.SkipWithError("not all combinations were studied");
    finish(state);
}
BENCHMARK(grow_holes)->Arg(1)->Arg(2)->Arg(6)->Arg(10)->Arg(16)->Arg(20)->Complexity(benchmark::oN);

/// Machines whose lengths and places are off by up to 2 mm.
std::vector<SampledMachine> draw_machines(std::size_t count) {
    const MountedModel m = make_mounted_model(make_setup()).model;
    std::mt19937 random(20260405);
    std::uniform_real_distribution<double> off(-0.002, 0.002);
    std::vector<SampledMachine> drawn(count, {m.linkage, m.ends, m.travel});
    for (SampledMachine& s : drawn) {
        s.linkage.lower_length += off(random);
        s.linkage.upper_length += off(random);
        s.linkage.upper_pin += Point{off(random), off(random)};
        s.linkage.mast_pin += Point{off(random), off(random)};
    }
    return drawn;
}

void grow_machines(benchmark::State& state) {
    constexpr std::size_t poses = 200, threads = 1;
    const std::vector<SampledMachine> machines = draw_machines(static_cast<std::size_t>(state.range(0)));
    std::vector<SweepExtremes> found(machines.size());
    for (auto _ : state) {
        sweep_machines(machines, poses, threads, found);
        benchmark::ClobberMemory();
    }
    finish(state);
}
BENCHMARK(grow_machines)->RangeMultiplier(8)->Range(64, 1 << 15)->Complexity(benchmark::oN);

}  // namespace
