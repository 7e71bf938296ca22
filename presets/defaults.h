// The values taken when nobody gave one, each with its reason and grade. There are no others: what is not
// in this list stays unknown, and the answers that need it say so.
#pragma once

#include <span>
#include <string_view>

#include "geometry/setup.h"
#include "presets/field_note.h"

namespace hitchwright {

/// One default.
struct DefaultValue {
    std::string_view key;    ///< dotted key; "[]" stands for every item of a list
    double value;            ///< SI
    double tolerance;        ///< two sigma, SI: how far the assumption may be off, wider than a reading
    Grade grade;
    std::string_view reason;
    std::string_view needs;  ///< key of a reading that must be known, else the default is of no use; may be empty
};

/// All defaults.
std::span<const DefaultValue> default_values();

/// Fills what is unknown with origin `assumed` and writes a note for each. Driveline defaults only where
/// there is a driveline, input-shaft defaults only where there is an input shaft.
void fill_defaults(Setup& setup, FieldNotes& notes);

}  // namespace hitchwright
