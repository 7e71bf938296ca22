// Times of the hole study: ten combinations, numbers alone (bounded extremes) and with the whole judgement. Printed, never
// judged by a test. Aim: the numbers of ten combinations under 1 ms.
#include <benchmark/benchmark.h>

#include "geometry/hole_study.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Linkage A with five pins on the tractor and two on the mast, a working band, and a load behind.
Setup make_many_holes(bool slack) {
    Setup s = make_setup_a();
    s.tractor.upper_link_pins.clear();
    double height = 0.900;
    for (const char* name : {"1", "2", "3", "4", "5"}) {
        s.tractor.upper_link_pins.push_back({name, known(0.240), known(height)});
        height += 0.030;
    }
    s.implement.mast_pins = {{"low", known(0.560), known(0.020)}, {"high", known(0.610), known(0.0)}};
    s.tractor.travel.ball_height_high = known(0.850);
    s.implement.mass.cg_x = known(0.800);
    s.implement.mass.cg_z = known(0.150);
    s.implement.ground_contacts = {{"wheel", known(1.6), known(-0.15), known(0.15)}};
    s.implement.points = {{"rear of the deck", known(1.4), known(0.0), Reading{}, false}};
    s.driveline.closed_length = known(0.760);
    s.choices.working_band_low = known(0.280);
    s.choices.working_band_high = known(0.450);
    if (slack) s.implement.upper_link_float = {UpperLinkKind::slot, known(0.05), Reading{}};
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    return s;
}

void ten_holes_numbers(benchmark::State& state, bool slack) {
    const Setup s = make_many_holes(slack);
    int evaluations = 0;
    std::size_t with_numbers = 0;
    for (auto _ : state) {
        const std::vector<HoleNumbers> rows = find_all_hole_numbers(s, millimetre_mark);
        evaluations = 0;
        with_numbers = 0;
        for (const HoleNumbers& row : rows) {
            evaluations += row.evaluations;
            with_numbers += row.has_numbers && row.shaft && row.lift.known;
        }
        benchmark::DoNotOptimize(evaluations);
    }
    state.counters["evaluations"] = evaluations;
    state.counters["rows"] = static_cast<double>(with_numbers);
}
BENCHMARK_CAPTURE(ten_holes_numbers, plain, false)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(ten_holes_numbers, slack, true)->Unit(benchmark::kMicrosecond);

void ten_holes_study(benchmark::State& state, bool slack) {
    const Setup s = make_many_holes(slack);
    for (auto _ : state) {
        const HoleStudy study = study_holes(s, millimetre_mark, HoleWish::general);
        benchmark::DoNotOptimize(study.results.size());
    }
}
BENCHMARK_CAPTURE(ten_holes_study, plain, false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(ten_holes_study, slack, true)->Unit(benchmark::kMillisecond);

}  // namespace
