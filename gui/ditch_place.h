// Which place on the way across the ditch is shown: the one of the slider, else the worst of the study.
#pragma once

#include "gui/app_state.h"

namespace hitchwright {

/// The state shown; nothing without a study of a ditch or where no station stands.
const DitchStation* find_shown_station(const AppState& app);

/// The way it belongs to. The slider goes over the ground as given.
Heading find_shown_heading(const AppState& app);

/// Its place, m behind the middle of the ditch; 0 without one.
double find_shown_place(const AppState& app);

/// The state of the study that tells most, whatever place is shown; nothing without a study.
const DitchWorst* find_worst_on_way(const AppState& app);

}  // namespace hitchwright
