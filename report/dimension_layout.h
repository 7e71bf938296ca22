// Dimension lines on the page: where the line runs, its extension lines and arrow heads, and the place of its text.
//
// Method: the line is tried at several offsets on both sides of its two points; the one that crosses least and leaves
// the best place for its text wins. Dimensions are placed before labels and become obstacles for them.
#pragma once

#include <vector>

#include "report/label_layout.h"

namespace hitchwright {

/// A dimension whose two points are on the page.
struct PageDimension {
    PagePoint from, to;
    DimensionDirection direction = DimensionDirection::aligned;
    std::string text;
    TextFace face;
    int rank = 5;
    DimensionPlace guess = {};  ///< tried before all others: what costs more is left sooner. The outcome is that without
};

/// Outcome: shapes to draw, and the indices of the dimensions that found no place.
struct DimensionLayout {
    std::vector<PageShape> shapes;
    std::vector<DimensionPlace> places;  ///< of each dimension, guesses for those like them
    std::vector<std::size_t> unplaced;
};

/// Places the dimensions by rank inside `area` and adds them to `obstacles`.
DimensionLayout place_dimensions(const std::vector<PageDimension>& dimensions, Obstacles& obstacles,
                                 const PageRect& area, const TextMeasure& measure);

}  // namespace hitchwright
