// The cut of a telescoping shaft in shop words: from which half, which parts, and what it leaves.
//
// The sense of the trade is always said: a length comes off EACH half named, its tube and its guard tube; the closed
// length falls by the cut of the longer half, the overlap at a given length by both cuts together. The cut itself is
// printed on the mark it lies on; the least cut is rounded up, the most down.
#pragma once

#include <optional>
#include <string>

#include "geometry/analysis.h"
#include "geometry/shaft_cut.h"
#include "report/safe_words.h"

namespace hitchwright {

/// Where shortest and longest length come from.
enum class TravelSource { linkage, typed, direct_readings, articulation };

/// Everything needed to speak about one cut.
struct CutCase {
    TelescopingHalves halves;  ///< the plan was made for these; cuts already in the set-up are made
    HalvesAssumption assumption = HalvesAssumption::none;
    LengthReference reference = LengthReference::joint_centres;  ///< between what all lengths are
    TravelSource source = TravelSource::linkage;                 ///< of `travel`
    CutPair made_before;                                         ///< cuts of the set-up, already in `halves`
    ShaftTravel travel;
    std::optional<double> height_at_shortest, height_at_longest;  ///< ball heights, m
    CutLimits limits;
    CutPlan plan;
    std::string rule_set;                          ///< name shown
    Limit gap_rule, overlap_rule;                  ///< sources
    std::optional<double> gap_band, overlap_band;  ///< 95 % error bands, when they were propagated
    bool contradicted = false;  ///< direct readings contradict the linkage or one another: no cut is decided
    std::string model;  ///< "from the model fitted to 3 direct readings"; empty: the model is that of the files
    std::string note;                              ///< what must be said beside the numbers, in sentences; may be empty
};

/// How far lengths from direct readings alone are to be trusted, in sentences.
std::string format_direct_note(const DirectTravel& travel);

/// Case of an analysed set-up; empty without a cut plan.
std::optional<CutCase> make_cut_case(const Setup& setup, const Analysis& analysis);

/// True when the errors of the readings reach across a limit, so that "fit" cannot call it either.
bool is_too_close(const CutCase& cut_case);

/// A length on the marks a plan uses: sixteenths, millimetres or tenths when the step is made of them (of both: as the
/// units say), else hundredths of a millimetre, also when it lies on no mark.
std::string format_cut_length(double length, double step, UnitSystem units);

/// "3 5/8 in from each half: both tubes and both guard tubes"; unequal and one-sided cuts in their own words.
std::string format_cut(const CutPair& cut, double step, UnitSystem units);

/// Why that much overlap is needed: " (one third of the 15 7/8 in tube)"; empty when the limit is a plain length.
std::string format_overlap_reason(const TelescopingHalves& halves, const CutLimits& limits, const SafeWords& words);

/// "Closed length becomes ... Gap left at the shortest point ... Overlap left at the longest point ..., ... needed
/// (...)".
std::string format_what_cut_leaves(const CutCase& cut_case, const SafeWords& words);

/// Why no cut works, in one sentence.
std::string format_cut_obstacle(const CutPlan& plan, const SafeWords& words);

/// What had to be assumed about the tubes; empty when both were measured.
std::string_view format_halves_assumption(HalvesAssumption assumption);

/// "joint centres", "locking grooves", "shaft ends".
std::string_view reference_name(LengthReference reference);

}  // namespace hitchwright
