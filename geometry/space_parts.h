// A study of the space beside the tractor without its levelling, which asks nothing of the rest and so can be done at the same time.
#pragma once

#include "geometry/space_study.h"

namespace hitchwright {

/// study_space of space_study.h, but for `levelling` (study_levelling of levelling.h).
SpaceStudy study_sway_and_room(const ErrorModel& errors, const MountedModel& model);

}  // namespace hitchwright
