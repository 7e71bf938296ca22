// How the load of an implement rises against the lower hitch points, and what that makes of the lift.
//
// By virtual work the force at the balls lifts F_load = F_ball dz_ball/dz_load. With the pitch rate 1/X (virtual hitch
// point, linkage_quantities.h) a point (x, z) of frame I rises dz/dz_ball = 1 + (x cos p - z sin p)/X per unit of ball
// height. Raised, a floating link is in tension at its longest: that length counts. Bounded over the whole travel.
#pragma once

#include <array>
#include <optional>

#include "geometry/mounted_model.h"
#include "geometry/travel_search.h"

namespace hitchwright {

/// Which point stands for the load.
enum class LoadPoint {
    centre_of_gravity,
    centre_of_gravity_height_unknown,  ///< behind the lower hitch points as read, taken level with them
    behind_610                         ///< not read: 610 mm (24 in) behind the lower hitch points, as lift is published
};

/// Lift is published this far behind the lower hitch points too, m: ISO 789-2, OECD Code 2.
inline constexpr double behind_balls_610 = 0.610;

/// Rise of the load over the travel.
struct LiftRatio {
    bool known = false;  ///< false: the travel comes too near a dead centre, where the pitch has no rate
    LoadPoint point = LoadPoint::behind_610;
    Point at = Point::Zero();   ///< the point, frame I, m
    TravelExtreme rise_most;    ///< greatest dz_load/dz_ball: where the lift is worst
    TravelExtreme rise_least;

    /// Least dz_ball/dz_load over the travel, rounded to the safe side; nothing where the load rises nowhere.
    std::optional<double> worst() const {
        if (!known || rise_most.bound <= 0.0) return std::nullopt;
        return 1.0 / rise_most.bound;
    }
    /// True when somewhere in the travel the load does not rise: no number says anything there.
    bool load_stops() const { return known && rise_least.bound <= 0.0; }
};

/// dz/dz_ball of a point of frame I in a pose; not bounded at a dead centre and with the lower link upright.
template <class T>
T find_load_rise(const PlanarLinkage& k, const KernelPose<T>& pose, const Point& at) {
    const T tangent = (pose.ball.z - k.lower_pivot.y()) / (pose.ball.x - k.lower_pivot.x());
    const Vec2<T> link{pose.ball.x + pose.mast_arm.x - k.upper_pin.x(), pose.ball.z + pose.mast_arm.z - k.upper_pin.y()};
    const T lever = link.z * pose.mast_arm.x - link.x * pose.mast_arm.z;
    const T rate = (link.x * tangent - link.z) / lever;
    return rate * pose.turn(at.x(), at.y()).x + 1.0;
}

/// The rise of a point of frame I (m) as panels ask for it (travel_panels.h).
struct LoadRise {
    const PlanarLinkage& linkage;
    Point at;

    template <class T>
    std::array<T, 1> operator()(const KernelPose<T>& pose) const { return {find_load_rise(linkage, pose, at)}; }
};

/// Closeness of the ratio asked for.
inline constexpr double rise_closeness = 1.0e-5;

/// The load point of an implement; frame I as the model has it, moved back by a coupler.
LiftRatio choose_load_point(const Implement& implement, const MountedModel& model);

/// True when poses over the travel keep off dead centre and the upright lower link, so that the rise is bounded.
bool has_bounded_rise(const MountedModel& model);

/// Rise of the implement's load over the travel of its model.
LiftRatio find_lift_ratio(const Setup& setup, const MountedModel& model);

}  // namespace hitchwright
