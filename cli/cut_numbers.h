// `cut` from numbers typed on the command line: closed length, tubes or overlap, shortest and longest, or direct readings.
//
// All three lengths must be taken between the same points. While the joints are straight the distances from there to
// the joint centres drop out, and the cut is the same whichever points they were. With bent joints a reading between
// grooves or shaft ends comes out short of the straight one by up to (k_A + k_B)(1 - cos B), k the distances from the
// joint centres outwards and B the joint angle: the gap is then underrated, which is safe, and the overlap overrated,
// which is not. The note of the answer says so.
#pragma once

#include <optional>
#include <string>

#include "cli/option_values.h"
#include "geometry/direct_travel.h"
#include "geometry/rule_set.h"
#include "report/cut_words.h"

namespace hitchwright {

/// The numbers, in m.
struct CutNumbers {
    HalvesReadings shaft;
    ShaftTravel travel;
    std::optional<DirectTravel> direct;  ///< shortest and longest came from readings at several heights
    LengthReference reference = LengthReference::joint_centres;
    bool reference_typed = false;
};

/// True when any option of the numbers was typed.
bool has_cut_numbers(const Arguments& arguments);

/// Reads the numbers; each missing, wrong or contradicting one adds a problem to `reader`.
CutNumbers read_cut_numbers(OptionReader& reader, const Arguments& arguments, UnitSystem units);

/// The case to speak about.
CutCase make_cut_case(const CutNumbers& numbers, const RuleSet& rules, const Mark& mark);

/// What has to be said about direct readings and the points of measure, in sentences.
std::string format_reference_note(const CutNumbers& numbers);

}  // namespace hitchwright
