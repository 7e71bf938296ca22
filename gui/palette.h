// Colours of the window, in line with those of the drawing (report/role_style): ink on paper, one blue, one rust, one
// vermilion, once for daylight and once for the dark. Colour only repeats what form and words say.
#pragma once

#include <imgui.h>

#include "report/role_style.h"

namespace hitchwright {

/// Dark ink on paper, for sunlight; or pale ink on a dark desk.
enum class Theme { light, dark };

/// The colours of one theme.
struct Palette {
    ImU32 ink, quiet, line;  ///< words, lesser words, borders
    ImU32 paper, desk, field;
    ImU32 blue, pale_blue;   ///< headings and what is chosen
    ImU32 rust;              ///< wants attention
    ImU32 alarm, pale_alarm; ///< must not be
    ImU32 shade;             ///< over what waits behind a question
};

const Palette& palette_of(Theme theme);

/// The palette of the current context, as set by `set_style`; the light one before.
const Palette& palette();

/// A colour of the drawing in the current palette; one that no role has stays as it is.
ImU32 screen_colour(Colour c);

/// A colour of the drawing as it is printed, whatever the theme.
ImU32 printed_colour(Colour c);

/// Room between the words of a button and its edge, pixels: so much that a finger hits what is to be `target` high; 0: a mouse does.
ImVec2 find_frame_padding(float em, float target);

/// Colours, spacing and rounding of the current context, for text of this em.
void set_style(float em, Theme theme, float target = 0.0F);

}  // namespace hitchwright
