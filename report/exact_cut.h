// The lengths of a cut exactly as they are, so that what is shown is what is written into a set-up.
#pragma once

#include <string>

#include "geometry/shaft_cut.h"
#include "report/safe_words.h"

namespace hitchwright {

/// A length of a cut as it can be typed and is the same again: on its mark where it lies on one, else in millimetres
/// with as many decimals (at most six) as it has.
std::string format_exact_cut(double length, const Mark& mark, UnitSystem units);

/// A cut in words with either half as format_exact_cut gives it: one half of unequal tubes may lie on no mark.
std::string format_exact_cut(const CutPair& cut, const Mark& mark, UnitSystem units);

/// "3 5/8 in from each half: both tubes and both guard tubes"; `a`, `b`: the lengths as they are to be shown.
std::string say_cut(const CutPair& cut, const std::string& a, const std::string& b);

/// "Cuts of the set-up are counted as made: ..."; empty when it has none.
std::string format_cuts_made(const CutPair& made, const SafeWords& words);

}  // namespace hitchwright
