// From complaint to cause: what was seen against what the set-up says, causes ranked, the reading to take next. Text,
// JSON.
#pragma once

#include <string>

#include "geometry/trace_study.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// The report for a person in blocks, ended by the cautions; `all` as below.
std::vector<AnswerBlock> make_trace_blocks(const Setup& setup, const TraceStudy& study, const TextStyle& style, bool all);
/// The report for a person, lines of at most style.width columns, ended by the cautions. Without `all` the foremost
/// causes and counts of the rest; with it every cause, those too that cannot be it.
std::string format_trace_report(const Setup& setup, const TraceStudy& study, const TextStyle& style, bool all);

/// Everything, whatever `all` says in text. `units` only chooses the wording of the sentences.
std::string format_trace_json(const Setup& setup, const TraceStudy& study, UnitSystem units);

/// Fixed word of an observation's kind and of its place, for machine-readable output.
std::string_view seen_word(SeenKind kind);
std::string_view seen_place_word(SeenPlace place);

/// What an observation is of, with its place: "tail height at working height".
std::string say_seen(const Setup& setup, const Seen& seen, UnitSystem units);

/// A cause as a clause: "upper link in hole 3 of the tractor, not 2".
std::string say_cause(const CauseFit& fit, UnitSystem units);

/// Specification lines that name complaints and are not certainly kept; one that was not measured may be the cause.
std::vector<ComplaintLine> list_complaint_lines(const Setup& setup, UnitSystem units);

}  // namespace hitchwright
