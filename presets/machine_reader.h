// Tractor, implement and driveline from a file, or from a table of a set-up laid over what is there.
//
// Each function adds to the problems and notes it is given and goes on; a value with a problem is left as
// it was. Instantiated for Tractor, Implement, Driveline and (tables only) Choices and the add-on parts.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/setup.h"
#include "presets/field_note.h"
#include "presets/problem.h"
#include "presets/source_tree.h"
#include "presets/toml_reader.h"

namespace hitchwright {

/// Problems and notes of a reading.
struct Findings {
    std::vector<Problem> problems;
    FieldNotes notes;
};

/// Reads the text of a file of T's kind into `machine`. `file` names it in problems; `origin` holds for
/// values where the file states none; `note_prefix` ("tractor.") stands before each key in the notes.
template <class T>
void read_machine_file(T& machine, std::string_view text, const std::string& file, Origin origin,
                       const std::string& note_prefix, Findings& findings);

/// The same for a text that was parsed before.
template <class T>
void read_machine_file(T& machine, const ParsedToml& parsed, const std::string& file, Origin origin, const std::string& note_prefix,
                       Findings& findings);

/// Reads a table of a set-up into `machine`; only keys that are there change anything. `prefix` is the path
/// to the table with its dot, in problems and notes. `use` is left to the caller.
template <class T>
void read_machine_table(T& machine, const SourceNode& table, const SourceFile& file, const std::string& prefix, Findings& findings);

}  // namespace hitchwright
