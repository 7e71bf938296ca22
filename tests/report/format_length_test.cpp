// Values to text: fractions, rounding directions, and what is no number.
#include "report/format_length.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <string>

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;

/// Reads "-37 3/8 in" back by plain arithmetic of its own: the second route.
double read_inches(std::string text) {
    const bool negative = text[0] == '-';
    if (negative) text.erase(0, 1);
    text.resize(text.size() - 3);  // " in"
    const std::size_t slash = text.find('/'), space = text.find(' ');
    double inches = slash == std::string::npos || space != std::string::npos ? std::stod(text) : 0.0;
    if (slash != std::string::npos) {
        const std::size_t top = space == std::string::npos ? 0 : space + 1;
        inches += std::stod(text.substr(top)) / std::stod(text.substr(slash + 1));
    }
    return (negative ? -inches : inches) * inch;
}

}  // namespace

TEST_CASE("length text: fractions are reduced and whole inches stand alone", "[report][analytic]") {
    CHECK(format_inches(37.375 * inch) == "37 3/8 in");
    CHECK(format_inches(0.625 * inch) == "5/8 in");
    CHECK(format_inches(0.0) == "0 in");
    CHECK(format_inches(-0.25 * inch) == "-1/4 in");
    CHECK(format_inches(-1.25 * inch) == "-1 1/4 in");
    CHECK(format_inches(14 * inch) == "14 in");
    CHECK(format_inches(inch / 16) == "1/16 in");
    CHECK(format_inches(15.9375 * inch) == "15 15/16 in");
}

TEST_CASE("length text: the direction of rounding is the caller's", "[report][analytic]") {
    const double above = (2.0 + 0.01 / 16.0) * inch;
    CHECK(format_inches(above, Rounding::nearest) == "2 in");
    CHECK(format_inches(above, Rounding::up) == "2 1/16 in");
    CHECK(format_inches(above, Rounding::down) == "2 in");
    CHECK(format_inches(-above, Rounding::up) == "-2 in");
    CHECK(format_inches(-above, Rounding::down) == "-2 1/16 in");
    CHECK(format_millimetres(0.94861, MillimetrePlaces::whole, Rounding::down) == "948 mm");
    CHECK(format_millimetres(0.94861, MillimetrePlaces::whole, Rounding::up) == "949 mm");
    CHECK(format_millimetres(0.94861, MillimetrePlaces::tenth, Rounding::down) == "948.6 mm");
    CHECK(format_millimetres(0.94861, MillimetrePlaces::tenth, Rounding::up) == "948.7 mm");
}

TEST_CASE("length text: an exact sixteenth stays itself in every direction", "[report][analytic]") {
    for (int sixteenths = -700; sixteenths <= 1700; ++sixteenths) {
        CAPTURE(sixteenths);
        const double nominal = sixteenths / 16.0;
        // The same length by two unlike ways through metres, and pushed by half of what is ignored.
        for (double metres :
             {nominal * inch, nominal * 25.4 / 1000.0, nominal * inch + 5e-10, nominal * inch - 5e-10}) {
            const std::string nearest = format_inches(metres, Rounding::nearest);
            CHECK(format_inches(metres, Rounding::up) == nearest);
            CHECK(format_inches(metres, Rounding::down) == nearest);
            CHECK(std::fabs(read_inches(nearest) - nominal * inch) < 1e-12);
        }
    }
}

TEST_CASE("length text: more than a millionth of a millimetre beyond a sixteenth is not ignored",
          "[report][analytic]") {
    CHECK(format_inches(3 * inch + 2e-9, Rounding::up) == "3 1/16 in");
    CHECK(format_inches(3 * inch - 2e-9, Rounding::down) == "2 15/16 in");
    CHECK(format_millimetres(0.025 + 2e-9, MillimetrePlaces::whole, Rounding::up) == "26 mm");
    CHECK(format_millimetres(0.025 + 5e-10, MillimetrePlaces::whole, Rounding::up) == "25 mm");
    CHECK(format_millimetres(0.025 - 5e-10, MillimetrePlaces::whole, Rounding::down) == "25 mm");
}

