// Pixels in memory put into the framebuffer of the current context, by way of a texture.
//
// Where the processor draws this is a copy in memory, as long as the bytes of a pixel stand in the order in which X11 has them.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "gui/tile_grid.h"

namespace hitchwright {

class PixelBlit {
public:
    /// For the current context; none: it lacks a function for it.
    static std::optional<PixelBlit> find();

    /// Parts of a picture, row by row from the top, blue in the lowest byte of a pixel, then green and red.
    void put(const std::vector<std::uint32_t>& pixels, const TileGrid& picture, const std::vector<PixelBox>& parts);

private:
    using Generate = void (*)(int count, unsigned* names);
    using Bind = void (*)(unsigned target, unsigned name);
    using Attach = void (*)(unsigned target, unsigned attachment, unsigned kind, unsigned texture, int level);
    using Blit = void (*)(int, int, int, int, int, int, int, int, unsigned what, unsigned filter);

    void fit(const TileGrid& picture);

    Generate generate_ = nullptr;
    Bind bind_ = nullptr;
    Attach attach_ = nullptr;
    Blit blit_ = nullptr;
    unsigned texture_ = 0, framebuffer_ = 0;  ///< of the context, which ends them
    TileGrid size_;                           ///< of the texture
};

}  // namespace hitchwright
