// Where each value of a set-up came from: for reports, for messages, and for an editor that changes one
// value in a file and leaves every other byte alone.
#pragma once

#include <map>
#include <string>

#include "geometry/reading.h"

namespace hitchwright {

/// What is known about one value besides the value.
struct FieldNote {
    std::string typed;   ///< as typed; empty for a default
    std::string note;    ///< the note beside the value, or the reason of a default
    std::string file;    ///< path, "built-in:...", "--set"; empty for a default
    int line = 0;        ///< from 1; 0: no position
    int column = 0;      ///< from 1, in characters, of the value; 0: no position
    Origin origin = Origin::assumed;
    bool by_default = false;        ///< nobody gave the value: it is from defaults.h
    Grade grade = Grade::C;         ///< of a default
    std::string tolerance_typed;    ///< as typed in its own key; empty: in the text of the value, or the usual one

    bool operator==(const FieldNote&) const = default;
};

/// Dotted key ("tractor.pto.stub_x", "tractor.upper_link_pin[2].z") to its note. Items of a list stand
/// under their name, nameless ones under their number from 1.
using FieldNotes = std::map<std::string, FieldNote>;

/// Removes the notes of a key and of everything below it.
void erase_notes(FieldNotes& notes, const std::string& key);

}  // namespace hitchwright
