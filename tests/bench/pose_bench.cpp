// Times of a pose, of bounded extremes and of a whole analysis. Printed, never judged by a test.
// Aims: a pose (pitch, shaft length, both joint angles) under 150 ns; `fit` start to end under 30 ms.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_setup(bool slack, WideAngleEnd wide_angle) {
    Setup s = make_setup_a();
    s.driveline.closed_length = known(0.760);
    if (slack) s.implement.upper_link_float = {UpperLinkKind::slot, known(0.05), Reading{}};
    if (wide_angle != WideAngleEnd::none) {
        JointReadings& j = wide_angle == WideAngleEnd::tractor ? s.driveline.tractor_joint : s.driveline.implement_joint;
        j.kind = JointKind::wide_angle;
        j.spacing = known(0.09);
    }
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    return s;
}

void pose(benchmark::State& state, WideAngleEnd wide_angle) {
    const MountedModel m = make_mounted_model(make_setup(false, wide_angle)).model;
    double height = m.travel.low;
    const double step = (m.travel.high - m.travel.low) / 1024.0;
    for (auto _ : state) {
        const KernelPose<double> k = solve_kernel<double>(m.linkage, height, m.linkage.upper_length);
        const ShaftState<double> s = find_shaft_state(m.ends, k);
        double pitch = std::atan2(k.sin_pitch, k.cos_pitch), length = s.length;
        double first = std::acos(std::clamp(s.cos_tractor_joint, -1.0, 1.0));
        double second = std::acos(std::clamp(s.cos_implement_joint, -1.0, 1.0));
        benchmark::DoNotOptimize(pitch);
        benchmark::DoNotOptimize(length);
        benchmark::DoNotOptimize(first);
        benchmark::DoNotOptimize(second);
        height += step;
        if (height > m.travel.high) height = m.travel.low;
    }
}
BENCHMARK_CAPTURE(pose, plain, WideAngleEnd::none);
BENCHMARK_CAPTURE(pose, wide_angle, WideAngleEnd::tractor);

void pose_report(benchmark::State& state) {
    const Setup s = make_setup(false, WideAngleEnd::none);
    const MountedModel m = make_mounted_model(s).model;
    for (auto _ : state) {
        PoseReport r = make_pose_report(s, m, 0.5);
        benchmark::DoNotOptimize(r);
    }
}
BENCHMARK(pose_report);

void mounted_model(benchmark::State& state) {
    const Setup s = make_setup(false, WideAngleEnd::none);
    for (auto _ : state) {
        MountedModelResult r = make_mounted_model(s);
        benchmark::DoNotOptimize(r);
    }
}
BENCHMARK(mounted_model);

void extremes(benchmark::State& state, bool slack, WideAngleEnd wide_angle) {
    const MountedModel m = make_mounted_model(make_setup(slack, wide_angle)).model;
    const TravelBox box = make_travel_box(m);
    int evaluations = 0;
    for (auto _ : state) {
        const ShaftExtremes e = find_shaft_extremes(m, box);
        evaluations = e.shortest.evaluations + e.longest.evaluations + e.tractor_angle.evaluations +
                      e.implement_angle.evaluations + e.non_uniformity.evaluations;
        benchmark::DoNotOptimize(evaluations);
    }
    state.counters["evaluations"] = evaluations;
}
BENCHMARK_CAPTURE(extremes, plain, false, WideAngleEnd::none)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(extremes, wide_angle, false, WideAngleEnd::tractor)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(extremes, slack, true, WideAngleEnd::none)->Unit(benchmark::kMicrosecond);

void height_intervals(benchmark::State& state, bool slack) {
    const MountedModel m = make_mounted_model(make_setup(slack, WideAngleEnd::none)).model;
    const TravelBox box = make_travel_box(m);
    for (auto _ : state) {
        auto ranges = find_heights_within_angle(m, box, JointEnd::tractor, to_radians(15.0));
        benchmark::DoNotOptimize(ranges);
    }
}
BENCHMARK_CAPTURE(height_intervals, plain, false)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(height_intervals, slack, true)->Unit(benchmark::kMicrosecond);

void whole_analysis(benchmark::State& state, bool slack, WideAngleEnd wide_angle) {
    const Setup s = make_setup(slack, wide_angle);
    for (auto _ : state) {
        Analysis a = analyze(s, millimetre_mark);
        benchmark::DoNotOptimize(a);
    }
}
BENCHMARK_CAPTURE(whole_analysis, plain, false, WideAngleEnd::none)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(whole_analysis, wide_angle, false, WideAngleEnd::tractor)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(whole_analysis, slack, true, WideAngleEnd::none)->Unit(benchmark::kMillisecond);

}  // namespace
