// The answer of `shafts`: which shafts fit as they are, which after a cut, which not and why, what to order.
#pragma once

#include <string>
#include <string_view>

#include "geometry/shaft_choice.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// The answer for an implement without an input shaft.
inline constexpr std::string_view no_shaft_needed = "This implement has no PTO input: it needs no shaft.";

/// Fixed word of a verdict on a shaft, as used in machine-readable output.
std::string_view shaft_suits_word(ShaftSuits suits);

/// The key, "own" when the shaft is in no list.
std::string find_shaft_key(const ShaftChoice& choice);

/// Why the shaft suits or does not, in one or two sentences.
std::string format_shaft_reason(const ShaftChoice& choice, const Setup& setup, UnitSystem units);

/// The answer in one sentence.
std::string format_shaft_answer(const ShaftStudy& study);

/// The whole answer in blocks; the item of a shaft other than the set-up's own has its key.
std::vector<AnswerBlock> make_shaft_blocks(const Setup& setup, const ShaftStudy& study, const TextStyle& style);
/// The whole answer; ends with the cautions of cutting. `setup`: the one the shafts were put in.
std::string format_shaft_choices(const Setup& setup, const ShaftStudy& study, const TextStyle& style);

/// One row for each shaft, best first. The unit of lengths stands at the end of the heading.
std::string format_shaft_choices_csv(const Setup& setup, const ShaftStudy& study, UnitSystem units);

/// Schema hitchwright.shafts. `units` only chooses the wording of the sentences.
std::string format_shaft_choices_json(const Setup& setup, const ShaftStudy& study, UnitSystem units);

}  // namespace hitchwright
