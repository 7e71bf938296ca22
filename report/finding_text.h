// A finding in words: a headline, what was found, the rule and its source, what to do, cautions at the step.
//
// Severity is said by a mark in words; colour, if any, only repeats it. Numbers are rounded to the safe side
// (safe_words.h). The sentences are in *_sentences.cpp, one file per part of the question. What a builder of findings
// puts where: geometry/*_findings.cpp, *_match.cpp.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/finding.h"
#include "report/cut_words.h"
#include "report/text_layout.h"

namespace hitchwright {

/// What a sentence may need besides the finding itself.
struct FindingContext {
    SafeWords words;
    std::optional<CutCase> cut;  ///< of the same analysis; empty: sentences about the cut stay general
    bool drawn = false;          ///< the implement is on the drawbar: its readings are taken from other points
    std::map<std::string, double> errors = {};  ///< two sigma, SI, of the readings that remedies want taken again, as they are
};

/// Context for the findings of an analysis.
FindingContext make_finding_context(const Setup& setup, const Analysis& analysis, UnitSystem units);

/// A finding in words. Sentences end with a full stop, the headline does not.
struct FindingText {
    std::string mark;                   ///< MUST NOT RUN, NOT KNOWN, TOO CLOSE TO CALL, CHANGE, CONDITION, WATCH, OK
    std::string headline;               ///< what was found, with its number
    std::string detail;                 ///< numbers, where, margin; may be empty
    std::string source;                 ///< the rule's source and grade; may be empty
    std::vector<std::string> steps;     ///< what would change it, each with its number
    bool all_steps = false;             ///< true: all of them are needed; false: they are alternatives
    std::vector<std::string> cautions;  ///< those of the step
};

/// The finding in words.
FindingText describe_finding(const Finding& finding, const FindingContext& context);

/// Headline, detail and steps as one text, for machine-readable output and lists.
std::string format_finding_sentence(const Finding& finding, const FindingContext& context);

/// The finding as lines of at most style.width columns: headline, then indented lines. `source`: the rule as printed
/// behind "Rule: "; empty: none.
std::string format_finding(const FindingText& text, Severity severity, std::string_view source, const TextStyle& style);

/// The same with the finding's own rule.
std::string format_finding(const Finding& finding, const FindingContext& context, const TextStyle& style);

/// The mark in words; the finding's band tells "too close to call" from "not known".
std::string_view finding_mark(const Finding& finding);

/// Mark with ANSI colour around it when the style asks for it.
std::string paint_mark(Severity severity, std::string_view mark, const TextStyle& style);

/// True when all remedies of the finding are needed (a stop below and one above), not one of them.
bool needs_all_remedies(const Finding& finding);

/// Verdict in words: "FITS", "MUST NOT RUN", ...
std::string_view verdict_headline(Verdict verdict);

/// All values of the enumerations, for lists and tests.
const std::vector<FindingKind>& all_finding_kinds();
const std::vector<RemedyKind>& all_remedy_kinds();

/// Fixed word of a remedy, as used in machine-readable output.
std::string_view remedy_word(RemedyKind kind);

/// A reading to take again to within what would decide the finding.
bool is_retake(const Remedy& remedy);
/// All of them in one step, since only together they decide it; empty: none.
std::string format_retakes(const Finding& finding, const FindingContext& context);

/// One remedy of a finding as a sentence.
std::string format_remedy(const Remedy& remedy, const Finding& finding, const FindingContext& context);

}  // namespace hitchwright
