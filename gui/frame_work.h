// Work that does not fit into the frame of an edit and that nobody has to wait for: the table of holes, how far readings may be
// off, what other parts, tyres and holes give. It is done step by step in what a frame of 60 Hz has left over, so that the window never stands still; at rest nothing is
// done. Nothing here draws.
#pragma once

#include "gui/app_state.h"

namespace hitchwright {

/// At the beginning of every frame.
void begin_frame_work(AppState& app);

/// At the end of every frame: a few steps. At least one, unless the frame has computed everything anew and used its time up.
void end_frame_work(AppState& app);

/// True when the next frame does not wait for an event: something moves, or there is work left.
bool wants_frames(const AppState& app);

}  // namespace hitchwright
