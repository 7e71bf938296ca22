// Ceres, a solver for least squares with automatic derivatives, started from the pose before.
// `CeresPeer`: ceres::Solver, dense QR, tolerances as they come; the problem is built once. `TinyCeresPeer`: its
// ceres::TinySolver for problems of fixed small size, tolerances as they come.
#pragma once

#include <memory>

#include "tests/bench/peers/pose_problem.h"

namespace bench {

class CeresPeer {
public:
    explicit CeresPeer(const PoseProblem& problem);
    ~CeresPeer();
    void start();
    bool solve(double height, PoseNumbers& numbers);

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

class TinyCeresPeer {
public:
    explicit TinyCeresPeer(const PoseProblem& problem);
    ~TinyCeresPeer();
    void start();
    bool solve(double height, PoseNumbers& numbers);

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace bench
