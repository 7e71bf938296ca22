// The machine on its way through the ditch by itself: play, pause, step, speed. Nothing here draws.
#pragma once

#include <array>

#include "gui/app_state.h"

namespace hitchwright {

/// Speeds to choose from, m/s along the way.
inline constexpr std::array<double, 4> march_speeds = {0.25, 0.5, 1.0, 2.0};

/// True when the ditch is shown and the machine has a way across it.
bool can_march(const AppState& app);

/// Starts, from the beginning when it stands at the end; or stops where it is.
void toggle_march(AppState& app);

/// Drives on for so many seconds; stops at the end of the way. Frames go on only while it plays.
void advance_march(AppState& app, double seconds);

/// So many stations forward (or back), standing.
void step_march(AppState& app, int stations);

/// Share of the way behind the machine, 0 to 1; of the place shown, or of the worst one.
struct MarchShares {
    double shown = 0.0;
    std::optional<double> worst;  ///< none: it lies on the way the other way round
};
MarchShares find_march_shares(const AppState& app);

}  // namespace hitchwright
