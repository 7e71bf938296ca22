// Lift rods and sway as the window changes them: lengths through the edits, by turns of the levelling screw or typed; the sway
// of the picture from behind is part of the view. Nothing here draws.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "gui/app_state.h"

namespace hitchwright {

/// "choices.right_lift_rod_length", "choices.left_lift_rod_length".
const char* rod_key(TractorSide side);

/// Length of a lift rod as set, m; nothing without lift arm and rods.
std::optional<double> find_rod_as_set(const AppState& app, TractorSide side);

/// One step of a rod, m: what a turn of the levelling screw moves it, or a mark of the tape where nobody knows that or the
/// rod has no screw.
struct RodStep {
    double length = 0.0;
    bool turn = false;  ///< of the screw
};
RodStep find_rod_step(const AppState& app, TractorSide side);

/// Sets one rod. `origin`: said from now on; empty: none. One that stays the same is left alone.
std::vector<Problem> change_rod(AppState& app, TractorSide side, double length, std::string_view origin = {});

/// So many steps longer; negative: shorter. Problems: there are no rods, or the length is refused.
std::vector<Problem> turn_rod(AppState& app, TractorSide side, int steps);

/// "right lift rod 17 1/4 in, 2 turns longer"; without a length: that none fits there.
std::string say_rod_length(const AppState& app, TractorSide side, std::optional<double> length);

/// "balls 1/2 in to the right of the middle".
std::string say_sway(const AppState& app);

}  // namespace hitchwright
