// Which other drawn set-up is drawn dashed in the picture of the one in the window, and how it stands there. Nothing here draws.
#pragma once

#include <optional>
#include <string>

#include "gui/compare.h"
#include "report/ditch_view.h"
#include "report/drawn_view.h"

namespace hitchwright {

/// Attitude of the implement in the pictures from above and from the side: straight and level unless it was moved.
Attitude find_shown_attitude(const AppState& app);

/// A beside B at an attitude: turned and rolled as B, and dipped as far from its own level as B from its own, as on the same
/// ground; brought inside what is judged for A. Nothing without A, or where its hitch is not known.
std::optional<DrawnGhost> find_drawn_ghost(const AppState& app, const Attitude& shown);

/// A at the place on the way where B stands. Nothing without A, and where A crosses no ditch or another one.
std::optional<DitchGhost> find_ditch_ghost(const AppState& app, const DitchStation& shown);

/// Why A is not drawn in the picture shown, though it differs from B; empty: it is drawn, or there is none.
std::string say_why_no_ghost(const AppState& app);

}  // namespace hitchwright
