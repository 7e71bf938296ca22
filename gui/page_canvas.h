// Draws the shapes of a placed page (report/page.h) on the screen: the same shapes that SVG, PDF and PNG are written
// from, so that screen and print show the same.
#pragma once

#include <vector>

#include <imgui.h>

#include "gui/fonts.h"
#include "report/page.h"

namespace hitchwright {

/// Where a page lies on the screen.
struct PageView {
    ImVec2 corner;               ///< upper left corner of the page, pixels
    float pixels_per_mm = 5.0F;
    bool as_printed = false;     ///< in the colours of the print, whatever the theme: for a preview of paper
    ImVec2 to_screen(PagePoint p) const {
        return {corner.x + static_cast<float>(p.x) * pixels_per_mm, corner.y + static_cast<float>(p.y) * pixels_per_mm};
    }
};

/// Draws the shapes in their order. What is not finite is left out.
void draw_page(ImDrawList& list, const std::vector<PageShape>& shapes, const PageView& view, const Fonts& fonts);

/// A straight line in dashes; `dash_mm` as in role_style.h, empty: solid.
void draw_dashed(ImDrawList& list, const std::vector<ImVec2>& points, bool closed, std::span<const double> dash_mm,
                 float pixels_per_mm, ImU32 colour, float width);

}  // namespace hitchwright
