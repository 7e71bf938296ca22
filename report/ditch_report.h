// The way across a ditch or ridge: what is worst and where, what still passes; text, JSON, CSV.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// The report for a person in blocks, ended by the cautions. Needs analysis.drawn->ditch.
std::vector<AnswerBlock> make_ditch_blocks(const Setup& setup, const Analysis& analysis, const TextStyle& style);
/// The report for a person. Needs analysis.drawn->ditch.
std::string format_ditch_report(const Setup& setup, const Analysis& analysis, const TextStyle& style);
std::string format_ditch_json(const Setup& setup, const Analysis& analysis, UnitSystem units);
/// A line for each station, both headings; empty cells where the rig finds no stand.
std::string format_ditch_csv(const Analysis& analysis, UnitSystem units);

}  // namespace hitchwright
