// What add-on parts change, as a short block of a fit: with, without, and the difference.
#pragma once

#include <string>
#include <string_view>

#include "geometry/analysis.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Fixed word of a part, as in files: coupler, link_extender, overrunning_clutch, spline_extender.
std::string_view part_word(PartKind part);

/// What a part is called in sentences, with the set-up's own name for it: "coupler (hooks)".
std::string part_name(PartKind part, std::string_view own_name);

/// "With and without the coupler" for every fitted part; empty when none is.
std::string format_part_effects(const Analysis& analysis, const TextStyle& style);

}  // namespace hitchwright
