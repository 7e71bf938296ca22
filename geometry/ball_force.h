// What the lift gives at the ball ends at every height: from a curve, from cylinder and arm, or at least what is
// published.
//
// Published figures are the least force through the travel, at the balls (F_b) and 610 mm behind them (F_610), in a
// test rig: links level with the mast upright, 610 mm square to the mast through the lower pins (ISO 789-2, OECD Code
// 2). Since at every height the rig's balls gave F_610 at least, divided by how the ball rises beside that point, the
// tractor gives
//   F(h) >= max(F_b, F_610 dz_610/dz_ball)
// : a lower bound, exact at one height only. F_610 counts only where the test's mast is stated; where its pin is not,
// the least over the tractor's pins, and where the rod's hole in the test is not, the least over the holes. What moves
// the ball (link extender, the rod in another hole) turns the same torque about the lower-link pivot, or about the arm,
// into another force: F' = F (x_H - x_P)/(x_H' - x_P), F' = F (d(arm)/dh')/(d(arm)/dh). A constant cylinder force is
// not a constant rockshaft torque: the crank is reckoned with. Frame T, m, N.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/lift_kernel.h"
#include "geometry/lift_ratio.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Where the force at the balls comes from.
enum class BallForceSource {
    none,            ///< nothing says what the tractor lifts
    curve,           ///< a published or measured curve over the ball height
    cylinder,        ///< pressure, cylinder, crank, arm and rod, with its efficiency
    cylinder_ideal,  ///< the same, nobody saying what friction takes: not more than this
    published_least  ///< least published force: not less than this
};

/// How a force relates to what the tractor gives.
enum class ForceMeaning { exact, at_least, at_most };

/// A point of a curve: own ball height (m) and force there (N), without extender, the rod where heights were taped.
struct CurvePoint {
    double height = 0.0, force = 0.0;
    bool operator==(const CurvePoint&) const = default;
};

/// Force at the ball ends in numbers.
struct BallForce {
    BallForceSource source = BallForceSource::none;
    double least_at_balls = 0.0;      ///< N; 0: not published
    double least_at_610 = 0.0;        ///< N; 0: not published
    std::vector<PlanarLinkage> rigs;  ///< the test rig with the pin stated, or with each pin there is
    bool rigs_count =
        false;  ///< F_610 proves something: the test's mast is stated, and every pin it may have had closes
    bool rig_mast_assumed = false;  ///< mast of the category, nobody stating the test's
    bool rig_pin_stated = false;
    std::vector<CurvePoint> curve;  ///< rising heights
    LiftCylinder cylinder;

    Point lower_pivot = Point::Zero();
    double own_length = 0.0;  ///< projected lower link without extender
    double length = 0.0;      ///< as set
    bool rod_moved = false;   ///< `as_taped` and `as_set` then, both with own_length
    LiftLinkage as_taped, as_set;
    std::vector<LiftLinkage>
        tests;  ///< of published lift: the rod where it may have been in the test; empty: where it is set

    ForceMeaning meaning() const {
        if (source == BallForceSource::published_least) return ForceMeaning::at_least;
        return source == BallForceSource::cylinder_ideal ? ForceMeaning::at_most : ForceMeaning::exact;
    }
};

/// What keeps a source from being used, in dotted keys.
struct BallForceResult {
    BallForce force;
    std::vector<std::string> missing;  ///< readings that the best source begun lacks
};

/// The best source there is: curve, then the published least, then the cylinder. Needs a linkage that is ok.
BallForceResult find_ball_force(const Setup& setup, const MountedModel& model);

/// Force at a ball height of the model, N; nothing outside a curve's heights, where arm and rod do not reach, or
/// without a source.
std::optional<double> find_force_at(const BallForce& force, double ball_height);

/// The model's ball height at which the own balls, rod and extender as taped, stand at `taped`; nothing where arm and
/// rod do not reach.
std::optional<double> find_set_height(const BallForce& force, double taped);

/// A range of heights and the piece of the curve that holds there; 0 for every other source.
struct ForcePiece {
    HeightRange heights;
    std::size_t piece = 0;
};

/// The part of the travel over which the force is known, in rising order, piece by piece of a curve. Empty: nowhere.
std::vector<ForcePiece> find_force_pieces(const BallForce& force, const HeightRange& travel);

/// The two published figures beside what the rig's linkage allows: F_610/F_b lies between 1/rise_most and 1/rise_least.
struct PublishedPair {
    double ratio = 0.0;              ///< F_610/F_b as published
    double least = 0.0, most = 0.0;  ///< what the linkage allows over the travel of the test (that of the tractor)
    double beyond = 0.0;             ///< ratio outside: by so much (negative below); 0 inside
    bool operator==(const PublishedPair&) const = default;
};

