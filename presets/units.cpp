// Table of units and their spellings.
#include "presets/units.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

constexpr double pound = 0.45359237;
constexpr double gravity = 9.80665;
constexpr double inch = 0.0254;

constexpr Unit units[] = {
    {"in", Dimension::length, 1, inch, 1},
    {"ft", Dimension::length, 12, inch, 1},
    {"mm", Dimension::length, 1, 1, 1000},
    {"cm", Dimension::length, 1, 1, 100},
    {"m", Dimension::length, 1, 1, 1},
    {"deg", Dimension::angle, 1, pi / 180, 1},
    {"rad", Dimension::angle, 1, 1, 1},
    {"kg", Dimension::mass, 1, 1, 1},
    {"lb", Dimension::mass, 1, pound, 1},
    {"t", Dimension::mass, 1000, 1, 1},
    {"N", Dimension::force, 1, 1, 1},
    {"kN", Dimension::force, 1000, 1, 1},
    {"daN", Dimension::force, 10, 1, 1},
    {"lbf", Dimension::force, 1, pound * gravity, 1},
    {"kgf", Dimension::force, 1, gravity, 1},
    {"W", Dimension::power, 1, 1, 1},
    {"kW", Dimension::power, 1000, 1, 1},
    {"hp", Dimension::power, 550, 12 * inch * pound * gravity, 1},
    {"PS", Dimension::power, 75, gravity, 1},
    {"psi", Dimension::pressure, 1, pound * gravity, inch * inch},
    {"kPa", Dimension::pressure, 1000, 1, 1},
    {"bar", Dimension::pressure, 100000, 1, 1},
    {"MPa", Dimension::pressure, 1000000, 1, 1},
    {"Pa", Dimension::pressure, 1, 1, 1},
    {"N m", Dimension::torque, 1, 1, 1},
    {"lbf ft", Dimension::torque, 12, inch * pound * gravity, 1},
    {"lbf in", Dimension::torque, 1, inch * pound * gravity, 1},
    {"kgf m", Dimension::torque, 1, gravity, 1},
    {"", Dimension::count, 1, 1, 1},
    {"rpm", Dimension::rotation_speed, 1, 2 * pi, 60},
    {"rad/s", Dimension::rotation_speed, 1, 1, 1},
    {"", Dimension::ratio, 1, 1, 1},
    {"%", Dimension::ratio, 1, 1, 100},
};

struct Spelling {
    std::string_view word, name;
};

// Lower case; only those that differ from the unit's own name.
constexpr Spelling spellings[] = {
    {"inch", "in"},      {"inches", "in"},      {"\"", "in"},         {"''", "in"},
    {"foot", "ft"},      {"feet", "ft"},        {"'", "ft"},          {"millimetre", "mm"},
    {"millimeter", "mm"}, {"millimetres", "mm"}, {"millimeters", "mm"}, {"centimetre", "cm"},
    {"centimeter", "cm"}, {"centimetres", "cm"}, {"centimeters", "cm"}, {"metre", "m"},
    {"meter", "m"},      {"metres", "m"},       {"meters", "m"},      {"degree", "deg"},
    {"degrees", "deg"},  {"radian", "rad"},     {"radians", "rad"},   {"lbs", "lb"},
    {"pound", "lb"},     {"pounds", "lb"},      {"kilogram", "kg"},   {"kilograms", "kg"},
    {"kgs", "kg"},       {"tonne", "t"},        {"tonnes", "t"},      {"lb-f", "lbf"},
    {"kg-f", "kgf"},     {"newton", "N"},       {"newtons", "N"},     {"watt", "W"},
    {"watts", "W"},      {"1/min", "rpm"},      {"r/min", "rpm"},     {"min-1", "rpm"},
    {"lbf/in2", "psi"},  {"lb/in2", "psi"},     {"kilopascal", "kPa"}, {"bars", "bar"},
    {"nm", "N m"},       {"n-m", "N m"},        {"n*m", "N m"},       {"lbf-ft", "lbf ft"},
    {"ft lbf", "lbf ft"}, {"ft-lbf", "lbf ft"},  {"lb ft", "lbf ft"},  {"lb-ft", "lbf ft"},
    {"ft lb", "lbf ft"}, {"ft-lb", "lbf ft"},   {"ft lbs", "lbf ft"}, {"ft-lbs", "lbf ft"},
    {"lbf-in", "lbf in"}, {"in lbf", "lbf in"},  {"in-lbf", "lbf in"}, {"in lb", "lbf in"},
    {"in-lb", "lbf in"}, {"in lbs", "lbf in"},  {"in-lbs", "lbf in"}, {"lb in", "lbf in"},
    {"lb-in", "lbf in"}, {"kgf-m", "kgf m"},
};

std::string lower_case(std::string_view text) {
    // Not std::tolower: that one depends on the locale.
    std::string result(text);
    for (char& c : result) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return result;
}

