// What a fit of a drawn implement was judged over, and the shaft at its ends; plain text.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Box of attitudes and who set it, lengths and angles over it and over the level turn, lengths of drawbar that serve.
/// Empty unless the analysis is that of a drawn implement.
std::string format_drawn_study(const Analysis& analysis, const TextStyle& style);

/// "the set-up", "the rule set", "operator manuals of drawn machines", "assumed", "free play of the clevis".
std::string_view box_bound_name(BoxBound bound);

}  // namespace hitchwright
