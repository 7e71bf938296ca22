// The text field that is typed into, for a keyboard that is no key of the window: one on the screen types into a field of its own,
// whose text is handed in whole.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "gui/app_state.h"

namespace hitchwright {

struct TypedField {
    std::string text;   ///< as it stands in the field
    std::string label;  ///< what it is for
    ScreenRect place;
};

/// The field that has the keyboard; none: nobody types. After a frame.
std::optional<TypedField> find_typed_field(AppState& app);

/// Puts a text in place of what stands in the field, in the frame that begins now.
void replace_typed(std::string_view text);

/// Presses the key that ends typing, in the frame that begins now, and lets it go in the next.
void press_end_of_typing(bool takes_text, bool down);

}  // namespace hitchwright
