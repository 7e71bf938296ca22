// Values that are possible one by one but not together: low above high, a tube longer than the closed shaft,
// two holes of one name ... What is merely wrong for the machine at hand (a link too short, a hole that gives
// a bad pitch) is no matter of files but of findings.
#pragma once

#include <vector>

#include "geometry/setup.h"
#include "presets/field_note.h"
#include "presets/problem.h"

namespace hitchwright {

/// Adds a problem for each contradiction, placed at the one of the two values that came last:
/// `--set` before a file, a file before a built-in one.
/// `prefix` stands before the keys in the notes ("tractor." in a set-up, empty for a file of its own).
void check_contradictions(const Tractor& tractor, const std::string& prefix, const FieldNotes& notes, std::vector<Problem>& problems);
void check_contradictions(const Implement& implement, const std::string& prefix, const FieldNotes& notes, std::vector<Problem>& problems);
void check_contradictions(const Driveline& driveline, const std::string& prefix, const FieldNotes& notes, std::vector<Problem>& problems);

/// The whole set-up: its parts, its choices, and the names the choices use.
void check_contradictions(const Setup& setup, const FieldNotes& notes, std::vector<Problem>& problems);

}  // namespace hitchwright
