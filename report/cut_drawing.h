// A shaft about to be cut, on a narrow page: its four parts with saw marks, the two halves pushed together and pulled
// apart before and after, and the numbers of both.
//
// Parts: the tube of either half and its guard tube, each from its own joint to its free end, all on one scale. The
// tractor half is drawn as the outer one and not named so: nothing says which is, and it changes no length. What comes
// off is dashed. Frame of the page: mm, y down.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/shaft_cut.h"
#include "report/page.h"
#include "report/safe_words.h"

namespace hitchwright {

/// What is drawn. Lengths m between joint centres.
struct CutPicture {
    TelescopingHalves whole;  ///< before the cut
    CutPair cut;
    std::optional<TelescopingHalves> guard;  ///< guard tubes before the cut; none: not measured
    ShaftTravel travel;
    CutLimits limits;
    double guard_overlap_needed = 0.0;  ///< m at the longest; 0: the guard tubes must only not come apart
};

/// A number before and after the cut, each with whether it is bad news.
struct CutNumber {
    std::string what, before, after;
    bool bad_before = false, bad_after = false;
};

/// Closed length, gap at the shortest, overlap at the longest, overlap in work where it is asked for, and the same of the
/// guard tubes where they are measured.
std::vector<CutNumber> list_cut_numbers(const CutPicture& picture, const SafeWords& words);

/// What is wrong with the guard tubes at that cut, in sentences; empty: nothing, or they are not measured.
std::string say_guard_trouble(const CutPicture& picture, const SafeWords& words);

/// The four parts below one another; returns the y below them.
double add_cut_parts(PagePicture& page, const CutPicture& picture, const SafeWords& words, const PageRect& area,
                     const TextMeasure& measure);

/// The assembled shaft at its shortest and its longest, before and after; returns the y below.
double add_cut_states(PagePicture& page, const CutPicture& picture, const SafeWords& words, const PageRect& area,
                      const TextMeasure& measure);

/// Halves after the cut; whole ones where it cannot be made.
TelescopingHalves find_cut_halves(const CutPicture& picture);

}  // namespace hitchwright
