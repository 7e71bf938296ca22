// Words that the questions about files have in common.
#pragma once

#include <string_view>

#include "gui/screen.h"

namespace hitchwright {

/// Why something was not done, a line each.
void show_refusal(Screen& screen, std::string_view message);

/// What stands in fields and was not taken, so that it is not written; nothing, where all was taken.
void show_left_out(Screen& screen);

}  // namespace hitchwright
