// Panels with their borders: of a size that is given, or as high as what stands in them.
#pragma once

#include "gui/screen.h"

namespace hitchwright {

/// A child of the window. It has the desk's colour, which is there already: to fill it again is half the work of a frame where a
/// processor draws. As ImGui::BeginChild; ended by ImGui::EndChild.
bool begin_on_desk(const char* name, ImVec2 size, bool border, ImGuiWindowFlags flags);

/// A panel with its border. The name is also its place.
void show_panel(Screen& screen, const char* name, ImVec2 size, void (*show)(Screen&), ImGuiWindowFlags flags = 0);

/// The same over the width that is left and as high as what stands in it, by the frame before: it is scrolled with what it stands in.
void show_whole_panel(Screen& screen, const char* name, void (*show)(Screen&));

/// The one or the other: in one column panels are not scrolled by themselves.
void show_fitting_panel(Screen& screen, const char* name, ImVec2 size, void (*show)(Screen&));

}  // namespace hitchwright
