// The program's own closed form: a pose at a time, and in columns. Nothing is kept from the pose before.
#pragma once

#include "geometry/mounted_model.h"
#include "geometry/pose_batch.h"
#include "tests/bench/peers/pose_paths.h"

namespace bench {

/// The linkage with the driveline of the problem, which may be askew.
inline hitchwright::MountedModel make_model_of(const PoseProblem& problem) {
    hitchwright::MountedModel m = make_pose_model();
    const Triple& q = problem.tractor_joint;
    m.ends.tractor_joint = {q[0], q[1], q[2]};
    return m;
}

class ClosedFormPeer {
public:
    explicit ClosedFormPeer(const PoseProblem& problem) {
        const hitchwright::MountedModel m = make_model_of(problem);
        constants_ = hitchwright::make_pose_constants(m.linkage, m.ends);
    }

    void start() {}

    bool solve(double height, PoseNumbers& numbers) {
        const hitchwright::PoseNumbers n = hitchwright::solve_pose_numbers(constants_, height);
        numbers = {n.pitch, n.length, n.tractor_angle, n.implement_angle};
        return n.closes;
    }

private:
    hitchwright::PoseConstants constants_;
};

/// All poses of a path at once.
class BatchPeer {
public:
    explicit BatchPeer(const PoseProblem& problem)
        : model_(make_model_of(problem)), pitch_(problem.heights.size()), length_(pitch_), tractor_(pitch_), implement_(pitch_) {}

    std::size_t solve(std::span<const double> heights) {
        return hitchwright::solve_poses(model_.linkage, model_.ends, heights, {pitch_, length_, tractor_, implement_});
    }
    PoseNumbers numbers(std::size_t i) const { return {pitch_[i], length_[i], tractor_[i], implement_[i]}; }

private:
    hitchwright::MountedModel model_;
    std::vector<double> pitch_, length_, tractor_, implement_;
};

}  // namespace bench
