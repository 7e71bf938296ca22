// A field of the panel's upper part, where the things stand that one sets while trying: with words of its own.
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

/// Shows the field for a value as it is now: its own, or the one that holds in its place.
void show_quantity_field(Screen& screen, const QuantityField& field, const Reading& now);

}  // namespace hitchwright
