// The program's closed form compiled with -ffast-math, which the program never is: what that is worth, and what it costs.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "tests/bench/peers/pose_problem.h"

namespace bench {

/// The kernel that all scalars share (planar_linkage.h, shaft_kernel.h), a pose at a time.
class [[gnu::visibility("default")]] FastMathKernel {
public:
    explicit FastMathKernel(const PoseProblem& problem) : problem_(problem) {}
    void start() {}
    bool solve(double height, PoseNumbers& numbers);

private:
    const PoseProblem& problem_;
};

/// Poses in columns.
class [[gnu::visibility("default")]] FastMathBatch {
public:
    explicit FastMathBatch(const PoseProblem& problem)
        : problem_(problem), pitch_(problem.heights.size()), length_(pitch_), tractor_(pitch_), implement_(pitch_) {}
    std::size_t solve(std::span<const double> heights);
    PoseNumbers numbers(std::size_t i) const { return {pitch_[i], length_[i], tractor_[i], implement_[i]}; }

private:
    const PoseProblem& problem_;
    std::vector<double> pitch_, length_, tractor_, implement_;
};

}  // namespace bench
