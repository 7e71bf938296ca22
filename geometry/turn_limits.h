// How far a drawn implement can be turned, left and right, and what stops it first.
//
// On level ground, yaw alone: a tyre meets the tongue (plan_contact.h: rectangles in plan, exact), a joint comes to its
// limit, the shaft bottoms, or too little overlap is left. Joints and lengths: the yaws inside each limit as a set of
// intervals with rigorous signs (inside_intervals.h), never from samples; the turn ends where the interval from straight on
// ends. Yaw positive: rear to the right, closes on the right tyre. Tyres are rectangles of the loaded radius, which at the
// height of a tongue is close to the true reach of the wider, unloaded tyre. Frame T, m, rad.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "geometry/drawn_model.h"
#include "geometry/plan_contact.h"

namespace hitchwright {

/// Turns are looked at as far as this (rad, 150 deg): further round no drawn machine goes, and a wide-angle joint folds.
inline constexpr double farthest_turn = 150.0 / 180.0 * 3.14159265358979323846;

/// What can stop a turn.
enum class TurnLimitKind { tyre, tractor_joint, implement_joint, bottoming, separation };

/// The limits a turn is held to.
struct TurnLimits {
    double tyre_gap = 0.0;         ///< m between tyre and tongue, at least
    double gap = 0.0;              ///< m left before the shaft bottoms
    double overlap = 0.0;          ///< m of tube overlap, at least; 0: until the tubes part
    std::optional<double> tractor_angle, implement_angle;  ///< rad, joint limits
};

/// Limits of a set-up: clearance, gap and overlap of the rule set, joints held to where the PTO must be off, or to their
/// stops.
enum class JointHold { pto_off, stop };
TurnLimits make_turn_limits(const Setup& setup, const DrawnModel& model, JointHold hold);

/// One limit on one side.
struct TurnStop {
    TurnLimitKind kind{};
    bool reached = false;    ///< false: not up to farthest_turn
    bool from_straight = false;  ///< the limit is broken with the machine straight
    double yaw = 0.0;        ///< rad, size of the turn at which it stops; farthest_turn when not reached
    std::string tyre, bar;   ///< kind tyre: which tyre and which bar
    double in_hand = 0.0;    ///< at the first stop of this side: m of room, gap or overlap, rad of joint angle, beyond the limit
};

/// All limits of one side, the first to stop the turn first.
struct TurnResult {
    TurnSide side = TurnSide::right;
    std::vector<TurnStop> stops;  ///< only kinds that could be judged, by rising yaw
    std::vector<TurnLimitKind> not_judged;  ///< readings missing
};

/// Rectangles of a set-up in plan; empty where readings are missing. Names as findings show them.
struct PlanShape {
    std::vector<std::string> names;
    std::vector<PlanRectangle> rectangles;
};
PlanShape make_tyre_shapes(const Setup& setup);
/// Bars of the implement, straight behind the pin.
PlanShape make_bar_shapes(const Implement& implement, const Point& pin);

/// Both sides, left first.
std::array<TurnResult, 2> find_turn_stops(const Setup& setup, const DrawnModel& model, const TurnLimits& limits);

/// What is left to one limit at a turn of `yaw` (rad, size) to a side on level ground: m of room, gap or overlap, rad of joint
/// angle; negative: broken. Nothing where that limit cannot be judged.
std::optional<double> find_turn_margin(const Setup& setup, const DrawnModel& model, const TurnLimits& limits, TurnSide side,
                                       TurnLimitKind kind, double yaw);

/// Turn that driving forward in the tightest circle comes to; backing can come to any.
struct SteadyTurn {
    bool folds = false;  ///< true: the tongue is too long for the circle; going on forward folds it up until something meets
    double yaw = 0.0;    ///< rad; pi/2 plus the pin's share at the limit when it folds
};
/// `radius`: middle of the rear axle to the centre of the turn; `pin_behind_axle`, `tongue`: pin to implement axle; m, > 0.
/// From w.t = tongue, w the centre seen from the pin and t the tongue: yaw = atan(pin/radius) + asin(tongue/|w|).
SteadyTurn find_steady_turn(double radius, double pin_behind_axle, double tongue);

}  // namespace hitchwright
