#include "gui/frame_painter.h"

#include <utility>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_opengl3.h>

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

}  // namespace

FramePainter FramePainter::in_window() {
    FramePainter painter;
    painter.copy_ = PartCopy::find();
    painter.keeps_ = painter.copy_.has_value();
    return painter;
}

FramePainter FramePainter::offscreen() {
    FramePainter painter;
    painter.keeps_ = true;
    return painter;
}

void FramePainter::paint(ImDrawData& frame, ImU32 desk) {
    grid_ = {static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
    if (std::exchange(desk_, desk) != desk) forget();
    painted_ = {grid_.picture()};
    if (keeps_) painted_ = damage_.compare(frame);
    if (painted_all()) return paint_whole(frame, desk);
    const ImFontAtlas& letters = *ImGui::GetIO().Fonts;
    if (!painted_.empty()) ImGui_ImplOpenGL3_RenderDrawData(&part_.take(frame, painted_, {desk, letters.TexID, letters.TexUvWhitePixel}));
}

void FramePainter::show(GLFWwindow* window) const {
    if (!copy_) return glfwSwapBuffers(window);
    for (const PixelBox& part : painted_) copy_->copy(part, grid_.height);
}

void FramePainter::take_up(GLFWwindow* window) {
    forget();
    // A driver looks for the window's size where buffers are swapped. What is swapped in is the last frame once more.
    if (copy_ && grid_.width > 0) glfwSwapBuffers(window);
}

}  // namespace hitchwright
