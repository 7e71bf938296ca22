// The program's own kernel, a pose at a time. Nothing is kept from the pose before.
#pragma once

#include <algorithm>
#include <cmath>

#include "geometry/mounted_model.h"
#include "tests/bench/peers/pose_paths.h"

namespace bench {

class ClosedFormPeer {
public:
    explicit ClosedFormPeer(const PoseProblem&) : model_(make_pose_model()) {}

    void start() {}

    bool solve(double height, PoseNumbers& numbers) {
        using namespace hitchwright;
        const PlanarLinkage& linkage = model_.linkage;
        const KernelPose<double> k = solve_kernel<double>(linkage, height, linkage.upper_length);
        const ShaftState<double> s = find_shaft_state(model_.ends, k);
        numbers = {std::atan2(k.sin_pitch, k.cos_pitch), s.length, std::acos(std::clamp(s.cos_tractor_joint, -1.0, 1.0)),
                   std::acos(std::clamp(s.cos_implement_joint, -1.0, 1.0))};
        return true;
    }

private:
    hitchwright::MountedModel model_;
};

}  // namespace bench