/// Needs both figures, a rig and a travel without dead centre; else nothing. `travel`: of the tractor's own balls.
std::optional<PublishedPair> compare_published(const BallForce& force, const HeightRange& travel);

namespace detail {

/// Own ball height and what one N at the own balls is at the balls as set.
template <class T>
struct OwnBall {
    T height, share;
};

/// `known`: the rod where the force is known for; null: where it is set.
template <class T>
OwnBall<T> find_own_ball(const BallForce& f, const T& h, const LiftLinkage* known) {
    const double by_length = f.own_length / f.length;
    const T own = (h - f.lower_pivot.y()) * by_length + f.lower_pivot.y();
    if (!known) return {own, T(by_length)};
    const LiftKernelPose<T> set = solve_lift_kernel(f.as_set, own);
    const LiftKernelPose<T> there = solve_lift_kernel_at_arm(*known, set.arm_end);
    return {there.ball_height, by_length * (find_arm_rate(f.as_set, set) / find_arm_rate(*known, there))};
}

inline double larger(double a, double b) { return std::max(a, b); }
inline double smaller(double a, double b) { return std::min(a, b); }
/// Greater of two functions: kinked, its slope anywhere between both where either may be the greater.
template <std::size_t N>
IntervalJet<N> larger(const IntervalJet<N>& a, const IntervalJet<N>& b) {
    if (a.v.lo >= b.v.hi) return a;
    if (b.v.lo >= a.v.hi) return b;
    IntervalJet<N> r(Interval(std::max(a.v.lo, b.v.lo), std::max(a.v.hi, b.v.hi)));
    for (std::size_t i = 0; i < N; ++i)
        r.d[i] = Interval(std::min(a.d[i].lo, b.d[i].lo), std::max(a.d[i].hi, b.d[i].hi));
    return r;
}
template <std::size_t N>
IntervalJet<N> smaller(const IntervalJet<N>& a, const IntervalJet<N>& b) {
    return -larger(-a, -b);
}

inline KernelPose<double> solve_rig(const PlanarLinkage& k, const double& h) {
    return solve_kernel<double>(k, h, k.upper_length);
}
template <std::size_t N>
KernelPose<IntervalJet<N>> solve_rig(const PlanarLinkage& k, const IntervalJet<N>& h) {
    return solve_jet_pose<N>(k, h, IntervalJet<N>(k.upper_length));
}

/// The published bound at a place of the test.
template <class T>
T evaluate_published(const BallForce& f, const OwnBall<T>& own) {
    T least = T(f.least_at_balls);
    if (f.rigs_count && f.least_at_610 > 0.0) {
        const Point at(behind_balls_610, 0.0);
        const auto rise = [&](const PlanarLinkage& k) { return find_load_rise(k, solve_rig(k, own.height), at); };
        T rig = rise(f.rigs.front());
        for (std::size_t i = 1; i < f.rigs.size(); ++i) rig = smaller(rig, rise(f.rigs[i]));
        least = larger(least, f.least_at_610 * rig);
    }
    return own.share * least;
}

}  // namespace detail

/// The force over any scalar, at heights inside find_force_heights; of a curve by the piece behind its point `piece`.
template <class T>
T evaluate_force(const BallForce& f, const T& h, std::size_t piece = 0) {
    const detail::OwnBall<T> own = detail::find_own_ball(f, h, f.rod_moved ? &f.as_taped : nullptr);
    if (f.source == BallForceSource::curve) {
        const CurvePoint& a = f.curve[piece];
        const CurvePoint& b = f.curve[piece + 1];
        return own.share * ((own.height - a.height) * ((b.force - a.force) / (b.height - a.height)) + a.force);
    }
    if (f.source == BallForceSource::published_least) {
        if (f.tests.empty()) return detail::evaluate_published(f, detail::find_own_ball<T>(f, h, nullptr));
        T least = detail::evaluate_published(f, detail::find_own_ball(f, h, &f.tests.front()));
        for (std::size_t i = 1; i < f.tests.size(); ++i)
            least = detail::smaller(least, detail::evaluate_published(f, detail::find_own_ball(f, h, &f.tests[i])));
        return least;
    }
    const LiftKernelPose<T> pose = solve_lift_kernel(f.as_taped, own.height);
    return own.share * (find_arm_rate(f.as_taped, pose) * find_rockshaft_torque(f.as_taped, f.cylinder, pose));
}

}  // namespace hitchwright
