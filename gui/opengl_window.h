// A window of GLFW with an OpenGL 3.0 context, and Dear ImGui drawn into it.
//
// Apart from the program, whose events and loop are in main.cpp, so that a benchmark draws the same frames.
#pragma once

#include <optional>
#include <string>

#include "gui/frame_painter.h"
#include "gui/screen.h"
#include "gui/viewer_options.h"

struct GLFWwindow;

namespace hitchwright {

/// GLFW for as long as this lives.
class GlfwSession {
public:
    GlfwSession();
    ~GlfwSession();
    GlfwSession(const GlfwSession&) = delete;
    GlfwSession& operator=(const GlfwSession&) = delete;

    bool has_screen() const { return has_screen_; }

private:
    bool has_screen_ = false;
};

/// A window whose context is the current one; null: this screen has no OpenGL 3.0.
GLFWwindow* open_window(const std::string& title, WindowSize size, bool visible);

/// Dear ImGui with both of its backends, for as long as the window lives.
class ImguiSession {
public:
    explicit ImguiSession(GLFWwindow* window);
    ~ImguiSession();
    ImguiSession(const ImguiSession&) = delete;
    ImguiSession& operator=(const ImguiSession&) = delete;

    bool has_opengl() const { return has_opengl_; }

private:
    bool has_opengl_ = false;
};

/// The letters follow the scale, which is the screen's times the one chosen; between frames, since they are a texture.
void follow_scale(Screen& screen, Fonts& fonts, FramePainter& painter, float density);

/// Pixels to a point of the screen the window is on.
float find_density(GLFWwindow* window);

/// One frame into the current framebuffer. `fixed`: laid out for that size, not for the window's.
void draw_frame(Screen& screen, FramePainter& painter, std::optional<WindowSize> fixed);

}  // namespace hitchwright
