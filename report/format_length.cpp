// See format_length.h. All roundings go through round_to_step, so the direction is decided in one place.
#include "report/format_length.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hitchwright {
namespace {

constexpr double kilograms_per_pound = 0.45359237;           // exact by definition
constexpr double pascals_per_psi = 6894.757293168361;       // pound-force on a square inch
constexpr double newtons_per_pound_force = 4.4482216152605;  // pound times standard gravity, exact
constexpr double watts_per_horsepower = 745.6998715822702;   // 550 ft lbf/s

// Largest count of steps that is still shown: above it a double no longer holds every sixteenth.
constexpr double most_steps = 1e12;

// Slack of quantities other than length, as a share of the step shown: far below what a reader can see.
constexpr double slack_share = 1e-9;

const char* const not_known_text = "not known";
const char* const out_of_range_text = "out of range";

std::string format_decimal(double value, int decimals, Rounding rounding, double slack, const char* unit) {
    if (!std::isfinite(value)) return not_known_text;
    const int places = std::clamp(decimals, 0, 6);
    const double step = std::pow(10.0, -places);
    if (std::fabs(value / step) > most_steps) return out_of_range_text;
    return fmt::format("{:.{}f}{}", round_to_step(value, step, rounding, slack), places, unit);
}

std::string format_quantity(double value, int decimals, Rounding rounding, const char* unit) {
    return format_decimal(value, decimals, rounding, slack_share * std::pow(10.0, -decimals), unit);
}

}  // namespace

double round_to_step(double value, double step, Rounding rounding, double slack) {
    if (!std::isfinite(value) || !(step > 0.0)) return value;
    const double count = value / step;
    const double loose = slack / step;
    double whole = 0.0;
    switch (rounding) {
        case Rounding::nearest:
            whole = std::round(count);
            break;
        case Rounding::up:
            whole = std::ceil(count - loose);
            break;
        case Rounding::down:
            whole = std::floor(count + loose);
            break;
    }
    return whole == 0.0 ? 0.0 : whole * step;
}

double shown_length(double metres, UnitSystem units, Rounding rounding, MillimetrePlaces places) {
    if (units == UnitSystem::inch) return round_to_step(metres, metres_per_sixteenth, rounding, rounding_slack);
    const double step = places == MillimetrePlaces::whole ? 1e-3 : 1e-4;
    return round_to_step(metres, step, rounding, rounding_slack);
}

std::string format_inches(double metres, Rounding rounding) {
    if (!std::isfinite(metres)) return not_known_text;
    if (std::fabs(metres / metres_per_sixteenth) > most_steps) return out_of_range_text;
    const double rounded = round_to_step(metres, metres_per_sixteenth, rounding, rounding_slack);
    const long long sixteenths = std::llround(rounded / metres_per_sixteenth);
    const long long size = sixteenths < 0 ? -sixteenths : sixteenths;
    const char* const sign = sixteenths < 0 ? "-" : "";
    const long long whole = size / 16;
    long long top = size % 16;
    long long bottom = 16;
    if (top == 0) return fmt::format("{}{} in", sign, whole);
    while (top % 2 == 0) {
        top /= 2;
        bottom /= 2;
    }
    if (whole == 0) return fmt::format("{}{}/{} in", sign, top, bottom);
    return fmt::format("{}{} {}/{} in", sign, whole, top, bottom);
}

std::string format_millimetres(double metres, MillimetrePlaces places, Rounding rounding) {
    return format_decimal(metres * 1e3, places == MillimetrePlaces::whole ? 0 : 1, rounding, rounding_slack * 1e3,
                          " mm");
}

std::string format_length(double metres, UnitSystem units, Rounding rounding, MillimetrePlaces places) {
    if (units == UnitSystem::inch) return format_inches(metres, rounding);
    return format_millimetres(metres, places, rounding);
}

std::string format_angle(double radians, Rounding rounding) {
    return format_quantity(radians * 180.0 / std::numbers::pi, 1, rounding, " deg");
}

std::string format_ratio(double ratio, int decimals, Rounding rounding) {
    return format_quantity(ratio, std::clamp(decimals, 0, 6), rounding, "");
}

std::string format_percent(double share, Rounding rounding) {
    return format_quantity(share * 100.0, 1, rounding, " %");
}

std::string format_mass(double kilograms, UnitSystem units, Rounding rounding) {
    if (units == UnitSystem::inch) return format_quantity(kilograms / kilograms_per_pound, 0, rounding, " lb");
    return format_quantity(kilograms, 0, rounding, " kg");
}

std::string format_force(double newtons, UnitSystem units, Rounding rounding) {
    if (units == UnitSystem::inch) return format_quantity(newtons / newtons_per_pound_force, 0, rounding, " lbf");
    return format_quantity(newtons, 0, rounding, " N");
}

std::string format_power(double watts, UnitSystem units, Rounding rounding) {
    if (units == UnitSystem::inch) return format_quantity(watts / watts_per_horsepower, 1, rounding, " hp");
    return format_quantity(watts * 1e-3, 1, rounding, " kW");
}

std::string format_pressure(double pascals, UnitSystem units, Rounding rounding) {
    if (units == UnitSystem::inch) return format_quantity(pascals / pascals_per_psi, 1, rounding, " psi");
    return format_quantity(pascals * 1e-3, 0, rounding, " kPa");
}

std::string format_torque(double newton_metres, UnitSystem units, Rounding rounding) {
    if (units == UnitSystem::inch) return format_quantity(newton_metres / (newtons_per_pound_force * 12.0 * metres_per_inch), 1, rounding, " lbf ft");
    return format_quantity(newton_metres, 1, rounding, " N m");
}

std::string format_rotation_speed(double radians_per_second, Rounding rounding) {
    return format_quantity(radians_per_second * 30.0 / std::numbers::pi, 0, rounding, " rpm");
}

}  // namespace hitchwright
