// The pose of a mounted linkage (pitch, shaft length, both joint angles) by the program's kernel and by what an engineer
// would otherwise take, on the same linkage and the same poses. Counters: `pose` time of one pose, `mm` and `deg` the
// worst error of the path against a solution in long double, `silent` the poses that are wrong and called solved,
// `given_up` those called unsolved. To compare, run with --benchmark_enable_random_interleaving=true; tests/bench/compare.py
// does, and takes the scripts into the same turns.
#include <benchmark/benchmark.h>

#include <numbers>

#include "tests/bench/peers/closed_form_peer.h"
#include "tests/bench/peers/fast_math_peer.h"
#include "tests/bench/peers/hybrid_peer.h"
#include "tests/bench/peers/newton_peer.h"
#include "tests/bench/peers/path_errors.h"
#include "tests/bench/peers/pose_paths.h"
#ifdef HITCHWRIGHT_BENCH_CERES
#include "tests/bench/peers/ceres_peer.h"
#endif
#ifdef HITCHWRIGHT_BENCH_SIMBODY
#include "tests/bench/peers/simbody_peer.h"
#endif

namespace {

using namespace bench;

void count(benchmark::State& state, std::size_t poses, const PathErrors& e) {
    using benchmark::Counter;
    state.counters["pose"] = Counter(static_cast<double>(poses), Counter::kIsIterationInvariantRate | Counter::kInvert);
    state.counters["mm"] = e.length * 1000.0;
    state.counters["deg"] = e.angle * 180.0 / std::numbers::pi;
    state.counters["silent"] = e.silent;
    state.counters["given_up"] = e.given_up;
}

template <class Peer>
void run_peer(benchmark::State& state, const PoseProblem& problem) {
    Peer peer(problem);
    const PathErrors errors = find_path_errors(peer, problem, find_reference(problem));
    for (auto _ : state) {
        peer.start();
        for (const double height : problem.heights) {
            PoseNumbers numbers;
            benchmark::DoNotOptimize(peer.solve(height, numbers));
            benchmark::DoNotOptimize(numbers);
        }
    }
    count(state, problem.heights.size(), errors);
}

/// The same in columns: a peer that takes a whole path at once.
template <class Peer>
void run_columns(benchmark::State& state, const PoseProblem& problem) {
    Peer peer(problem);
    PathErrors errors;
    errors.given_up = static_cast<int>(problem.heights.size() - peer.solve(problem.heights));
    const std::vector<PoseNumbers> answers = find_reference(problem);
    for (std::size_t i = 0; i < answers.size(); ++i) add_error(errors, peer.numbers(i), answers[i]);
    for (auto _ : state) {
        peer.solve(problem.heights);
        benchmark::ClobberMemory();
    }
    count(state, problem.heights.size(), errors);
}

/// A path of many poses, where a peer that works on columns shows what it can.
constexpr int many_poses = 4096;

template <class Peer>
void add_columns(const std::string& name) {
    static const PoseProblem travel = make_travel_problem(81), many = make_travel_problem(many_poses);
    for (const auto& [path, problem] : {std::pair{"travel/", &travel}, std::pair{"many/", &many}})
        benchmark::RegisterBenchmark((path + name).c_str(), [problem](benchmark::State& s) { run_columns<Peer>(s, *problem); });
}

template <class Peer>
void add_peer(const std::string& name) {
    static const PoseProblem travel = make_travel_problem(81), from_level = make_problem_from_level(81);
    for (const auto& [path, problem] : {std::pair{"travel/", &travel}, std::pair{"from_level/", &from_level}})
        benchmark::RegisterBenchmark((path + name).c_str(), [problem](benchmark::State& s) { run_peer<Peer>(s, *problem); });
}

const int registered = [] {
    add_peer<ClosedFormPeer>("closed_form");
    static const PoseProblem many = make_travel_problem(many_poses);
    benchmark::RegisterBenchmark("many/closed_form", [](benchmark::State& s) { run_peer<ClosedFormPeer>(s, many); });
    add_columns<BatchPeer>("batch");
    static const PoseProblem askew = make_askew_problem(many_poses);
    benchmark::RegisterBenchmark("askew/closed_form", [](benchmark::State& s) { run_peer<ClosedFormPeer>(s, askew); });
    benchmark::RegisterBenchmark("askew/batch", [](benchmark::State& s) { run_columns<BatchPeer>(s, askew); });
    add_peer<FastMathKernel>("kernel_fast_math");
    add_columns<FastMathBatch>("batch_fast_math");
    add_peer<NewtonPeer>("own_newton");
    add_peer<HybridPeer<AngleClosure, Slopes::by_hand>>("eigen_hybrid_derivatives");
    add_peer<HybridPeer<AngleClosure, Slopes::by_differences>>("eigen_hybrid_differences");
    add_peer<HybridPeer<BallClosure, Slopes::by_differences>>("eigen_hybrid_ball_and_pitch");
#ifdef HITCHWRIGHT_BENCH_CERES
    add_peer<TinyCeresPeer>("ceres_tiny_solver");
    add_peer<CeresPeer>("ceres");
#endif
#ifdef HITCHWRIGHT_BENCH_SIMBODY
    add_peer<SimbodyProjection>("simbody_projection");
    add_peer<SimbodyAssembler>("simbody_assembler");
#endif
    return 0;
}();

}  // namespace
