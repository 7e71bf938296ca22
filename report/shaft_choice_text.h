// The answer of `shafts` in words: which shafts fit as they are, which after a cut, which not and why, what to order.
#pragma once

#include "geometry/shaft_choice.h"
#include "report/text_layout.h"

namespace hitchwright {

/// Fixed word of a verdict on a shaft, as used in machine-readable output.
std::string_view shaft_suits_word(ShaftSuits suits);

/// Why the shaft suits or does not, in one or two sentences.
std::string format_shaft_reason(const ShaftChoice& choice, const Setup& setup, UnitSystem units);

/// The whole answer.
std::string format_shaft_choices(const Setup& setup, const std::vector<ShaftChoice>& choices, const ShaftToOrder& order,
                                 const TextStyle& style);

}  // namespace hitchwright
