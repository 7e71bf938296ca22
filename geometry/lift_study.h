// Will it lift: what the tractor gives at the implement's own centre of gravity at every height, beside what it weighs.
//
// By virtual work the balls must give N(h) = g (m dz_cg/dz_ball + m_c dz_c/dz_ball), m the implement, m_c a coupler;
// they have F(h) (ball_force.h). What is left for the implement: capacity(h) = (F/g - m_c dz_c/dz_ball) /
// (dz_cg/dz_ball). Where the load does not rise with the balls there is no such number. Raised, a floating link is in
// tension at its longest: that length counts. Below the working height the implement stands on the ground: what the
// lift gives there is not asked. A swing strap between stops is not reckoned. Least capacity and the heights at which
// the load is lifted are bounded over every height (bounded_extreme.h). Static, level ground. SI.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/ball_force.h"
#include "geometry/error_model.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// Standard gravity, m/s^2: what turns kg into N.
inline constexpr double gravity = 9.80665;

/// Whether the tractor lifts the load.
enum class LiftAnswer {
    not_known,    ///< mass, or any lift figure, is missing
    lifts,        ///< at every height that is judged
    lifts_not,    ///< at no height, or not from the lowest one
    stalls,       ///< from the lowest up to `stall`
    not_assured,  ///< what is known at least is not enough somewhere; the tractor may lift more
    load_stops    ///< somewhere the load does not rise with the balls
};

/// One height of the table.
struct LiftRow {
    double height = 0.0;
    double rise = 0.0;               ///< dz_cg/dz_ball
    std::optional<double> at_balls;  ///< N, what the tractor gives there
    std::optional<double> needed;    ///< N, what the load asks of the balls
    std::optional<double> capacity;  ///< kg at the centre of gravity; nothing where the load does not rise
    bool operator==(const LiftRow&) const = default;
};

/// Lift of a set-up.
struct LiftStudy {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(LiftStudy);
    LiftAnswer answer = LiftAnswer::not_known;
    std::vector<std::string> missing;  ///< keys of what is not there
    BallForce force;
    LoadPoint point = LoadPoint::behind_610;
    Point load_at = Point::Zero();  ///< frame I moved to the ball, m
    bool mass_known = false;
    double mass = 0.0;          ///< kg
    double coupler_mass = 0.0;  ///< kg; 0 without a coupler, or where nobody weighed it
    Point coupler_at = Point::Zero();
    bool coupler_mass_missing = false;  ///< a coupler is fitted and its mass not known
    HeightRange travel;  ///< heights at which the implement is carried: from the working height, if there is one, up
    std::vector<ForcePiece> pieces;  ///< heights judged: those of them for which a force is known
    bool whole_travel = false;       ///< they are all of them
    bool strap_held = false;         ///< a swing strap between stops: how the load rises against one is not reckoned
    std::optional<TravelExtreme> least_capacity;  ///< kg, over the heights judged; with the load rising throughout
    TravelExtreme rise_least, rise_most;          ///< of the load's centre; meaningless with `rise_known` false
    bool rise_known = false;
    std::vector<HeightRange> rising;  ///< heights at which the load's centre rises with the balls, ends rounded inwards
    std::vector<HeightRange> lifted;  ///< heights at which available >= needed, ends rounded inwards
    std::optional<double> stall;      ///< lifted from the lowest height judged up to here
    std::optional<PublishedPair> pair;
    ErrorBand band;           ///< kg, of the least capacity less the mass
    ErrorBand rise_band;      ///< of rise_least, where it is not above 0
};

/// Studies the lift of the set-up of `errors`; needs a linkage that is ok.
LiftStudy study_lift(const ErrorModel& errors, const MountedModel& model);

/// The same without the band of the readings: for tables of many holes.
LiftStudy study_lift_alone(const Setup& setup, const MountedModel& model);

/// One height; it must close.
LiftRow find_lift_row(const LiftStudy& study, const MountedModel& model, double ball_height);

}  // namespace hitchwright
