// How far a peer is off on a path of poses, and whether it says so.
#pragma once

#include <numbers>

#include "tests/bench/peers/pose_problem.h"

namespace bench {

/// Worst of a path, of the poses the peer calls solved.
struct PathErrors {
    double length = 0.0;  ///< m
    double angle = 0.0;   ///< rad, of pitch and both joints
    int given_up = 0;     ///< poses the peer itself calls unsolved
    int silent = 0;       ///< poses it calls solved that are more than `silent_length` or `silent_angle` off
};

constexpr double silent_length = 1e-5;  ///< m: a hundredth of a millimetre, a tenth of what a tape shows
constexpr double silent_angle = 1e-4;   ///< rad: six thousandths of a degree

inline void add_error(PathErrors& e, const PoseNumbers& found, const PoseNumbers& right) {
    const double length = std::abs(found.length - right.length);
    // Whole turns of the pitch are no error.
    const double pitch = std::remainder(found.pitch - right.pitch, 2.0 * std::numbers::pi);
    const double angle = std::max({std::abs(pitch), std::abs(found.tractor_angle - right.tractor_angle),
                                   std::abs(found.implement_angle - right.implement_angle)});
    // Written so that what is no number counts as wrong.
    if (!(length <= silent_length && angle <= silent_angle)) ++e.silent;
    e.length = std::max(e.length, std::isfinite(length) ? length : HUGE_VAL);
    e.angle = std::max(e.angle, std::isfinite(angle) ? angle : HUGE_VAL);
}

template <class Peer>
PathErrors find_path_errors(Peer& peer, const PoseProblem& problem, const std::vector<PoseNumbers>& answers) {
    PathErrors e;
    peer.start();
    for (std::size_t i = 0; i < problem.heights.size(); ++i) {
        PoseNumbers found;
        if (peer.solve(problem.heights[i], found)) add_error(e, found, answers[i]);
        else ++e.given_up;
    }
    return e;
}

}  // namespace bench