TEST_CASE("length text: up is never below and down never above the length, by at most one step", "[report][random]") {
    const unsigned seed = 20250117;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> lengths(-3.0, 3.0);
    for (int i = 0; i < 2000; ++i) {
        const double metres = lengths(random);
        CAPTURE(metres);
        const double up = read_inches(format_inches(metres, Rounding::up));
        const double down = read_inches(format_inches(metres, Rounding::down));
        REQUIRE(up >= metres - 1.1e-9);
        REQUIRE(down <= metres + 1.1e-9);
        REQUIRE(up - down <= inch / 16 + 1e-12);
        REQUIRE(std::fabs(read_inches(format_inches(metres)) - metres) <= inch / 32 + 1e-12);
        REQUIRE(std::fabs(shown_length(metres, UnitSystem::inch, Rounding::up) - up) < 1e-12);
    }
}

TEST_CASE("length text: what rounds to nothing has no minus sign", "[report][analytic]") {
    CHECK(format_inches(-0.01 * inch) == "0 in");
    CHECK(format_inches(-0.0) == "0 in");
    CHECK(format_inches(-0.01 * inch, Rounding::up) == "0 in");
    CHECK(format_millimetres(-0.0004) == "0 mm");
    CHECK(format_millimetres(-0.00004, MillimetrePlaces::tenth) == "0.0 mm");
    CHECK(format_angle(-1e-9) == "0.0 deg");
    CHECK(format_ratio(-0.0001, 2) == "0.00");
}

TEST_CASE("length text: no number and far too large a number give words", "[report][analytic]") {
    const double none = std::numeric_limits<double>::quiet_NaN(), endless = std::numeric_limits<double>::infinity();
    for (Rounding rounding : {Rounding::nearest, Rounding::up, Rounding::down}) {
        CHECK(format_inches(none, rounding) == "not known");
        CHECK(format_inches(endless, rounding) == "not known");
        CHECK(format_millimetres(-endless, MillimetrePlaces::whole, rounding) == "not known");
        CHECK(format_inches(1e300, rounding) == "out of range");
        CHECK(format_millimetres(-1e300, MillimetrePlaces::tenth, rounding) == "out of range");
    }
    CHECK(format_angle(none) == "not known");
    CHECK(format_mass(endless, UnitSystem::inch) == "not known");
    CHECK(format_inches(1e6 * inch) == "1000000 in");
}

TEST_CASE("quantity text: units and factors", "[report][handbook]") {
    // Factors: pound 0.45359237 kg and standard gravity 9.80665 m/s2 exact by definition; horsepower 550 ft lbf/s.
    CHECK(format_mass(694 * 0.45359237, UnitSystem::inch) == "694 lb");
    CHECK(format_mass(314.8, UnitSystem::millimetre) == "315 kg");
    CHECK(format_force(1600 * 0.45359237 * 9.80665, UnitSystem::inch) == "1600 lbf");
    CHECK(format_force(7117.4, UnitSystem::millimetre) == "7117 N");
    CHECK(format_power(35 * 550 * 0.3048 * 0.45359237 * 9.80665, UnitSystem::inch) == "35.0 hp");
    CHECK(format_power(26100, UnitSystem::millimetre) == "26.1 kW");
    CHECK(format_rotation_speed(540 * 2 * std::numbers::pi / 60) == "540 rpm");
    CHECK(format_angle(25 * std::numbers::pi / 180) == "25.0 deg");
    CHECK(format_angle(25.01 * std::numbers::pi / 180, Rounding::up) == "25.1 deg");
    CHECK(format_angle(25 * std::numbers::pi / 180, Rounding::up) == "25.0 deg");
    CHECK(format_percent(0.205) == "20.5 %");
    CHECK(format_ratio(0.84321) == "0.843");
    CHECK(format_ratio(0.84321, 2, Rounding::up) == "0.85");
}

TEST_CASE("length text: the reader's unit decides", "[report][analytic]") {
    CHECK(format_length(0.3556, UnitSystem::inch) == "14 in");
    CHECK(format_length(0.3556, UnitSystem::millimetre) == "356 mm");
    CHECK(format_length(0.3556, UnitSystem::millimetre, Rounding::down) == "355 mm");
    CHECK(format_length(0.3556, UnitSystem::millimetre, Rounding::nearest, MillimetrePlaces::tenth) == "355.6 mm");
}
