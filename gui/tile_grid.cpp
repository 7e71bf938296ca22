#include "gui/tile_grid.h"

#include <algorithm>

namespace hitchwright {
namespace {

/// A place within limits that are not below zero; one that is no number is at the start.
float limit(float place, int least, int most) { return std::min(static_cast<float>(most), std::max(static_cast<float>(least), place)); }

/// The pixel left of or above a place. What is not below zero is rounded down where it is made whole: faster than the function for it.
int round_down(float place, int least, int most) { return static_cast<int>(limit(place, least, most)); }

int round_up(float place, int least, int most) {
    const float at = limit(place, least, most);
    const int below = static_cast<int>(at);
    return below + (static_cast<float>(below) < at ? 1 : 0);
}

}  // namespace

PixelBox common(const PixelBox& a, const PixelBox& b) {
    return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}

PixelBox TileGrid::tiles_of(const PixelBox& pixels) const {
    return {pixels.left / tile_width, pixels.top / tile_height, (pixels.right + tile_width - 1) / tile_width,
            (pixels.bottom + tile_height - 1) / tile_height};
}

PixelBox TileGrid::pixels_of(const PixelBox& tiles) const {
    return common({tiles.left * tile_width, tiles.top * tile_height, tiles.right * tile_width, tiles.bottom * tile_height}, picture());
}

Triangle triangle_of(const ImDrawList& list, const ImDrawCmd& command, unsigned n) {
    const ImDrawIdx* const index = list.IdxBuffer.Data + command.IdxOffset + std::size_t{3} * n;
    const ImDrawVert* const corners = list.VtxBuffer.Data + command.VtxOffset;
    return {corners + index[0], corners + index[1], corners + index[2]};
}

PixelBox find_clip(const ImDrawCmd& command, const TileGrid& grid) {
    const ImVec4 clip = command.ClipRect;
    if (!(clip.z > clip.x && clip.w > clip.y)) return {};
    // OpenGL counts from below: the backend rounds the lower edge and the height, and the upper edge follows.
    const int left = static_cast<int>(clip.x), width = static_cast<int>(clip.z - clip.x);
    const int below = static_cast<int>(static_cast<float>(grid.height) - clip.w), height = static_cast<int>(clip.w - clip.y);
    const int bottom = grid.height - below;
    return common({left, bottom - height, left + width, bottom}, grid.picture());
}

PixelBox find_pixels(const Triangle& triangle, const PixelBox& clip) {
    const ImVec2 a = triangle[0]->pos, b = triangle[1]->pos, c = triangle[2]->pos;
    return {round_down(std::min({a.x, b.x, c.x}), clip.left, clip.right), round_down(std::min({a.y, b.y, c.y}), clip.top, clip.bottom),
            round_up(std::max({a.x, b.x, c.x}), clip.left, clip.right), round_up(std::max({a.y, b.y, c.y}), clip.top, clip.bottom)};
}

}  // namespace hitchwright
