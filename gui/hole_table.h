// The table of holes: every pair of upper-link holes of the set-up shown, judged one in a frame, so that an edit does not
// wait for it. Nothing here draws.
//
// It is made for the results at hand (`revision`) once somebody wants to see it. Until it is done the rows of the set-up before
// stand in their places where the holes are the same ones; they are no ghosts and are said to be old.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "geometry/hole_study.h"
#include "gui/hole_curves.h"

namespace hitchwright {

struct AppState;

/// Names of the holes of a set-up: upper link, mast, lift rod.
using HoleNames = std::array<std::vector<std::string>, 3>;

struct HoleTable {
    int revision = -1;                 ///< of the results it is made for; -1: none yet
    HoleStudy study;                   ///< best first; while `search` is at work, of the inputs before
    HoleCurves curves;                 ///< of `study`
    std::optional<HoleSearch> search;  ///< at work
    HoleNames names;                   ///< of the holes in `study`
    bool wanted = false;               ///< it was shown in this frame
};

/// Begins the table for the results at hand, where it is not begun, and keeps it going in this frame.
void want_hole_table(AppState& app);

/// True when the table is whole and belongs to the results at hand.
bool is_compared(const AppState& app);

/// True while a table somebody wants is not whole.
bool is_comparing(const AppState& app);

/// Judges one pair. False: there is nothing to do, or nobody wants it.
bool step_hole_table(AppState& app);

/// The whole table of the results at hand, now.
const HoleStudy& finish_hole_table(AppState& app);

}  // namespace hitchwright
