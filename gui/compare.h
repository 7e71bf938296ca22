// Two set-ups beside each other: A is kept, B is the one in the window. Nothing here draws.
#pragma once

#include <string>
#include <vector>

#include "cli/difference_output.h"
#include "gui/app_state.h"
#include "report/side_view.h"

namespace hitchwright {

/// The set-up in the window becomes A.
void remember_as_a(AppState& app);
/// The set-up as it was opened becomes A, without the changes made since.
void remember_opened_as_a(AppState& app);
/// Another one becomes A, by name or path. Problems: A is as it was.
std::vector<Problem> remember_named_as_a(AppState& app, const std::string& name);
void forget_a(AppState& app);

/// A comes into the window and what was there becomes A. Where both are over the same file that is one change, which
/// can be undone; another file is opened, and undo begins anew. Problems: nothing was changed.
std::vector<Problem> swap_a_and_b(AppState& app);

/// What differs between A and B; made once for a state of both. Null without A.
const SetupDifference* find_difference(AppState& app);

/// What is drawn as a ghost in place of the working position.
struct Ghost {
    std::string key;  ///< the same for the same ghost
    const Setup* setup = nullptr;
    const Analysis* analysis = nullptr;
    std::string words;
};

/// The holes under the cursor, else A; nothing where that is the set-up in the window. `hovered`: room for the set-up
/// with other holes, which the ghost points to.
std::optional<Ghost> find_ghost(const AppState& app, Setup& hovered);

/// The key alone: what the picture has to be made anew for.
std::string find_ghost_key(const AppState& app);

/// Puts the ghost into a scene at a ball height.
void add_ghost(SideViewScene& scene, const AppState& app, double ball_height);

}  // namespace hitchwright
