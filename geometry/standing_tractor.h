// The readings of a tractor as they would be on the tyres it stands on, and a set-up with such a tractor.
//
// Every reading with a place or a direction in frame T goes with the tractor as one rigid body (tyre_change.h): pins,
// pivots, lift arm and its angles, stub and its slope, drawbar and its pins, cab, check chain, lift cylinder, positions of
// the ball, and ball heights (the same position of the lift arm: the ball of a height is the point of the lower link's
// circle there). Forces of a lift curve go over by virtual work, for the ball rises by another share. Lengths and what is
// across the tractor stay. Errors of the radii are added to those of what moves (two sigma, independent); bands of
// findings do not use these but move the readings themselves, so that an error common to all points counts once.
// Tyre loads of [tyre] are of those tyres and are left out. The front share of the mass stays as weighed.
// Heights that somebody chose against the ground stay as typed: working height and band, stops, transport height, and
// distances taped at a height. Frame T, SI.
#pragma once

#include <optional>

#include "geometry/setup.h"
#include "geometry/tyre_change.h"

namespace hitchwright {

/// A tractor's readings moved. `resolved`: the same tractor with pins nobody could tape in place (hidden_pins.h), for the
/// circle of the ball. Nothing moves unless change.moved().
Tractor move_tractor(const Tractor& tractor, const TyreChange& change, const Tractor& resolved);

/// The set-up standing on the tyres of its choice, as if measured on them: `[tyre]` is theirs and nothing is chosen any
/// more, so that doing it twice does nothing. As it is where nothing is chosen, or where the choice cannot be followed.
Setup stand_on_tyres(const Setup& setup);

/// A set-up as its tractor stands. On its own tyres it is the set-up itself, which must outlive this.
class StandingSetup {
public:
    explicit StandingSetup(const Setup& setup);
    StandingSetup(const StandingSetup&) = delete;
    StandingSetup& operator=(const StandingSetup&) = delete;
    const Setup& operator*() const { return moved_ ? *moved_ : setup_; }
    const Setup* operator->() const { return &**this; }

private:
    const Setup& setup_;
    std::optional<Setup> moved_;
};

}  // namespace hitchwright
