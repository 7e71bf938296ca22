// The hole study as a text report: which holes and why, all combinations in tables, why the others come behind, cautions.
#pragma once

#include <string>

#include "geometry/hole_study.h"
#include "geometry/setup.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The report, lines of at most style.width columns.
std::string format_hole_report(const Setup& setup, const HoleStudy& study, const TextStyle& style);

/// One line for each combination, best first, with a header. Lengths in the reader's unit, angles in deg.
std::string format_hole_csv(const Setup& setup, const HoleStudy& study, UnitSystem units);

}  // namespace hitchwright
