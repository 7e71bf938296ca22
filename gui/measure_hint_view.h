// What one wants to know before typing a value: from where to where it is measured, with the card's sketch, the usual
// error, what is possible, how the value now came about, and the cautions of the step.
#pragma once

#include "geometry/setup_entries.h"
#include "gui/screen.h"

namespace hitchwright {

/// The words and the sketch in the present window, as wide as its room.
void show_measure_hint(Screen& screen, const SetupEntry& entry);

/// The same in a tooltip at the cursor.
void show_measure_tooltip(Screen& screen, const SetupEntry& entry);

}  // namespace hitchwright
