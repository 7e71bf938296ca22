// The cut while its mark is dragged, and the picture of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/telescoping.h"
#include "report/format_length.h"
#include "report/page.h"

namespace hitchwright {

struct CutState {
    std::optional<double>
        dragged;                ///< m off the half that loses more, while the mark is dragged; not yet in the set-up
    int drag_revision = -1;     ///< of the results that are dragged over
    int scale_frame = -1;       ///< in which the scale was shown last
    int keyed_frame = -1;       ///< in which the mark had the keyboard last, by a click or by Tab: the arrow keys are its own
    std::string reason;         ///< why the mark goes no further; empty: it does
    int picture_revision = -1;  ///< of what `page` was made from
    CutPair picture_cut;
    double picture_width = 0.0, picture_height = 0.0;  ///< mm
    UnitSystem picture_units = UnitSystem::inch;
    PagePicture page;
    int ways_revision = -1;  ///< of what `ways_out` was made from
    UnitSystem ways_units = UnitSystem::inch;
    std::vector<std::string> ways_out;
};

}  // namespace hitchwright
