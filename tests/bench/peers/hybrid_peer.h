// Powell's hybrid method as Eigen brings it (a translation of MINPACK's hybrd and hybrj), tolerances as they come
// (xtol = root of the machine's epsilon), started from the pose before. With derivatives by hand, or by its own differences,
// whose step is a share of |x|: in the unknown that is nearly zero there is then none.
#pragma once

#include <Eigen/Core>
#include <unsupported/Eigen/NonLinearOptimization>

#include "tests/bench/peers/pose_problem.h"

namespace bench {

/// Two angles as unknowns.
struct AngleClosure {
    static constexpr int unknowns = 2;
    const PoseProblem* problem;
    double height;

    int operator()(const Eigen::VectorXd& x, Eigen::VectorXd& left) const {
        find_closure(*problem, height, x.data(), left.data());
        return 0;
    }
    int df(const Eigen::VectorXd& x, Eigen::MatrixXd& slopes) const {
        const std::array<double, 4> a = find_closure_slopes(*problem, x.data());
        slopes << a[0], a[1], a[2], a[3];
        return 0;
    }
    static void start(const PoseProblem& k, double* x) {
        x[0] = k.first_link_angle;
        x[1] = k.first_pitch;
    }
    static PoseNumbers numbers(const PoseProblem& k, const double* x) { return find_pose_numbers(k, x); }
};

/// Ball and pitch as unknowns; by differences only.
struct BallClosure {
    static constexpr int unknowns = 3;
    const PoseProblem* problem;
    double height;

    int operator()(const Eigen::VectorXd& x, Eigen::VectorXd& left) const {
        find_ball_closure(*problem, height, x.data(), left.data());
        return 0;
    }
    static void start(const PoseProblem& k, double* x) {
        x[0] = k.lower_pivot_x + k.lower_length * std::cos(k.first_link_angle);
        x[1] = k.lower_pivot_z + k.lower_length * std::sin(k.first_link_angle);
        x[2] = k.first_pitch;
    }
    static PoseNumbers numbers(const PoseProblem& k, const double* x) {
        const double angles[2] = {std::atan2(x[1] - k.lower_pivot_z, x[0] - k.lower_pivot_x), x[2]};
        return find_pose_numbers(k, angles);
    }
};

enum class Slopes { by_hand, by_differences };

template <class Closure, Slopes slopes>
class HybridPeer {
public:
    explicit HybridPeer(const PoseProblem& problem) : problem_(problem), x_(Closure::unknowns) { start(); }

    void start() { Closure::start(problem_, x_.data()); }

    bool solve(double height, PoseNumbers& numbers) {
        Closure closure{&problem_, height};
        Eigen::HybridNonLinearSolver<Closure> solver(closure);
        Eigen::HybridNonLinearSolverSpace::Status status;
        if constexpr (slopes == Slopes::by_hand) status = solver.solve(x_);
        else status = solver.solveNumericalDiff(x_);
        numbers = Closure::numbers(problem_, x_.data());
        return status == Eigen::HybridNonLinearSolverSpace::RelativeErrorTooSmall;
    }

private:
    const PoseProblem& problem_;
    Eigen::VectorXd x_;
};

}  // namespace bench