const Unit* find_by_name(std::string_view lower_name, Dimension dimension) {
    const auto found = std::find_if(std::begin(units), std::end(units), [&](const Unit& unit) {
        return unit.dimension == dimension && lower_case(unit.name) == lower_name;
    });
    return found == std::end(units) ? nullptr : found;
}

}  // namespace

const Unit* find_unit(std::string_view word, Dimension dimension) {
    const std::string lower = lower_case(word);
    const auto spelling = std::find_if(std::begin(spellings), std::end(spellings),
                                       [&](const Spelling& s) { return s.word == lower; });
    const std::string name = spelling == std::end(spellings) ? lower : lower_case(spelling->name);
    // Lift is published in "lb" and means pounds-force.
    if (dimension == Dimension::force && name == "lb") {
        return find_by_name("lbf", dimension);
    }
    return find_by_name(name, dimension == Dimension::length_per_turn ? Dimension::length : dimension);
}

bool is_file_unit(std::string_view word) {
    return word == "in" || word == "mm" || word == "cm" || word == "m";
}

const Unit* plain_unit(Dimension dimension, std::string_view file_unit) {
    switch (dimension) {
        case Dimension::length:
        case Dimension::length_per_turn:
            return is_file_unit(file_unit) ? find_by_name(file_unit, Dimension::length) : nullptr;
        case Dimension::angle: return find_by_name("deg", dimension);
        case Dimension::rotation_speed: return find_by_name("rpm", dimension);
        case Dimension::ratio:
        case Dimension::count: return find_by_name("", dimension);
        case Dimension::mass:
        case Dimension::force:
        case Dimension::power:
        case Dimension::pressure:
        case Dimension::torque: break;
    }
    return nullptr;
}

std::string format_units(Dimension dimension) {
    if (dimension == Dimension::length_per_turn) {
        return "in/turn, mm/turn, turns/in or turns/cm";
    }
    std::string result;
    std::string_view last;
    for (const Unit& unit : units) {
        if (unit.dimension != dimension) {
            continue;
        }
        if (!last.empty()) {
            result += (result.empty() ? "" : ", ") + std::string(last);
        }
        last = unit.name.empty() ? "a bare number" : unit.name;
    }
    return result + (result.empty() ? "" : " or ") + std::string(last);
}

std::string_view dimension_name(Dimension dimension) {
    switch (dimension) {
        case Dimension::length: return "length";
        case Dimension::angle: return "angle";
        case Dimension::mass: return "mass";
        case Dimension::force: return "force";
        case Dimension::power: return "power";
        case Dimension::rotation_speed: return "speed";
        case Dimension::ratio: return "ratio";
        case Dimension::length_per_turn: return "length per turn";
        case Dimension::pressure: return "pressure";
        case Dimension::torque: return "torque";
        case Dimension::count: return "count";
    }
    return "value";
}

std::string_view dimension_example(Dimension dimension) {
    switch (dimension) {
        case Dimension::length: return "a length such as 14 in, 3-1/4 in, 3'2 1/2\", 82 mm or 14 in +- 1/8 in";
        case Dimension::angle: return "an angle such as 12.5 deg or 12.5 (degrees)";
        case Dimension::mass: return "a mass such as 650 lb, 300 kg or 1.2 t";
        case Dimension::force: return "a force such as 1600 lbf, 7.1 kN or 725 kgf";
        case Dimension::power: return "a power such as 30 hp, 22 kW or 30 PS";
        case Dimension::rotation_speed: return "a speed such as 540 rpm";
        case Dimension::ratio: return "a ratio such as 0.42, 42 % or 1/3";
        case Dimension::length_per_turn: return "a length per turn such as 5 mm/turn, 1/4 in per turn or 4 turns/in";
        case Dimension::pressure: return "a pressure such as 22 psi, 150 kPa or 1.5 bar";
        case Dimension::torque: return "a torque such as 90 N m, 66 lbf ft or 120 lbf in";
        case Dimension::count: return "a plain number such as 6";
    }
    return "a number";
}

std::string format_in_unit(double si, Dimension dimension, std::string_view unit) {
    const Unit* found = find_unit(unit, dimension);
    if (found == nullptr) {
        const Unit* coherent = std::find_if(std::begin(units), std::end(units), [&](const Unit& u) {
            const bool same = u.dimension == (dimension == Dimension::length_per_turn ? Dimension::length : dimension);
            return same && u.whole * u.factor / u.divisor == 1.0;
        });
        found = coherent;
    }
    const std::string_view turn = dimension == Dimension::length_per_turn ? "/turn" : "";
    const std::string_view space = found->name.empty() ? "" : " ";
    // Four significant digits, but never an exponent.
    const double number = found->from_si(si);
    const std::string digits = std::fabs(number) >= 9999.5 ? fmt::format("{:.0f}", number) : fmt::format("{:.4g}", number);
    return fmt::format("{}{}{}{}", digits, space, found->name, turn);
}

}  // namespace hitchwright
