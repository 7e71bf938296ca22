// What is one switch away from the set-up in the window: listed with its verdict, looked for one analysis after the other
// (frame_work.h) while the room is open, and thrown as one change. Nothing here draws.
#pragma once

#include <string>
#include <vector>

#include "geometry/variant.h"
#include "gui/app_state.h"

namespace hitchwright {

/// The switches of the set-up as it is; asks for their answers in this frame. Shafts have a room of their own.
const std::vector<Variant>& list_switches(AppState& app);

/// The answer of the switch at that place in the list; null: not looked for yet.
const VariantAnswer* find_switch_answer(const AppState& app, std::size_t place);

/// The set-up as it stands is kept as A, and the switch is thrown in the window: one change, which can be undone.
/// Problems: nothing was changed, and A is what it was.
std::vector<Problem> throw_switch(AppState& app, const Variant& variant);

/// True while answers are wanted and not all there.
bool has_switches_left(const AppState& app);

/// Goes on by one analysis. False: there is nothing to do.
bool step_switches(AppState& app);

}  // namespace hitchwright
