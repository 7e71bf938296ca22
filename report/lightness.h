// How light a colour is, for pages in black and white (weights of red, green and blue: ITU-R BT.709).
#pragma once

#include "report/role_style.h"

namespace hitchwright {

/// From 0, black, to 1, white.
constexpr double lightness_of(Colour c) { return (0.2126 * c.red + 0.7152 * c.green + 0.0722 * c.blue) / 255.0; }

}  // namespace hitchwright
