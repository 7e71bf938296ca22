// Which pixels a triangle or an upright rectangle covers: those whose middle lies in it, as OpenGL has it.
//
// Method: corners are rounded to 1/256 of a pixel, so that the side of an edge on which a middle lies is a whole number and decided
// exactly. A middle on an edge belongs to the triangle to the right of it or above it: of two that share an edge, to one (as
// llvmpipe has it in a window).
#pragma once

#include <array>

#include "gui/tile_grid.h"

namespace hitchwright {

class TriangleCover {
public:
    explicit TriangleCover(const Triangle& triangle);

    /// Without an area it covers nothing.
    bool empty() const { return empty_; }

    /// Pixels from left up to, but not, right; none where that is not before.
    struct Run {
        int left = 0, right = 0;
    };
    /// Those covered in row `y` of the pixels of `limits`, which begin at 0 or later.
    Run find_row(int y, Run limits) const;

private:
    /// `across` x + `down` y + `rest` >= 0 on the triangle's side, x and y of a pixel; a whole number.
    struct Edge {
        double across = 0.0, down = 0.0, rest = 0.0;
        double per_across = 0.0;  ///< 1 / across; of a level edge 0
    };
    std::array<Edge, 3> edges_;
    bool empty_ = false;
};

/// The pixels that an upright rectangle covers: those of its two triangles.
PixelBox find_covered(ImVec2 least, ImVec2 most);

}  // namespace hitchwright
