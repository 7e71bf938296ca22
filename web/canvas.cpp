#include "web/canvas.h"

#include <algorithm>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>

namespace hitchwright {

Canvas::Canvas(const std::string& title, CanvasSize size, void (*watch)(GLFWwindow*)) {
    if (glfwInit() != GLFW_TRUE) return;
    // Paper is not to be seen through, and nothing is drawn behind anything.
    for (const int bits : {GLFW_ALPHA_BITS, GLFW_DEPTH_BITS, GLFW_STENCIL_BITS}) glfwWindowHint(bits, 0);
    window_ = glfwCreateWindow(size.width, size.height, title.c_str(), nullptr, nullptr);
    if (window_ == nullptr) return;
    glfwMakeContextCurrent(window_);
    watch(window_);
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    io.ConfigInputTextCursorBlink = false;  // a blinking cursor would need frames without an event
    ImGui_ImplGlfw_InitForOpenGL(window_, true);
    drawn_on_ = ImGui_ImplOpenGL3_Init(nullptr);
}

Canvas::~Canvas() {
    if (drawn_on_) ImGui_ImplOpenGL3_Shutdown();
    if (ImGui::GetCurrentContext() != nullptr) {
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
    }
    glfwTerminate();
}

void Canvas::resize(CanvasSize size) { glfwSetWindowSize(window_, size.width, size.height); }

void Canvas::begin_frame(const std::function<void()>& point) {
    constexpr float least_frame = 1e-4F;  // s; a browser's clock may stand still between two frames
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    ImGui::GetIO().DeltaTime = std::max(ImGui::GetIO().DeltaTime, least_frame);
    point();
    ImGui::NewFrame();
}

void Canvas::end_frame(ImU32 desk) {
    ImGui::Render();
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    glViewport(0, 0, static_cast<int>(size.x), static_cast<int>(size.y));
    const ImVec4 c = ImGui::ColorConvertU32ToFloat4(desk);
    glClearColor(c.x, c.y, c.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window_);
}

void Canvas::take_letters() {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
}

}  // namespace hitchwright
