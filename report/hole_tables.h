// The rows of the hole study as three narrow tables: link and pitch, carried load and room, shaft.
#pragma once

#include <string>

#include "geometry/hole_study.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The tables with their headings and what the columns mean; within style.width where the holes' names allow it.
std::string format_hole_tables(const HoleStudy& study, const TextStyle& style);

}  // namespace hitchwright
