// Newton's steps written for this closure: derivatives by hand, the two by two solved by hand, started from the pose
// before. What one writes in an afternoon, and the quickest of those that iterate.
#pragma once

#include "tests/bench/peers/pose_problem.h"

namespace bench {

class NewtonPeer {
public:
    explicit NewtonPeer(const PoseProblem& problem) : problem_(problem) { start(); }

    void start() {
        x_[0] = problem_.first_link_angle;
        x_[1] = problem_.first_pitch;
    }

    /// False: it says itself that it did not converge.
    bool solve(double height, PoseNumbers& numbers) {
        constexpr double done = 1e-8;  // rad: the error left is about its square
        constexpr int most_steps = 50;
        for (int i = 0; i < most_steps; ++i) {
            if (take_step(height) > done) continue;
            numbers = find_pose_numbers(problem_, x_);
            return true;
        }
        return false;
    }

private:
    /// find_closure and find_closure_slopes in one: each sine and cosine once.
    double take_step(double height) {
        const PoseProblem& k = problem_;
        const double st = std::sin(x_[0]), ct = std::cos(x_[0]), s = std::sin(x_[1]), c = std::cos(x_[1]);
        const double arm_x = c * k.mast_pin_x - s * k.mast_pin_z, arm_z = s * k.mast_pin_x + c * k.mast_pin_z;
        const double across = k.lower_pivot_x + k.lower_length * ct + arm_x - k.upper_pin_x;
        const double up = k.lower_pivot_z + k.lower_length * st + arm_z - k.upper_pin_z;
        const double distance = std::sqrt(across * across + up * up);
        const double link = (k.lower_pivot_z + k.lower_length * st - height) / (k.lower_length * ct);
        const double left = (distance - k.upper_length) * distance - k.lower_length * (up * ct - across * st) * link;
        const double pitch = left / (up * arm_x - across * arm_z);
        x_[0] -= link;
        x_[1] -= pitch;
        return std::max(std::abs(link), std::abs(pitch));
    }

    const PoseProblem& problem_;
    double x_[2];
};

}  // namespace bench
