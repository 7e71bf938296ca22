// Boxes of tiles joined where one box costs less than two.
#pragma once

#include <vector>

#include "gui/tile_grid.h"

namespace hitchwright {

/// Joins boxes, in tiles, that lie over each other, or that cost less as one: what a box costs beside its tiles is as much as
/// `tiles_of_a_box` of them. Afterwards none lies over another, and every tile that was in one still is.
void join_boxes(std::vector<PixelBox>& boxes, int tiles_of_a_box);

}  // namespace hitchwright
