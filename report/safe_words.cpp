// See safe_words.h.
#include "report/safe_words.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr double degrees_per_radian = 180.0 / std::numbers::pi;

/// Both numbers at one resolution, in that resolution's unit; value and limit rounded towards each other's harm.
struct RoundedPair {
    double value = 0.0, limit = 0.0;
    bool keeps_order(bool within) const { return (value >= limit) == within; }
};

RoundedPair round_pair(double value, double limit, double step) {
    return {round_to_step(value, step, Rounding::down, rounding_slack),
            round_to_step(limit, step, Rounding::up, rounding_slack)};
}

/// A decimal with its unit; "not known" and "out of range" stay without one.
std::string with_unit(double number, int decimals, std::string_view unit) {
    std::string text = format_ratio(number, decimals);
    const bool digits = text.back() >= '0' && text.back() <= '9';
    if (digits) text += unit;
    return text;
}

std::string millimetres(double metres, int decimals) { return with_unit(metres * 1e3, decimals, " mm"); }

/// Tenths of a millimetre, or thousandths when tenths turn the order over.
ShownPair show_fine_pair(double value, double limit, bool within) {
    const RoundedPair tenths = round_pair(value, limit, 1e-4);
    const bool enough = tenths.keeps_order(within);
    const RoundedPair pair = enough ? tenths : round_pair(value, limit, 1e-6);
    const int decimals = enough ? 1 : 3;
    return {millimetres(pair.value, decimals), millimetres(pair.limit, decimals),
            millimetres(std::fabs(pair.value - pair.limit), decimals)};
}

}  // namespace

std::string SafeWords::fine(double metres) const {
    if (units == UnitSystem::inch) return with_unit(metres / metres_per_inch, 3, " in");
    return format_millimetres(metres, MillimetrePlaces::tenth);
}

ShownPair SafeWords::have_need(double value, double limit) const {
    const bool within = value >= limit - rounding_slack;
    const RoundedPair pair = round_pair(value, limit, units == UnitSystem::inch ? metres_per_sixteenth : 1e-3);
    if (!pair.keeps_order(within)) return show_fine_pair(value, limit, within);
    return {have(value), need(limit), place(std::fabs(pair.value - pair.limit))};
}

ShownPair SafeWords::angle_limit(double value, double limit) const {
    const double v = value * degrees_per_radian, l = limit * degrees_per_radian;
    for (const int decimals : {1, 3}) {
        const double step = std::pow(10.0, -decimals);
        const double shown_value = round_to_step(v, step, Rounding::up, 1e-9);
        const double shown_limit = round_to_step(l, step, Rounding::down, 1e-9);
        if ((shown_value <= shown_limit) != (v <= l) && decimals == 1) continue;
        const auto text = [decimals](double degrees) { return with_unit(degrees, decimals, " deg"); };
        return {text(shown_value), text(shown_limit), text(std::fabs(shown_value - shown_limit))};
    }
    return {};
}

std::string format_decimal_quantity(double value, Dimension dimension, UnitSystem units) {
    const bool inch = units == UnitSystem::inch;
    switch (dimension) {
        case Dimension::length:
            return inch ? with_unit(value / metres_per_inch, 3, " in") : with_unit(value * 1e3, 2, " mm");
        case Dimension::length_per_turn:
            return inch ? with_unit(value / metres_per_inch, 4, " in/turn") : with_unit(value * 1e3, 3, " mm/turn");
        case Dimension::angle:
            return with_unit(value * degrees_per_radian, 3, " deg");
        case Dimension::mass:
            return format_mass(value, units);
        case Dimension::force:
            return format_force(value, units);
        case Dimension::power:
            return format_power(value, units);
        case Dimension::rotation_speed:
            return format_rotation_speed(value);
        case Dimension::pressure:
            return format_pressure(value, units);
        case Dimension::torque:
            return format_torque(value, units);
        case Dimension::count:
            return format_ratio(value, 0);
        case Dimension::ratio:
            break;
    }
    return format_ratio(value, 4);
}

std::string format_share(double share) {
    if (std::fabs(share - 1.0 / 3.0) < 1e-6) return "one third";
    if (std::fabs(share - 0.5) < 1e-6) return "one half";
    if (std::fabs(share - 0.25) < 1e-6) return "one quarter";
    return format_percent(share);
}

std::string format_turns(double turns) {
    if (!std::isfinite(turns) || std::fabs(turns) > 1e6) return "not known";
    const long long quarters = std::llround(std::fabs(turns) * 4.0);
    static constexpr const char* parts[] = {"", "1/4", "1/2", "3/4"};
    const long long whole = quarters / 4, part = quarters % 4;
    std::string text = whole > 0 || part == 0 ? std::to_string(whole) : "";
    if (part > 0) text += fmt::format("{}{}", text.empty() ? "" : " ", parts[part]);
    return text + (quarters > 4 || quarters == 0 ? " turns" : quarters == 4 ? " turn" : " of a turn");
}

std::string format_count(std::size_t count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string_view grade_meaning(Grade grade) {
    switch (grade) {
        case Grade::A:
            return "text of a standard seen";
        case Grade::B:
            return "several secondary sources";
        case Grade::C:
            return "from memory, unverified";
        case Grade::D:
            return "arithmetic";
        case Grade::P:
            return "common practice, no source";
    }
    return "from memory, unverified";
}

std::string_view grade_letter(Grade grade) {
    switch (grade) {
        case Grade::A:
            return "A";
        case Grade::B:
            return "B";
        case Grade::C:
            return "C";
        case Grade::D:
            return "D";
        case Grade::P:
            return "P";
    }
    return "C";
}

std::string_view origin_word(Origin origin) {
    switch (origin) {
        case Origin::measured:
            return "measured";
        case Origin::manual:
            return "manual";
        case Origin::preset:
            return "preset";
        case Origin::assumed:
            return "assumed";
        case Origin::computed:
            return "computed";
    }
    return "assumed";
}

std::string format_source(const Limit& limit) {
    if (!limit.set) return {};
    const std::string source = limit.source.empty() ? "source not stated" : printable_text(limit.source, 200);
    const char* const unverified = limit.grade == Grade::C ? ", unverified" : "";
    return fmt::format("{}, grade {}{}", source, grade_letter(limit.grade), unverified);
}

}  // namespace hitchwright
