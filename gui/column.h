// One column in place of three, for a window too narrow for them: verdict, picture, lift, then the tools and the room chosen. It is
// scrolled as one; only the cautions stand below it whatever is scrolled.
#pragma once

#include "gui/screen.h"

namespace hitchwright {

/// True for a window that is too narrow for three columns.
bool wants_column(const Screen& screen);

/// The column in the room given. Turned to another width it shows the same part of it as before.
void show_column(Screen& screen, ImVec2 size);

}  // namespace hitchwright
