// A combination of holes in words: its name, what it is compared by, why it stands where it does.
#pragma once

#include <string>
#include <vector>

#include "geometry/hole_study.h"
#include "report/finding_text.h"

namespace hitchwright {

/// True when the rod may go in more than one hole of the lower links.
bool has_several_rod_holes(const HoleStudy& study);

/// "tractor hole 4, mast hole 1"; a single hole is not named.
std::string name_holes(const HoleStudy& study, const HoleNumbers& numbers);

/// What a wish asks for: "the least change of pitch from work to the top of the travel".
std::string_view say_wish(HoleWish wish);

/// Short word for a table: fits, cut, change, open, shaft, link, no.
std::string_view say_standing_shortly(HoleStanding standing);

/// What the short word means: "fits as it is, conditions included".
std::string_view say_standing(HoleStanding standing);

/// One measure of `mine` against `other`: "the joints bend 31.7 deg at most over the travel, not 33.8 deg". Empty where it
/// is not known of `mine`. `words`: the reader's units.
std::string compare_in_words(const HoleResult& mine, const HoleResult& other, HoleMeasure measure, const SafeWords& words);

/// What speaks for a combination against another, and what against it, each a part of a sentence.
struct HoleReasons {
    std::vector<std::string> better, worse;
};
HoleReasons list_hole_reasons(const HoleResult& mine, const HoleResult& other, HoleWish wish, const SafeWords& words);

/// Why a combination cannot be taken, or not as it is: the headlines of its worst findings, "; " between. At most `most`.
std::string say_obstacles(const Setup& setup, const HoleResult& result, UnitSystem units, std::size_t most);

/// What stands behind the best choice: the measure that decided, in numbers; for what cannot work, the obstacles.
std::string say_why_behind(const Setup& setup, const HoleStudy& study, const HoleResult& result, UnitSystem units);

/// The answer in a sentence: which holes, and whether they fit.
std::string say_best_holes(const HoleStudy& study);

/// The set-up with the combination's holes, for sentences about its findings.
Setup find_hole_setup(const Setup& setup, const HoleResult& result);

}  // namespace hitchwright
