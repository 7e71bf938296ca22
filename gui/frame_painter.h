// Frames of Dear ImGui brought to the screen. Where the processor draws in any case it paints them without OpenGL's detours, and of each
// no more than differs from the one before; elsewhere OpenGL draws each frame whole.
#pragma once

#include <optional>
#include <vector>

#include "gui/frame_damage.h"
#include "gui/part_copy.h"
#include "gui/pixel_blit.h"
#include "gui/pixel_painter.h"

struct GLFWwindow;

namespace hitchwright {

class FramePainter {
public:
    /// For the current window, whose frames are brought to the screen by `show`.
    static FramePainter in_window();
    /// For any framebuffer, by OpenGL.
    static FramePainter by_opengl() { return {}; }

    /// Draws a frame on the desk's colour into the current framebuffer.
    void paint(ImDrawData& frame, ImU32 desk);
    /// Brings what was painted last to the screen.
    void show(GLFWwindow* window) const;
    /// True: the frame painted last was painted whole.
    bool painted_all() const { return painted_ == std::vector{grid_.picture()}; }
    /// What was drawn is lost, or the letters' texture another: the next frame is painted whole.
    void forget() { damage_.forget(); }
    /// The window has another size, or was uncovered.
    void take_up(GLFWwindow* window);

private:
    /// How the processor's pixels come to the screen.
    struct Ways {
        PartCopy copy;
        PixelBlit blit;
    };

    std::optional<Ways> ways_;  ///< none: OpenGL draws
    FrameDamage damage_;
    PixelPainter pixels_;
    ImU32 desk_ = 0;
    TileGrid grid_;                  ///< of the frame painted last
    std::vector<PixelBox> painted_;  ///< of it, anew
};

}  // namespace hitchwright
