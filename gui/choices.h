// Rows of choices that go on in a new line where the panel ends.
#pragma once

#include <string>

#include "gui/screen.h"

namespace hitchwright {

/// One of several that exclude each other; true when it was chosen anew. Ends beside it: the row ends with `end_choices`.
bool show_choice(Screen& screen, const std::string& label, bool chosen, const std::string& place);
void end_choices();

}  // namespace hitchwright
