// What was seen at the machine, from the words of a person: the small language of `trace --seen` (docs/commands.md).
//
//   measured:   WHAT NUMBER [UNIT] SENSE [PLACE]      tail 3 in low at working height; pitch 2 deg nose down when
//   raised
//               WHAT is NUMBER [UNIT] [PLACE]          gap is 1/2 in; shaft is 30 in at 12 in
//               KEY is NUMBER [UNIT]                   tractor.pto.stub_x is 14 1/2 in
//   complaint:  WHAT SIGN [PLACE]                      shaft knocks when raised; tail drags; deck touches the shaft
// A number behind +- is the error (two sigma) it was taken with. Small words (the, at, when, it) may be there or not; a
// word that is not known is a problem, never skipped.
#pragma once

#include <string>
#include <vector>

#include "cli/outcome.h"
#include "geometry/setup.h"
#include "geometry/trace_study.h"
#include "report/format_length.h"

namespace hitchwright {

/// One text read: one observation, two for both stops, or a problem.
struct SeenText {
    std::vector<Seen> seen;
    std::string problem;  ///< one sentence without its full stop; empty: read
    std::string nearest;  ///< the known word that looks most like an unknown one
};

/// Reads one text. `setup` for the keys of readings; `lines`: words of complaints that a list of specifications knows.
SeenText read_seen(const std::string& text, UnitSystem units, const Setup& setup,
                   const std::vector<ComplaintLine>& lines = {});

/// What may be said, for messages.
std::string list_seen_forms();

}  // namespace hitchwright
