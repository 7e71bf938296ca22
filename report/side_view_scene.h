// From a set-up and its analysis to the scene of the side view.
//
// Positions come from the same kernel as the analysis (planar_linkage.h, shaft_kernel.h); nothing is judged here. The
// outline of the implement is a sketch through its measured points and skids, since nobody measures a whole outline;
// the page says so, and marks the measured points.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "report/side_view.h"

namespace hitchwright {

/// Words of the page that others have already found.
struct SideViewWords {
    std::string verdict_sentence;
    std::vector<std::string> cautions;
    std::string caption = {};             ///< the user's own line; empty: none
    std::optional<double> drawn_height = {};  ///< m, ball height of the solid position; none: working
};

/// Scene of a mounted set-up. Without a linkage in the analysis the scene has no position and says so.
SideViewScene make_side_view_scene(const Setup& setup, const Analysis& analysis, const SideViewWords& words,
                                   UnitSystem units);

/// The machine alone at one ball height (m, inside the travel; brought inside otherwise), with the working position
/// ghosted where there is one: for a picture that moves. No verdict, findings or clearances, which are those of the
/// whole travel. Without a linkage in the analysis it has no position and says so; where upper link and mast do not meet
/// it shows them.
SideViewScene make_pose_scene(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units);

/// Tractor and position alone at one ball height, without paths, ghost and shaft rows: for many poses one after the other.
SideViewScene make_bare_scene(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units);

/// Ghosts another set-up at a ball height (brought inside its travel) in place of what the scene has ghosted, with words
/// for it. False, and the scene as it was: the scene has no position, or the other linkage has no travel.
bool ghost_other(SideViewScene& scene, const Setup& other, const Analysis& analysis, double ball_height, std::string words);

}  // namespace hitchwright
