// Words on a picture of a set-up: the verdict and the cautions that end its report.
#pragma once

#include "geometry/analysis.h"
#include "report/side_view_scene.h"

namespace hitchwright {

/// Caption and height are left to the caller.
SideViewWords make_picture_words(const Setup& setup, const Analysis& analysis, UnitSystem units);

}  // namespace hitchwright
