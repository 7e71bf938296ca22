#include "gui/tile_grid.h"

#include <algorithm>

namespace hitchwright {
PixelBox common(const PixelBox& a, const PixelBox& b) {
    return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}

PixelBox TileGrid::pixels_of(const PixelBox& tiles) const {
    return common({tiles.left * tile_width, tiles.top * tile_height, tiles.right * tile_width, tiles.bottom * tile_height}, picture());
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

}  // namespace hitchwright
