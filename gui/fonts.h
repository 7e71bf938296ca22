// The letters on the screen: DejaVu Sans, built into the program (embedded_fonts.h).
//
// Sizes are ems in pixels, so that text on the screen and text of a placed page (mm) agree: the small face of a page
// (2.6 mm) is the regular font.
#pragma once

#include <string_view>

#include <imgui.h>

#include "report/text_measure.h"

namespace hitchwright {

/// A font with the em it was made for.
struct ScreenFont {
    ImFont* font = nullptr;
    float em = 13.0F;  ///< pixels
};

/// The fonts of the window.
struct Fonts {
    ScreenFont regular, bold, large;  ///< large: bold, for the verdict
    float pixels_per_mm = 5.0F;       ///< of a page shown on the screen
    float scale = 1.0F;               ///< they were made for

    /// The font for a face of a page.
    const ScreenFont& face(TextFace face) const;
};

/// Fills the atlas of the current context with the fonts, in place of those it had, and builds it. `scale`: 2 for a screen of twice the usual density.
Fonts load_fonts(float scale);

/// Measures text as the screen shows it.
class ScreenTextMeasure final : public TextMeasure {
public:
    explicit ScreenTextMeasure(const Fonts& fonts) : fonts_(fonts) {}
    double width_mm(std::string_view text, TextFace face) const override;

private:
    const Fonts& fonts_;
};

}  // namespace hitchwright
