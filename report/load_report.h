// What the tractor lifts and what its axles carry: text, JSON, CSV.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/lift_holes.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// Everything the report shows.
struct LoadAnswer {
    const Setup& setup;
    const Analysis& analysis;
    std::vector<LiftHole> holes;  ///< mounted only
    std::vector<LiftRow> rows;    ///< even steps over the travel
};

/// Studies holes and rows for an analysis. `count` >= 2: heights of the table.
LoadAnswer make_load_answer(const Setup& setup, const Analysis& analysis, int count);

/// Findings of the answer that are about loads, worst first.
std::vector<const Finding*> list_load_findings(const Analysis& analysis);

/// The report for a person in blocks, ended by the cautions.
std::vector<AnswerBlock> make_load_blocks(const LoadAnswer& answer, const TextStyle& style);
std::string format_load_report(const LoadAnswer& answer, const TextStyle& style);
std::string format_load_json(const LoadAnswer& answer, UnitSystem units);
/// A line for each height of the table.
std::string format_load_csv(const LoadAnswer& answer, UnitSystem units);

}  // namespace hitchwright
