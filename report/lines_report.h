// All lines of a set-up measured against their specification, worst first: text, JSON, CSV.
#pragma once

#include <string>
#include <vector>

#include "geometry/setup.h"
#include "geometry/specification_line.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// How many lines there are of each verdict.
struct LineCounts {
    int out = 0, too_close = 0, not_measured = 0, in = 0;
    bool operator==(const LineCounts&) const = default;
};
LineCounts count_lines(const std::vector<LineResult>& lines);

/// "2 out, 1 too close to call, 3 not measured, 4 in"; what is none is left out, "no lines" when all are.
std::string say_counts(const LineCounts& counts);

/// The report for a person in blocks, ended by the cautions. `lines` in their order.
std::vector<AnswerBlock> make_line_blocks(const Setup& setup, const std::vector<LineResult>& lines, const TextStyle& style);
/// The report for a person, lines of at most style.width columns, ended by the cautions. `lines` in their order.
std::string format_lines_report(const Setup& setup, const std::vector<LineResult>& lines, const TextStyle& style);
/// Schema hitchwright.lines (docs/json.md). `units` only chooses the wording of the sentences.
std::string format_lines_json(const Setup& setup, const std::vector<LineResult>& lines, UnitSystem units);
/// A row for each line; lengths in the reader's unit, other quantities in the unit that stands beside them.
std::string format_lines_csv(const std::vector<LineResult>& lines, UnitSystem units);

}  // namespace hitchwright
