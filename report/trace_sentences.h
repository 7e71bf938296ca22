// Internal to the trace report: its sentences, the same in text and JSON.
#pragma once

#include <string>
#include <vector>

#include "geometry/finding.h"
#include "geometry/trace_study.h"
#include "report/trace_report.h"

namespace hitchwright {

/// Something of what was seen can be reckoned.
bool is_known(const TraceStudy& study);

/// Dimension of a row: that of its kind, and of a reading taken again its own.
Dimension find_row_dimension(const TraceStudy& study, const Seen& seen);

/// A share in percent; what is there never as 0.
std::string say_share(double share);

/// The answer as a sentence.
std::string say_answer(const TraceStudy& study, UnitSystem units);

/// What was seen, what the set-up says, and what errors allow.
std::string say_row(const Setup& setup, const TraceStudy& study, const SeenRow& row, UnitSystem units);

/// A cause with how far out it would be, and from where to where its reading is taken.
std::string say_cause_line(const Setup& setup, const CauseFit& fit, UnitSystem units);

/// What a change that cannot be the cause is of, and what it gives at most: of the row it misses most.
std::string say_what_is_out(const CauseFit& fit, UnitSystem units);
std::string say_cannot(const Setup& setup, const TraceStudy& study, const CauseFit& fit, UnitSystem units);

/// The reading that tells the first two apart. Needs study.next.
std::string say_next(const Setup& setup, const TraceStudy& study, UnitSystem units);

/// Those that end the report.
std::vector<Caution> list_trace_cautions();

}  // namespace hitchwright
