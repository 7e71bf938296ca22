#include "gui/frame_painter.h"

#include <utility>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_opengl3.h>

#include "geometry/work_thread.h"
#include "gui/box_join.h"

namespace hitchwright {
namespace {

void paint_whole(ImDrawData& frame, ImU32 desk) {
    const ImVec2 scale = frame.FramebufferScale;
    glViewport(0, 0, static_cast<int>(frame.DisplaySize.x * scale.x), static_cast<int>(frame.DisplaySize.y * scale.y));
    const ImVec4 c = ImGui::ColorConvertU32ToFloat4(desk);
    glClearColor(c.x, c.y, c.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(&frame);
}

/// True where all is drawn through one texture.
bool uses_only(const ImDrawData& frame, ImTextureID texture) {
    for (int n = 0; n < frame.CmdListsCount; ++n)
        for (const ImDrawCmd& command : frame.CmdLists[n]->CmdBuffer)
            if (command.ElemCount > 0 && command.GetTexID() != texture) return false;
    return true;
}

/// To hand a box to the screen costs as much as the pixels of this many tiles do: the driver waits for the X server after each
/// (Mesa 22.3 and Xvfb, with a window that is shown).
constexpr int tiles_of_a_copy = 150;

/// Fewer boxes that hold these and more; what was drawn is right everywhere.
std::vector<PixelBox> join_for_copy(std::vector<PixelBox> boxes, const TileGrid& grid) {
    for (PixelBox& box : boxes) box = grid.tiles_of(box);
    join_boxes(boxes, tiles_of_a_copy);
    for (PixelBox& box : boxes) box = grid.pixels_of(box);
    return boxes;
}

CoverTexture find_letters() {
    unsigned char* pixels = nullptr;
    CoverTexture letters;
    ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, &letters.width, &letters.height);
    letters.pixels = pixels;
    return letters;
}

}  // namespace

FramePainter FramePainter::in_window() {
    FramePainter painter;
    const std::optional<PartCopy> copy = PartCopy::find();
    const std::optional<PixelBlit> blit = copy ? PixelBlit::find() : std::nullopt;
    if (blit) painter.ways_ = {*copy, *blit};
    return painter;
}

void FramePainter::paint(ImDrawData& frame, ImU32 desk) {
    grid_ = {static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
    if (std::exchange(desk_, desk) != desk) forget();
    if (!ways_ || !is_plain(frame) || !uses_only(frame, ImGui::GetIO().Fonts->TexID)) {
        painted_ = {grid_.picture()};
        forget();
        return paint_whole(frame, desk);
    }
    painted_ = damage_.compare(frame, find_idle_threads());
    if (painted_.empty()) return;
    pixels_.paint(frame, painted_, desk, find_letters(), find_idle_threads());
    ways_->blit.put(pixels_.pixels(), grid_, painted_);
}

void FramePainter::show(GLFWwindow* window) const {
    if (!ways_) return glfwSwapBuffers(window);
    for (const PixelBox& part : join_for_copy(painted_, grid_)) ways_->copy.copy(part, grid_.height);
}

void FramePainter::take_up(GLFWwindow* window) {
    forget();
    // A driver looks for the window's size where buffers are swapped. What is swapped in is the last frame once more.
    if (ways_ && grid_.width > 0) glfwSwapBuffers(window);
}

}  // namespace hitchwright
