// The handles of the ditch in its picture, and the dial of the crossing angle. Each pull or arrow key is one step of undo.
#pragma once

#include "gui/picture_canvas.h"

namespace hitchwright {

/// Handles of depth, width of the bottom and slope where they lie, and the dial in the lower left corner; the ground as
/// pulled. A ground by points has none, and words say so.
void show_ditch_handles(Screen& screen, const PictureCanvas& canvas);

}  // namespace hitchwright
