// The whole text report of a fit: verdict, what to do first, findings worst first, the travel in numbers, cautions.
//
// Order as read in a shop: may it run, what do I do, with which number; then why; then the numbers behind it. Cautions
// stand at their step and end the report; there is no switch for them.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/setup.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The report, lines of at most style.width columns. With `explain` each finding is followed by its formula, the
/// numbers put in, and where they come from (explain_text.h). `more` stands before the cautions, which end the report.
std::string format_fit_report(const Setup& setup, const Analysis& analysis, const TextStyle& style,
                              bool explain = false, const std::string& more = {});

/// What it is about: name of the set-up, machines, shaft, rules; example presets are marked.
std::string format_machines(const Setup& setup, const TextStyle& style);

/// The verdict as a sentence in words: "MUST NOT RUN like this: shaft bottoms out: ...".
std::string format_verdict_sentence(const Setup& setup, const Analysis& analysis, UnitSystem units);

/// The readings that findings which ask for a step want taken again, each with the least error (two sigma) that any of
/// them asks for; most pressing first.
std::vector<Remedy> list_readings_to_retake(const std::vector<Finding>& findings);

/// What to do, most pressing first, each with its number; from the first remedy of each finding that asks for one.
/// Of several conditions of one kind only the tightest is named.
std::vector<std::string> list_steps(const Setup& setup, const Analysis& analysis, UnitSystem units);

}  // namespace hitchwright
