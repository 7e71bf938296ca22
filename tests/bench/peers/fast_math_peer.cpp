// See fast_math_peer.h. Compiled, with the files of geometry/ it needs, into a shared library of its own (CMakeLists.txt).
#include "tests/bench/peers/fast_math_peer.h"

#include <algorithm>
#include <cmath>

#include "geometry/pose_batch.h"

namespace bench {

using namespace hitchwright;

namespace {

Vec3<double> list(const Triple& v) { return {v[0], v[1], v[2]}; }

PlanarLinkage make_linkage(const PoseProblem& p) {
    return {{p.lower_pivot_x, p.lower_pivot_z}, p.lower_length,           {p.upper_pin_x, p.upper_pin_z},
            p.upper_length,                     {p.mast_pin_x, p.mast_pin_z}, MastSide::above};
}

DrivelineEnds make_ends(const PoseProblem& p) {
    return {list(p.tractor_joint), list(p.stub_axis), list(p.implement_joint), list(p.input_axis), 0.0, WideAngleEnd::none, 0.0};
}

}  // namespace

bool FastMathKernel::solve(double height, PoseNumbers& numbers) {
    const KernelPose<double> k = solve_kernel<double>(make_linkage(problem_), height, problem_.upper_length);
    const ShaftState<double> s = find_shaft_state(make_ends(problem_), k);
    numbers = {std::atan2(k.sin_pitch, k.cos_pitch), s.length, std::acos(std::clamp(s.cos_tractor_joint, -1.0, 1.0)),
               std::acos(std::clamp(s.cos_implement_joint, -1.0, 1.0))};
    return true;
}

std::size_t FastMathBatch::solve(std::span<const double> heights) {
    return solve_poses(make_linkage(problem_), make_ends(problem_), heights, {pitch_, length_, tractor_, implement_});
}

}  // namespace bench
