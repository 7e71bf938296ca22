// Simbody, a general multibody solver: the bodies on pin joints, the upper link a rod, the height a plane on a slide that
// moves as told. `project`: the state of the pose before is moved onto the constraints; `assemble`: its Assembler, from the
// pose before. Accuracy asked for: 1e-6 (the Assembler's own 1e-4 leaves a hundredth of a degree).
#pragma once

#include <memory>

#include "tests/bench/peers/pose_problem.h"

namespace bench {

enum class SimbodyWay { project, assemble };

class SimbodyPeer {
public:
    SimbodyPeer(const PoseProblem& problem, SimbodyWay way);
    ~SimbodyPeer();
    void start();
    bool solve(double height, PoseNumbers& numbers);

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
    SimbodyWay way_;
};

struct SimbodyProjection : SimbodyPeer {
    explicit SimbodyProjection(const PoseProblem& problem) : SimbodyPeer(problem, SimbodyWay::project) {}
};
struct SimbodyAssembler : SimbodyPeer {
    explicit SimbodyAssembler(const PoseProblem& problem) : SimbodyPeer(problem, SimbodyWay::assemble) {}
};

}  // namespace bench
