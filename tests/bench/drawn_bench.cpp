// Times of the bounded extremes of a drawn implement's shaft over yaw x pitch x roll: shortest, longest, greatest angle of
// either joint. Printed, never judged by a test. "evaluations": boxes, and middles of boxes, of all four together. Peer: the
// same four from a million random attitudes; "misses_mm" is what they leave open of the lengths. Aim: at most 400 boxes and
// 0.3 ms on a core of 3.3 GHz.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "presets/library.h"
#include "presets/load_setup.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

DrawnModel load_model(const std::string& name) {
    return make_drawn_model(load_setup(name, Library()).setup).model;
}

/// Machines around the sample: offsets beside, slopes, plan angles.
std::vector<DrawnModel> draw_models(WideAngleEnd end) {
    constexpr std::size_t count = 50;
    std::mt19937 random(20261126);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const bool wide = end != WideAngleEnd::none;
    std::vector<DrawnModel> models;
    while (models.size() < count) {
        Setup s = make_drawn_setup();
        PicReadings& i = s.implement.pic;
        i.x = known(between(0.45, 1.2));
        i.y = known(between(-0.1, 0.1));
        i.z = known(between(0.0, 0.3));
        i.slope = known(between(-0.1, 0.1));
        i.plan_angle = known(between(-0.1, 0.1));
        s.tractor.drawbar_pins[1].length = known(between(0.28, 0.55));
        s.choices.drawn.turn_left_most = known(to_radians(wide ? between(30.0, 75.0) : between(10.0, 40.0)));
        s.choices.drawn.turn_right_most = known(to_radians(wide ? between(30.0, 75.0) : between(10.0, 40.0)));
        s.choices.drawn.pitch_up_most = known(to_radians(between(2.0, 25.0)));
        s.choices.drawn.pitch_down_most = known(to_radians(between(2.0, 25.0)));
        s.choices.drawn.roll_most = known(to_radians(between(0.0, 12.0)));
        if (wide) make_tractor_joint_wide(s, between(0.06, 0.12));
        models.push_back(make_drawn_model(s).model);
    }
    return models;
}

struct Four {
    AttitudeExtreme shortest, longest, tractor_angle, implement_angle;
};
Four find_four(const DrawnModel& m) {
    return {find_shortest(m, m.box), find_longest(m, m.box), find_greatest_joint_angle(m, m.box, JointEnd::tractor),
            find_greatest_joint_angle(m, m.box, JointEnd::implement)};
}
int count_evaluations(const Four& f) {
    return f.shortest.evaluations + f.longest.evaluations + f.tractor_angle.evaluations + f.implement_angle.evaluations;
}

void extremes(benchmark::State& state, const std::vector<DrawnModel>& models) {
    std::size_t next = 0;
    double evaluations = 0.0, most = 0.0, runs = 0.0;
    for (auto _ : state) {
        const int n = count_evaluations(find_four(models[next]));
        next = (next + 1) % models.size();
        evaluations += n;
        most = std::max<double>(most, n);
        runs += 1.0;
    }
    state.counters["evaluations"] = evaluations / runs;
    state.counters["evaluations_most"] = most;
}

/// A million attitudes by chance.
void random_attitudes(benchmark::State& state, const DrawnModel& m) {
    constexpr int count = 1000000;
    const Four bounded = find_four(m);
    double misses = 0.0;
    for (auto _ : state) {
        std::mt19937 random(7);
        const auto draw = [&](const AngleRange& r) { return std::uniform_real_distribution<double>(r.low, r.high)(random); };
        double shortest = 1e300, longest = 0.0, first = 1.0, second = 1.0;
        for (int i = 0; i < count; ++i) {
            const double yaw = draw(m.box.yaw), pitch = draw(m.box.pitch), roll = draw(m.box.roll);
            const ShaftState<double> s = find_drawn_state(m.driveline, yaw, pitch, roll).shaft;
            shortest = std::min(shortest, s.length);
            longest = std::max(longest, s.length);
            first = std::min(first, s.cos_tractor_joint);
            second = std::min(second, s.cos_implement_joint);
        }
        benchmark::DoNotOptimize(first);
        benchmark::DoNotOptimize(second);
        misses = std::max(shortest - bounded.shortest.bound, bounded.longest.bound - longest);
    }
    state.counters["misses_mm"] = 1000.0 * misses;
}

const int registered = [] {
    for (const std::string name : {"utility-drawn-cutter-fits", "utility-drawn-cutter-short"}) {
        const DrawnModel m = load_model(name);
        benchmark::RegisterBenchmark(("extremes_drawn/" + name).c_str(), extremes, std::vector{m})->Unit(benchmark::kMicrosecond);
        benchmark::RegisterBenchmark(("random_attitudes/" + name).c_str(), random_attitudes, m)->Unit(benchmark::kMillisecond);
    }
    const auto add = [](const char* name, WideAngleEnd end) {
        benchmark::RegisterBenchmark(name, extremes, draw_models(end))->Unit(benchmark::kMicrosecond);
    };
    add("extremes_drawn/random_plain", WideAngleEnd::none);
    add("extremes_drawn/random_wide_angle", WideAngleEnd::tractor);
    return 0;
}();

}  // namespace
