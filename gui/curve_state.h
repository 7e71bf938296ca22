// The lines over the travel as the window shows them: which are chosen, and the pictures made of them. Kept until what
// they were made from changes.
#pragma once

#include <set>
#include <vector>

#include "geometry/attitude.h"
#include "report/travel_chart.h"

namespace hitchwright {

/// A placed chart with its room.
struct PlacedCurve {
    PageRect area;
    PagePicture page;
};

struct CurveState {
    std::set<CurveKind> hidden;  ///< taken off by their check marks
    int revision = -1;           ///< of what `panels` were made from
    UnitSystem units = UnitSystem::inch;
    double pitch = 0.0, roll = 0.0;  ///< of a drawn implement, rad
    bool has_bands = false;          ///< the panels have those they can have
    std::vector<CurvePanel> panels;
    std::vector<PlacedCurve> placed;  ///< of each panel; made anew where the room differs
};

}  // namespace hitchwright
