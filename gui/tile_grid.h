// A picture of pixels as a grid of tiles, and the pixels that a triangle of Dear ImGui can touch.
//
// Frame: x to the right and y down from the top left corner of the picture, pixels.
#pragma once

#include <array>

#include <imgui.h>

namespace hitchwright {

/// Pixels from left and top up to, but not, right and bottom.
struct PixelBox {
    int left = 0, top = 0, right = 0, bottom = 0;

    bool empty() const { return left >= right || top >= bottom; }
    bool operator==(const PixelBox&) const = default;
};

PixelBox common(const PixelBox& a, const PixelBox& b);

/// Tiles in rows. One is about a line of text high: a number that changes damages little beside it.
struct TileGrid {
    static constexpr int tile_width = 32, tile_height = 16;

    int width = 0, height = 0;  ///< of the picture, pixels

    int columns() const { return (width + tile_width - 1) / tile_width; }
    int rows() const { return (height + tile_height - 1) / tile_height; }
    PixelBox picture() const { return {0, 0, width, height}; }
    /// The tiles that hold pixels of a box within the picture, as columns and rows.
    PixelBox tiles_of(const PixelBox& pixels) const;
    /// The pixels of such tiles.
    PixelBox pixels_of(const PixelBox& tiles) const;
    bool operator==(const TileGrid&) const = default;
};

using Triangle = std::array<const ImDrawVert*, 3>;

/// Triangle `n` of a command.
Triangle triangle_of(const ImDrawList& list, const ImDrawCmd& command, unsigned n);

/// The pixels that a command may touch, within the picture. Rounded as the OpenGL backend of Dear ImGui 1.86 does.
PixelBox find_clip(const ImDrawCmd& command, const TileGrid& grid);

/// The pixels within the clip that a triangle may touch; one more at most where a corner lies on the edge between two.
PixelBox find_pixels(const Triangle& triangle, const PixelBox& clip);

}  // namespace hitchwright
