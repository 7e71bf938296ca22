// Fingers on the screen as what the panels know: a mouse, a wheel, a picture that is zoomed and moved.
//
// A finger presses nothing as long as it can still mean something else: a tap presses when it ends, a finger that moves drags what
// can be dragged (FingerMove) and else scrolls, one that rests for half a second shows what hovering shows until it is lifted. Two
// fingers on a picture zoom and move it.
#pragma once

#include "gui/app_state.h"

namespace hitchwright {

enum class FingerEvent { down, move, up, cancel };

/// A finger came, moved or went, pixels.
void take_finger(TouchState& touch, FingerEvent event, Finger finger);

/// The mouse was used: its place counts from now on.
void take_mouse(TouchState& touch);

/// Sets Dear ImGui's mouse for the frame that begins now, and scrolls. Before ImGui::NewFrame, after the window system's own.
void use_fingers(AppState& app);

/// True while a finger wants frames although nothing comes from outside.
bool wants_frames(const TouchState& touch);

}  // namespace hitchwright
