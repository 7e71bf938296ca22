// Parts of what a context has drawn, copied to the screen; what was drawn stays as it was.
//
// After a swap of buffers OpenGL promises nothing of what was drawn, so that the next frame must be drawn whole. GLX_MESA_copy_sub_buffer
// copies a part and promises that the rest is left alone. It waits for no refresh of the screen, so it is for where the
// processor draws and the picture goes through memory in any case (GLX_MESA_query_renderer); a graphics card draws whole frames.
#pragma once

#include <optional>

#include "gui/tile_grid.h"

namespace hitchwright {

class PartCopy {
public:
    /// For the current context; none: it has no such copy, or a graphics card.
    static std::optional<PartCopy> find();

    /// `height`: of the picture, pixels.
    void copy(const PixelBox& part, int height) const;

private:
    using Copy = void (*)(void* display, unsigned long drawable, int x, int y, int width, int height);

    Copy copy_ = nullptr;
    void* display_ = nullptr;
    unsigned long drawable_ = 0;
};

}  // namespace hitchwright
