// A field for one value of the set-up. What is typed is read as in the files ("23 in", "3'2 1/2\"", "585mm"); what cannot
// be read stays in the field with the reason under it, and the old value goes on counting.
#pragma once

#include "geometry/reading.h"
#include "gui/screen.h"

namespace hitchwright {

/// What a field is about.
struct QuantityField {
    const char* key;       ///< "choices.upper_link_length"
    const char* label;     ///< in the trade's words
    Dimension dimension;   ///< length or angle
    const char* when_unknown;  ///< shown in the empty field: what holds then
};

/// Shows the field for a value as it is now.
void show_quantity_field(Screen& screen, const QuantityField& field, const Reading& now);

/// Takes a text for a value, as if typed into its field; the reason why it was refused, or nothing.
std::string enter_quantity(AppState& app, const QuantityField& field, std::string_view text);

}  // namespace hitchwright
