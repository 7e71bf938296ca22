// How far readings may be off before a finding or the verdict is another one: looked for on demand, a few analyses in each
// frame (frame_work.h), so that the window never stands still. Nothing here draws.
#pragma once

#include "gui/app_state.h"

namespace hitchwright {

/// Name of a finding in the window: its word and its subject.
std::string finding_id(const Finding& finding);

/// Begins to look for it. Readings: those the finding rests on; all, where it names none.
void ask_how_far(AppState& app, const Finding& finding);

/// True while it is being looked for.
bool is_searching(const AppState& app, const Finding& finding);

/// What was found for this finding and still holds; null: nobody asked, or it is not done.
const std::vector<ReadingRoom>* find_rooms(const AppState& app, const Finding& finding);

/// "Looking: 3 of 12 readings, tractor.pto.stub_x"
std::string say_progress(const AppState& app);

/// Forgets what was looked for with other inputs.
void drop_stale_search(AppState& app);

/// Goes on with the search by one analysis. False: there is nothing to do.
bool step_search(AppState& app);

}  // namespace hitchwright
