// See ceres_peer.h.
#include "tests/bench/peers/ceres_peer.h"

#include <ceres/ceres.h>
#include <ceres/tiny_solver.h>
#include <ceres/tiny_solver_autodiff_function.h>

namespace bench {

namespace {

struct Closure {
    const PoseProblem* problem;
    const double* height;

    template <class T>
    bool operator()(const T* x, T* left) const {
        find_closure(*problem, *height, x, left);
        return true;
    }
};

}  // namespace

struct CeresPeer::Inside {
    explicit Inside(const PoseProblem& p) : problem(p) {
        equations.AddResidualBlock(new ceres::AutoDiffCostFunction<Closure, 2, 2>(new Closure{&problem, &height}), nullptr, x);
        options.linear_solver_type = ceres::DENSE_QR;
        options.logging_type = ceres::SILENT;
    }

    const PoseProblem& problem;
    double height = 0.0;
    double x[2] = {0.0, 0.0};
    ceres::Problem equations;
    ceres::Solver::Options options;
};

CeresPeer::CeresPeer(const PoseProblem& problem) : inside_(std::make_unique<Inside>(problem)) { start(); }
CeresPeer::~CeresPeer() = default;

void CeresPeer::start() {
    inside_->x[0] = inside_->problem.first_link_angle;
    inside_->x[1] = inside_->problem.first_pitch;
}

bool CeresPeer::solve(double height, PoseNumbers& numbers) {
    inside_->height = height;
    ceres::Solver::Summary summary;
    ceres::Solve(inside_->options, &inside_->equations, &summary);
    numbers = find_pose_numbers(inside_->problem, inside_->x);
    return summary.termination_type == ceres::CONVERGENCE;
}

struct TinyCeresPeer::Inside {
    using Function = ceres::TinySolverAutoDiffFunction<Closure, 2, 2>;

    explicit Inside(const PoseProblem& p) : problem(p), closure{&problem, &height}, function(closure) {}

    const PoseProblem& problem;
    double height = 0.0;
    Closure closure;
    Function function;
    ceres::TinySolver<Function> solver;
    ceres::TinySolver<Function>::Parameters x{0.0, 0.0};
};

TinyCeresPeer::TinyCeresPeer(const PoseProblem& problem) : inside_(std::make_unique<Inside>(problem)) { start(); }
TinyCeresPeer::~TinyCeresPeer() = default;

void TinyCeresPeer::start() { inside_->x << inside_->problem.first_link_angle, inside_->problem.first_pitch; }

bool TinyCeresPeer::solve(double height, PoseNumbers& numbers) {
    using Solver = ceres::TinySolver<Inside::Function>;
    inside_->height = height;
    const Solver::Summary& summary = inside_->solver.Solve(inside_->function, &inside_->x);
    numbers = find_pose_numbers(inside_->problem, inside_->x.data());
    return summary.status != Solver::HIT_MAX_ITERATIONS;
}

}  // namespace bench
