// Pulling at the picture: what a press grabs, how it follows, what the release changes. Nothing here draws.
//
// A pull changes the inputs once, at its release, so that it is one step of undo. The lift and a drawn implement's turn are
// no inputs: they follow at once. Escape puts back what was before.
#pragma once

#include "gui/app_state.h"

namespace hitchwright {

/// Grabs a point, if it can be pulled. `place`: of the cursor, m.
bool grab_point(AppState& app, const PicturePoint& point, DrawingPoint place);

/// Grabs the implement or the lower link of a mounted set-up: the lift follows.
void grab_lift(AppState& app, Carrier carrier, DrawingPoint place);

/// Grabs the implement or a link in the picture from behind: the lift follows up and down.
void grab_height(AppState& app, DrawingPoint place);

/// Grabs a drawn implement: it turns about the hitch as far as the picture shows.
void grab_turn(AppState& app, DrawingPoint place);

/// Grabs a measure of the ditch.
void grab_ditch(AppState& app, DitchMeasure measure);

/// The cursor has moved there. `points`: of the picture, holes among them. `hitch`: a drawn implement turns about it.
void pull_to(AppState& app, const std::vector<PicturePoint>& points, DrawingPoint place, DrawingPoint hitch);

/// The button was let go: what was pulled counts.
void let_go(AppState& app, const std::vector<PicturePoint>& points);

/// Escape: nothing of the pull counts.
void cancel_pull(AppState& app);

/// Takes the hole that a point is. False, with the reason in the notice: it was refused.
bool take_hole(AppState& app, const PicturePoint& hole);

/// Writes a point's own readings, rounded to what the cursor can mean, as assumed: nobody measured them. One that stays
/// the same is left alone.
bool change_readings(AppState& app, const PicturePoint& point, DrawingPoint place);

}  // namespace hitchwright
