#include "gui/opengl_window.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>

#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {

GlfwSession::GlfwSession() : has_screen_(glfwInit() == GLFW_TRUE) {}

GlfwSession::~GlfwSession() {
    if (has_screen_) glfwTerminate();
}

GLFWwindow* open_window(const std::string& title, WindowSize size, bool visible) {
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
    glfwWindowHint(GLFW_VISIBLE, visible ? GLFW_TRUE : GLFW_FALSE);
    GLFWwindow* const window = glfwCreateWindow(size.width, size.height, title.c_str(), nullptr, nullptr);
    if (window != nullptr) glfwMakeContextCurrent(window);
    return window;
}

ImguiSession::ImguiSession(GLFWwindow* window) {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    io.ConfigInputTextCursorBlink = false;  // a blinking cursor would need frames without an event
    ImGui_ImplGlfw_InitForOpenGL(window, true);
    has_opengl_ = ImGui_ImplOpenGL3_Init("#version 130");
}

ImguiSession::~ImguiSession() {
    if (has_opengl_) ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
}

void follow_scale(Screen& screen, Fonts& fonts, FramePainter& painter, float density) {
    const float wanted = density * screen.app.view.scale;
    if (wanted == fonts.scale) return;
    fonts = load_fonts(wanted);
    set_style(fonts.regular.em, screen.app.view.theme);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    painter.forget();
}

float find_density(GLFWwindow* window) {
    float density = 1.0F;
    glfwGetWindowContentScale(window, &density, nullptr);
    return density;
}

void draw_frame(Screen& screen, FramePainter& painter, std::optional<WindowSize> fixed) {
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    if (fixed) {
        ImGui::GetIO().DisplaySize = {static_cast<float>(fixed->width), static_cast<float>(fixed->height)};
        ImGui::GetIO().DisplayFramebufferScale = {1.0F, 1.0F};
    }
    ImGui::NewFrame();
    show_window(screen);
    ImGui::Render();
    painter.paint(*ImGui::GetDrawData(), palette().desk);
}

}  // namespace hitchwright
