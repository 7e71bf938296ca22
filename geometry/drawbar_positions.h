// The study of all drawbar positions with what they are judged by alone: for a set-up that is analysed anew at every
// edit.
#pragma once

#include "geometry/drawbar_study.h"

namespace hitchwright {

/// study_drawbar, but of the extremes only the lengths over the box, and the longest and the joint angles over the
/// level turn; the others have 0 evaluations.
DrawbarStudy judge_positions(const Setup& setup, const Mark& mark);

}  // namespace hitchwright
