// All lines of a set-up measured against their specification: those it types, those of the lists it names, and those
// whose specification the program knows itself (length, height and drop of the drawbar, drawbar_figures.h).
#pragma once

#include <vector>

#include "geometry/finding.h"
#include "geometry/setup.h"
#include "geometry/specification_line.h"

namespace hitchwright {

/// Lines for which figure and reading are both in the set-up already; a drawn implement has three, others none.
std::vector<SpecificationLine> make_own_lines(const Setup& setup);

/// All lines judged, in their order: the program's own, those of lists, those of the set-up. Worst first: sort_lines.
std::vector<LineResult> check_lines(const Setup& setup);

/// One finding for each typed line that is out or too close to call, and one for all that were not measured. The
/// program's own lines have findings of their own kind. Out of specification is a condition, and forbids only where the
/// line says that it stops work; such a line that is open leaves the answer open.
std::vector<Finding> check_specification(const Setup& setup);

}  // namespace hitchwright
