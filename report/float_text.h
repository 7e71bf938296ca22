// What a floating upper link allows, as a short block of a fit.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Pitches between the stops through the travel, humps and hollows, deck edges; empty for a rigid link.
std::string format_float_study(const Analysis& analysis, const TextStyle& style);

}  // namespace hitchwright
