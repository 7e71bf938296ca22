// Colours of the window, in line with those of the drawing (report/role_style): dark ink on paper, one blue, one rust,
// one vermilion. Colour only repeats what form and words say.
#pragma once

#include <imgui.h>

namespace hitchwright {

namespace palette {
inline constexpr ImU32 ink = IM_COL32(0x1A, 0x1C, 0x20, 255);
inline constexpr ImU32 quiet = IM_COL32(0x4A, 0x52, 0x5C, 255);
inline constexpr ImU32 line = IM_COL32(0xB9, 0xB4, 0xA6, 255);
inline constexpr ImU32 paper = IM_COL32(0xFF, 0xFF, 0xFF, 255);
inline constexpr ImU32 desk = IM_COL32(0xF3, 0xF0, 0xE8, 255);
inline constexpr ImU32 field = IM_COL32(0xFF, 0xFE, 0xFA, 255);
inline constexpr ImU32 blue = IM_COL32(0x12, 0x47, 0x80, 255);
inline constexpr ImU32 pale_blue = IM_COL32(0xD6, 0xE4, 0xF1, 255);
inline constexpr ImU32 rust = IM_COL32(0x8A, 0x4B, 0x08, 255);
inline constexpr ImU32 alarm = IM_COL32(0xB8, 0x24, 0x0E, 255);
inline constexpr ImU32 pale_alarm = IM_COL32(0xFB, 0xE4, 0xDF, 255);
}  // namespace palette

/// Colours, spacing and rounding of the current context, for text of this em.
void set_style(float em);

}  // namespace hitchwright
