// Other tyres: how a tractor stands on a tyre set against how it stood when it was measured.
//
//       F o - - - - - - - - o R      the axle centres F and R are fixed to the tractor, d apart
//         |                 |        on any tyres each stands its radius above the floor:
//    -----+-----------------+-----   slope of the line F to R (rear end up positive) = asin((r_R - r_F) / d)
//
// Putting other tyres on raises the rear axle by the difference of the rear radii and turns the tractor about it by the
// difference of the two slopes; d follows from the wheelbase and the radii it was measured on (the wheelbase is level,
// as frame T has it). Frame T keeps its origin on the ground below the rear axle, so that the rear axle stays at x = 0
// and everything else goes round it: p' = R' + rotation(turn) (p - R).
// A front radius that the set does not give is that of the tractor's own front tyres. Where the tractor's front radius or
// the wheelbase is not known, the turn is not: the tractor is taken as staying level, and `level_assumed` says so.
// Not reckoned: how much more or less a tyre gives under the load. Exact for rigid tyres of the radii given. Frame T, SI.
#pragma once

#include <string>
#include <vector>

#include "geometry/point.h"
#include "geometry/setup.h"

namespace hitchwright {

/// How a tractor stands on the tyres chosen.
struct TyreChange {
    enum class Status {
        own,          ///< the tyres it was measured on; nothing moves
        moved,        ///< on another set
        no_such_set,  ///< the name chosen is not in the list
        missing       ///< a rear radius is not known: `missing` names it
    };
    Status status = Status::own;
    std::string name;                 ///< of the set
    std::vector<std::string> missing; ///< keys; with `level_assumed` those that the turn would want
    bool level_assumed = false;       ///< the turn is not known and taken as none
    double own_rear = 0.0, rear = 0.0;  ///< m, rear radii, measured on and now
    double turn = 0.0;                ///< rad, rear end up positive
    double front_rise = 0.0;          ///< m, of the front axle; with a turn that is known
    double wheelbase_share = 1.0;     ///< level wheelbase now, as a share of the one measured

    double rise() const { return rear - own_rear; }  ///< m, of the rear axle
    bool moved() const { return status == Status::moved; }
    /// Where a point of the tractor, read on its own tyres, is now.
    Point place(const Point& read) const { return Point(0.0, rear) + rotate(read - Point(0.0, own_rear), turn); }
};

/// How the tractor stands on the set of that name; empty: on its own tyres.
TyreChange find_tyre_change(const Tractor& tractor, const std::string& set);

/// How the tractor of a set-up stands.
TyreChange find_tyre_change(const Setup& setup);

/// The error that the radii and the wheelbase bring into the place of a point (two sigma of independent errors, first
/// order): m across, m up; and into the turn, rad.
struct TyreError {
    Point place = Point::Zero();
    double turn = 0.0;
};
TyreError find_tyre_error(const Tractor& tractor, const TyreChange& change, const Point& read);

}  // namespace hitchwright
