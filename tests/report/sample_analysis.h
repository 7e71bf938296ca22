// An analysis made by hand in round numbers, so that the texts about it can be checked by reading: a 31 in shaft with
// two 19 1/2 in tubes between 29 in and 30 1/2 in bottoms out by 2 in; 3 1/2 in come off each half.
#pragma once

#include "geometry/analysis.h"
#include "geometry/setup.h"

namespace hitchwright::sample {

inline constexpr double inch = 0.0254;
inline constexpr double degree = 3.14159265358979323846 / 180.0;

/// Names, holes, rule sources and a few readings of each origin.
Setup tiller_setup();

/// Gap, overlap, cut, one condition, a match: verdict fits_after_change.
Analysis tiller_analysis();

/// The same with everything that may be missing filled in: float, dead centre, guard, clearances, ground.
Analysis full_analysis();

/// An uneven second-order band of -9/16 in / +7/16 in on the gap (the first finding), three direct readings of which one
/// does not fit, two readings to take next. Part of full_analysis.
void set_trust(Analysis& analysis);
/// That band.
ErrorBand uneven_band();

/// A finding of that kind as its builder would make it, with the longest names and awkward numbers.
Finding make_finding(FindingKind kind, Severity severity);

/// Words that builders put into `other` for a kind.
std::vector<std::string> list_others(FindingKind kind);

inline constexpr Severity severities[] = {Severity::forbids,   Severity::unknown, Severity::change,
                                          Severity::condition, Severity::watch,   Severity::good};

}  // namespace hitchwright::sample
