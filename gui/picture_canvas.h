// A panel that shows a drawing: places on the screen and in the drawing, and how mouse and keys move it.
#pragma once

#include <imgui.h>

#include "gui/fonts.h"
#include "gui/screen.h"
#include "gui/side_camera.h"

namespace hitchwright {

/// A drawing placed in a panel.
struct PictureCanvas {
    ImVec2 corner, size;  ///< pixels
    float ppm = 5.0F;     ///< pixels per mm of page
    PageRect area;        ///< what is free of it below the buttons, mm from its corner
    PageRect panel;       ///< all of it, mm
    Placement placement;

    PagePoint to_page(ImVec2 at) const { return {static_cast<double>((at.x - corner.x) / ppm), static_cast<double>((at.y - corner.y) / ppm)}; }
    DrawingPoint to_drawing(ImVec2 at) const { return find_drawing_point(placement, to_page(at)); }
    ImVec2 to_screen(DrawingPoint p) const {
        const PagePoint q = placement.to_page(p);
        return {corner.x + static_cast<float>(q.x) * ppm, corner.y + static_cast<float>(q.y) * ppm};
    }
    /// So many pixels in metres of the drawing.
    double metres(float pixels) const { return static_cast<double>(pixels / ppm) * placement.scale_denominator / 1000.0; }
};

/// The canvas of the room left in the current window, below buttons of that height (pixels); without a placement.
PictureCanvas make_canvas(const Screen& screen, float strip);

/// Wheel: zoom about the cursor. Drag: pan, with any button; `pans`: the left one too. Two fingers: both. For the item shown last.
void move_camera(ViewState& view, const PictureCanvas& canvas, bool pans);

/// + and - zoom about the middle, 0 fits, arrows with Shift pan. Only while the picture takes keys.
void move_camera_with_keys(SideCamera& camera, const PictureCanvas& canvas);

/// True when the item shown last gets the keys: the cursor is over it or the keyboard has walked to it, and nobody types.
bool takes_picture_keys(const AppState& app);

/// True when Escape was pressed and belongs to the picture, whoever has the keys: nobody types and no question is open.
bool is_escaped(const AppState& app);

/// True when that character was typed in this frame, whatever the keyboard's layout.
bool is_typed(char character);

/// A key of Dear ImGui, once for each press.
bool is_struck(ImGuiKey key);

/// Text on paper with a thin border at a point, inside the panel.
void draw_tag(const Screen& screen, const PictureCanvas& canvas, ImVec2 at, const std::string& text);

}  // namespace hitchwright
