// Frames of Dear ImGui drawn by OpenGL, and brought to the screen: of each no more than differs from the one before, where
// the framebuffer keeps what was drawn into it; else the whole of it.
#pragma once

#include <optional>
#include <vector>

#include "gui/frame_damage.h"
#include "gui/frame_part.h"
#include "gui/part_copy.h"

struct GLFWwindow;

namespace hitchwright {

class FramePainter {
public:
    /// For the current window, whose frames are brought to the screen by `show`.
    static FramePainter in_window();
    /// For a framebuffer of one's own that nothing else draws into.
    static FramePainter offscreen();

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
    bool keeps_ = false;  ///< the framebuffer, what was drawn into it
    std::optional<PartCopy> copy_;
    FrameDamage damage_;
    FramePart part_;
    ImU32 desk_ = 0;
    TileGrid grid_;                  ///< of the frame painted last
    std::vector<PixelBox> painted_;  ///< of it, anew
};

}  // namespace hitchwright
