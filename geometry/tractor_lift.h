// The lift of a tractor from its readings: arm, rod and lower link as one linkage, the rod in any of its listed holes.
//
// Ball heights are taped with the rod in one hole. In another hole the same lift arm holds the link at another angle, so
// a height goes over by the arm angle it belongs to: ball to arm with the one linkage, arm to ball with the other
// (lift_linkage.h). That wants arm and rod; without them heights hold for the hole they were taped in and no other.
// By virtual work the rod's hole also changes what the lift gives at the balls: N per N m of rockshaft torque is
// d(arm angle)/d(ball height). Frame T, m, rad.
#pragma once

#include <optional>

#include "geometry/hidden_pins.h"
#include "geometry/lift_linkage.h"
#include "geometry/setup.h"

namespace hitchwright {

/// Which of the listed lift-rod holes count; nothing of it holds when none are listed.
struct RodHoles {
    enum class Status {
        none_listed,
        ok,
        not_chosen,  ///< several, and neither the choice nor the travel names one
        no_such_hole ///< the choice names one that is not listed
    };
    Status status = Status::none_listed;
    std::size_t chosen = 0;  ///< the rod is to be in
    std::size_t taped = 0;   ///< the rod was in when ball heights were taped
    bool moved() const { return status == Status::ok && chosen != taped; }
};

/// The choice, else the hole that the travel names, else the only one. A travel that names none was taped in the chosen one.
RodHoles find_rod_holes(const Setup& setup);

/// The tractor with its rod in a listed hole.
Tractor put_rod_in_hole(Tractor tractor, std::size_t hole);

/// The tractor's readings with pins nobody could tape in place (hidden_pins.h), on the tyres it stands on.
struct ResolvedTractor {
    Tractor as_taped;  ///< the rod where it was when heights were taped
    Tractor as_set;    ///< the rod in the chosen hole
    PinDecision decision;
};

/// `decided`: with this use of the ball readings. Those were read with the rod in the hole of the travel, on the tractor's
/// own tyres; pins are found there and then moved (standing_tractor.h).
ResolvedTractor resolve_tractor(const Setup& setup, const RodHoles& holes, const PinDecision* decided = nullptr);

/// All readings of arm and rod are there, but for the range of the arm.
bool has_lift_linkage(const Tractor& tractor);

/// Arm, rod and lower link projected, or why there is none.
struct TractorLift {
    Closure closure{};
    LiftLinkage linkage;
};

/// Needs has_lift_linkage and the lower link's readings. `link_length`: of the lower link in space, an extender counted.
TractorLift make_tractor_lift(const Tractor& tractor, double link_length);

/// A ball height carried from one hole to another.
struct CarriedHeight {
    Closure closure{};
    double height = 0.0;       ///< m, with the rod in the other hole
    double lift_share = 0.0;   ///< lift at the balls as a share of that with the first hole, at the same arm angle
};

/// Ball height with `to` at the arm angle at which the ball stands at `height` with `from`. Charged to lift_rod, undefined,
/// where that arm angle is not one of a usual lift (beyond the line of arm and rod).
CarriedHeight carry_height(const LiftLinkage& from, const LiftLinkage& to, double height);

}  // namespace hitchwright
