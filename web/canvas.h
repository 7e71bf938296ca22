// The page's canvas with WebGL, and Dear ImGui drawn on it: what gui/opengl_window is for a window.
//
// Through the GLFW that emscripten has (of version 3.2): it makes the context and hands on keys and mouse, whose places are pixels of
// the canvas. The canvas has as many as the screen, on a dense one several to a CSS pixel.
#pragma once

#include <functional>
#include <string>

#include <imgui.h>

struct GLFWwindow;

namespace hitchwright {

/// Size of the canvas, and its pixels to a CSS pixel.
struct CanvasSize {
    int width = 0, height = 0;
    float density = 1.0F;
};

/// The one canvas of the page, for as long as this lives.
class Canvas {
public:
    /// `watch`: sets callbacks of its own, before Dear ImGui sets those that call them.
    Canvas(const std::string& title, CanvasSize size, void (*watch)(GLFWwindow*));
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    /// False: the browser gives no WebGL, and nothing else may be asked for.
    bool ok() const { return drawn_on_; }
    GLFWwindow* window() const { return window_; }

    void resize(CanvasSize size);
    /// `point`: sets what else points besides the mouse, before the frame begins.
    void begin_frame(const std::function<void()>& point);
    /// Draws the frame on the desk's colour.
    void end_frame(ImU32 desk);
    /// The letters are others: between two frames.
    void take_letters();

private:
    GLFWwindow* window_ = nullptr;
    bool drawn_on_ = false;
};

}  // namespace hitchwright
