// Every position of the drawbar's pin side by side, the best first with reasons: text, JSON, CSV.
#pragma once

#include <string>

#include "geometry/drawbar_study.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// The report for a person in blocks, ended by the cautions.
std::vector<AnswerBlock> make_drawbar_blocks(const Setup& setup, const DrawbarStudy& study, const TextStyle& style);
/// The report for a person, lines of at most style.width columns, ended by the cautions.
std::string format_drawbar_report(const Setup& setup, const DrawbarStudy& study, const TextStyle& style);
std::string format_drawbar_json(const Setup& setup, const DrawbarStudy& study, UnitSystem units);
/// A line for each position; lengths in the reader's unit.
std::string format_drawbar_csv(const DrawbarStudy& study, UnitSystem units);

/// Fixed words of machine-readable output.
std::string_view shaft_fit_word(ShaftFit fit);
std::string_view pin_reason_word(PinReasonKind kind);

}  // namespace hitchwright
