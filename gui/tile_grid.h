// A picture of pixels as a grid of tiles, and the pixels that a triangle of Dear ImGui can touch.
//
// Frame: x to the right and y down from the top left corner of the picture, pixels.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

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
    PixelBox tiles_of(const PixelBox& pixels) const {
        return {pixels.left / tile_width, pixels.top / tile_height, (pixels.right + tile_width - 1) / tile_width,
                (pixels.bottom + tile_height - 1) / tile_height};
    }
    /// The pixels of such tiles.
    PixelBox pixels_of(const PixelBox& tiles) const;
    bool operator==(const TileGrid&) const = default;
};

using Triangle = std::array<const ImDrawVert*, 3>;

/// The pixels that a command may touch, within the picture. Rounded as the OpenGL backend of Dear ImGui 1.86 does.
PixelBox find_clip(const ImDrawCmd& command, const TileGrid& grid);

namespace detail {

/// A place within limits that are not below zero; one that is no number is at the start.
inline float limit(float place, int least, int most) { return std::min(static_cast<float>(most), std::max(static_cast<float>(least), place)); }

/// The pixel left of or above a place. What is not below zero is rounded down where it is made whole: faster than the function for it.
inline int round_down(float place, int least, int most) { return static_cast<int>(limit(place, least, most)); }

inline int round_up(float place, int least, int most) {
    const float at = limit(place, least, most);
    const int below = static_cast<int>(at);
    return below + (static_cast<float>(below) < at ? 1 : 0);
}

}  // namespace detail

/// The pixels within the clip that a triangle, or the upright rectangle of which it is half, may touch; one more at most where a
/// corner lies on the edge between two.
inline PixelBox find_pixels(const Triangle& triangle, const PixelBox& clip) {
    const ImVec2 a = triangle[0]->pos, b = triangle[1]->pos, c = triangle[2]->pos;
    return {detail::round_down(std::min({a.x, b.x, c.x}), clip.left, clip.right), detail::round_down(std::min({a.y, b.y, c.y}), clip.top, clip.bottom),
            detail::round_up(std::max({a.x, b.x, c.x}), clip.left, clip.right), detail::round_up(std::max({a.y, b.y, c.y}), clip.top, clip.bottom)};
}

}  // namespace hitchwright
