// Numbers as words, each rounded toward the side on which a person cannot be misled. Units: the reader's.
//
// What is there (a gap, an overlap, a margin, room) is rounded down; what is needed or lacking is rounded up; what may
// be at most is rounded down; a place (a height where something happens, a length to set) is rounded to the nearest
// mark. Negative amounts never show: the sentence says "too short by" instead.
#pragma once

#include <string>
#include <string_view>

#include "geometry/reading.h"
#include "report/format_length.h"

namespace hitchwright {

/// Two numbers that are compared, shown so that the comparison holds as printed.
struct ShownPair {
    std::string value, limit;
    std::string difference;  ///< margin or shortfall, agreeing with the two as printed; never negative
};

/// Wording of values in one system of units. All arguments SI.
struct SafeWords {
    UnitSystem units = UnitSystem::inch;

    std::string have(double metres) const { return format_length(metres, units, Rounding::down); }
    std::string need(double metres) const { return format_length(metres, units, Rounding::up); }
    std::string at_most(double metres) const { return format_length(metres, units, Rounding::down); }
    std::string at_least(double metres) const { return format_length(metres, units, Rounding::up); }
    std::string place(double metres) const { return format_length(metres, units, Rounding::nearest); }
    /// Diameters and the like: to 0.001 in or 0.1 mm.
    std::string fine(double metres) const;

    /// Value that must not fall below a limit. When 1/16 in or 1 mm would turn the comparison over, tenths or
    /// thousandths of a millimetre are printed.
    ShownPair have_need(double value, double limit) const;
    /// Angle that must not exceed a limit, with the same care.
    ShownPair angle_limit(double value, double limit) const;
};

/// Value of any dimension in plain decimals with its unit, for explanations: "28.986 in", "12.34 deg", "0.0123".
std::string format_decimal_quantity(double value, Dimension dimension, UnitSystem units);

/// A share in words where it has one ("one third", "one half"), else in percent.
std::string format_share(double share);

/// "1 turn", "2 1/2 turns": to the nearest quarter.
std::string format_turns(double turns);

/// "1 finding", "3 findings": `noun` with an s unless the count is 1.
std::string format_count(std::size_t count, std::string_view noun);

/// "A: text of a standard seen", ... without the letter.
std::string_view grade_meaning(Grade grade);
/// "A", "B", "C", "D", "P".
std::string_view grade_letter(Grade grade);
/// "measured", "manual", "preset", "assumed".
std::string_view origin_word(Origin origin);

/// Source and grade of a limit for a sentence: "operator manuals of several makers (1 in), grade B". Grade C says that
/// it is unverified. Empty when the limit is not set.
std::string format_source(const Limit& limit);

}  // namespace hitchwright
