// A line measured against its specification, in words: what is asked for, what was measured, how far off, what to do.
//
// Figures that were typed are printed as they were typed; differences are in the reader's unit, lengths to 1/64 in
// where that is exact and else to 0.001 in or 0.1 mm. How far beyond the band rounds up. Names and texts come out
// printable.
#pragma once

#include <string>
#include <string_view>

#include "geometry/specification_line.h"
#include "report/format_length.h"

namespace hitchwright {

/// OUT, TOO CLOSE TO CALL, NOT MEASURED, IN.
std::string_view line_mark(LineVerdict verdict);

/// Figures asked for: "4 in +- 1/8 in", "at least 1/16 in", "20 psi to 24 psi"; of words alone, the words.
std::string say_asked(const SpecificationLine& line, UnitSystem units);

/// The same, with the words behind the figures.
std::string say_specified(const SpecificationLine& line, UnitSystem units);

/// What was measured: "4 3/8 in"; "not measured". Of words: "as specified", "not as specified", "not looked at".
std::string say_measured(const SpecificationLine& line, UnitSystem units);

/// How far off: "3/8 in long, 1/4 in beyond the band"; empty when there is nothing to say.
std::string say_difference(const LineResult& result, UnitSystem units);

/// What to do: "shorten by 3/8 in: turn the clevis 3 3/8 turns counterclockwise"; empty when there is nothing to do.
std::string say_correction(const LineResult& result, UnitSystem units);

/// What follows from it as it is: that of its sense, then that of both; empty when in or none is stated.
std::string say_consequence(const LineResult& result);

/// All of it as sentences: "Out: 4 3/8 in for 4 in +- 1/8 in, 3/8 in long, 1/4 in beyond the band. Shorten by 3/8 in."
std::string say_line(const LineResult& result, UnitSystem units);

/// A figure of a quantity; for lengths as in the head of this file.
std::string format_figure(double value, Dimension quantity, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Turns to the eighth: "3 3/8 turns", "1 turn", "1/2 turn"; the sign is left out.
std::string format_eighth_turns(double turns);

/// "lengthen by", "raise by" ... for a change of a line of that quantity. Lengths with a figure to be set to are
/// lengthened; those within a band (a play, a gap, a height) are increased.
std::string_view change_verb(Dimension quantity, bool has_figure, bool more);

}  // namespace hitchwright
