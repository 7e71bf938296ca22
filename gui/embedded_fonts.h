// The letters built into the viewer: the font files of the package fonts-dejavu-core as they were when it was built, so
// that the window looks the same on a machine without them.
#pragma once

#include <string_view>

namespace hitchwright {

/// TrueType files, whole.
std::string_view embedded_regular_font();
std::string_view embedded_bold_font();

/// Copyright and licence of the fonts, as the package has them; goes wherever the fonts go.
std::string_view embedded_font_notice();

}  // namespace hitchwright
