// From complaint to cause: every single change of a set-up that would give what is seen, and what to read next.
//
//   set-up -> believed machine -> rows with covariance -> each cause solved (trace_fit.h) -> ranked -> one reading more
// Nothing is hidden: causes that produce what is seen are ranked by plausibility, those that cannot are kept with what
// they give at most, and what could not be tried is named. One single change is looked for; two at once are not. The
// reading to take next is the one whose value under the two foremost causes differs most, against what it would scatter
// by anyway: its own error and what the tolerances of the other readings still leave open after what has been seen.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/trace_fit.h"

namespace hitchwright {

/// A line of a list of specifications that says what people complain of when it is off. Filled by whoever has such a
/// list.
struct ComplaintLine {
    std::string complaint;  ///< words people use, several sayings with ";" between
    std::string line;       ///< name of the line
    std::string how_far;    ///< how far the machine is off it, in words
};

/// An observation that counts for nothing, and why.
struct SeenNotUsed {
    Seen seen;
    std::string reason;  ///< a key that is missing, or words
};

/// The reading that tells two causes apart.
struct SeparatingReading {
    Seen what;                                     ///< place and kind; value unset
    std::size_t first = 0, second = 0;             ///< the two causes, places in `causes`
    double under_first = 0.0, under_second = 0.0;  ///< what it would be
    double error = 0.0;                            ///< two sigma of taking it
    double scatter = 0.0;                          ///< two sigma with what other readings leave open
    double apart = 0.0;                            ///< difference over scatter; below 1 it does not tell
};

struct TraceStudy {
    TraceRows rows;
    std::vector<SeenNotUsed> not_used;
    bool within_errors = false;                        ///< the set-up as believed gives what is seen, within errors
    double believed_misfit = 0.0, usual_misfit = 0.0;  ///< within_errors: the first at most the second
    std::vector<CauseFit> causes;                      ///< that produce it, most plausible first
    std::vector<CauseFit> cannot;                      ///< that do not, the nearest first
    std::vector<CauseNotTried> not_tried;
    std::vector<ComplaintLine> lines;       ///< that match the words of a complaint
    std::optional<SeparatingReading> next;  ///< with two causes or more
};

/// The whole study. `lines`: of a list of specifications, matched by words against every observation.
TraceStudy trace(const Setup& setup, const std::vector<Seen>& seen, const std::vector<ComplaintLine>& lines = {});

/// True when of one saying of `line.complaint` every word that says something is among `seen.words`, or two at least and half of
/// them (letters, lower case, endings off).
bool matches_words(const ComplaintLine& line, const Seen& seen);

}  // namespace hitchwright
