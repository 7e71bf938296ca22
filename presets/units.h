// The units a text may carry, by dimension, with their exact factors to SI.
//
// Factors: inch, foot, pound and kilogram-force are exact by definition (international yard and pound
// agreement of 1959, standard gravity 9.80665 m/s^2); mechanical horsepower = 550 foot-pounds-force a
// second, metric horsepower (PS) = 75 kilogram-force metres a second: arithmetic from those.
#pragma once

#include <string>
#include <string_view>

#include "geometry/reading.h"

namespace hitchwright {

/// A unit: SI value = number * whole * factor / divisor, in that order, so that each of "3 1/4 in",
/// "5 ft" and "82 mm" is rounded once only.
struct Unit {
    std::string_view name;  ///< as it is printed: "in", "mm", "deg", "lbf" ...
    Dimension dimension = Dimension::length;
    double whole = 1.0;
    double factor = 1.0;
    double divisor = 1.0;

    double to_si(double number) const { return number * whole * factor / divisor; }
    double from_si(double value) const { return value * divisor / (whole * factor); }
};

/// The unit a word stands for (upper or lower case, common spellings), null when it is none of that
/// dimension. "lb" is pounds for a mass and pounds-force for a force.
const Unit* find_unit(std::string_view word, Dimension dimension);

/// True for a word that may stand behind `unit =` in a file: in, mm, cm or m.
bool is_file_unit(std::string_view word);

/// The unit of a number that carries none: the file's for lengths, deg for angles, rpm for speeds, none
/// for ratios and counts; null for masses, forces, powers, pressures and torques, where a bare number is refused.
const Unit* plain_unit(Dimension dimension, std::string_view file_unit);

/// All units of a dimension for a sentence: "in, ft, mm, cm or m".
std::string format_units(Dimension dimension);

/// "length", "angle", ... for sentences.
std::string_view dimension_name(Dimension dimension);

/// "a length such as 14 in, ..." for sentences.
std::string_view dimension_example(Dimension dimension);

/// A value in a unit with four significant digits, for sentences about limits: "7.874 in".
/// An unknown unit word falls back to the SI unit.
std::string format_in_unit(double si, Dimension dimension, std::string_view unit);

}  // namespace hitchwright
