// Quantities as people type them: values, refusals, and rubbish.

#include <catch2/catch.hpp>

#include <regex.h>

#include <array>
#include <clocale>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "presets/quantity.h"
#include "presets/units.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;

struct Good {
    const char* text;
    Dimension dimension;
    double value;
    double tolerance = -1.0;  ///< negative: none
};

void check_good(const Good& good, const char* file_unit) {
    CAPTURE(good.text, file_unit);
    const Quantity quantity = parse_quantity(good.text, good.dimension, file_unit);
    CAPTURE(quantity.message);
    REQUIRE(quantity.ok());
    CHECK(quantity.message.empty());
    // Bit for bit: a length is rounded once, from the number as typed.
    CHECK(quantity.value == good.value);
    CHECK(quantity.has_tolerance == (good.tolerance >= 0.0));
    if (good.tolerance >= 0.0) {
        CHECK(std::fabs(quantity.tolerance - good.tolerance) < 1e-15);
    }
}

struct Bad {
    const char* text;
    Dimension dimension;
    QuantityStatus status;
};

void check_bad(const Bad& bad, const char* file_unit) {
    CAPTURE(bad.text, file_unit);
    const Quantity quantity = parse_quantity(bad.text, bad.dimension, file_unit);
    CHECK_FALSE(quantity.ok());
    CHECK(static_cast<int>(quantity.status) == static_cast<int>(bad.status));
    CHECK_FALSE(quantity.message.empty());
    CHECK_FALSE(quantity.allowed.empty());
    CHECK(quantity.value == 0.0);
}

/// A POSIX extended regular expression and the parts of its last match.
class Pattern {
public:
    explicit Pattern(const std::string& text) { REQUIRE(regcomp(&regex_, text.c_str(), REG_EXTENDED) == 0); }
    Pattern(const Pattern&) = delete;
    Pattern& operator=(const Pattern&) = delete;
    ~Pattern() { regfree(&regex_); }

    bool matches(const std::string& text) {
        text_ = text;
        return regexec(&regex_, text_.c_str(), parts_.size(), parts_.data(), 0) == 0;
    }
    bool has(std::size_t part) const { return parts_[part].rm_so >= 0; }
    std::string text(std::size_t part) const {
        const regmatch_t& p = parts_[part];
        return has(part) ? text_.substr(static_cast<std::size_t>(p.rm_so), static_cast<std::size_t>(p.rm_eo - p.rm_so)) : "";
    }
    double number(std::size_t part) const { return std::strtod(text(part).c_str(), nullptr); }

private:
    regex_t regex_{};
    std::array<regmatch_t, 16> parts_{};
    std::string text_;
};

/// Value of the number whose parts begin at `at`: mixed number, fraction, or decimal.
std::optional<double> reference_number(const Pattern& m, std::size_t at) {
    if (m.has(at + 7)) {
        return m.number(at + 7);
    }
    const bool mixed = m.has(at + 1);
    const double above = m.number(at + (mixed ? 3 : 5)), below = m.number(at + (mixed ? 4 : 6));
    if (below == 0.0 || (mixed && above >= below)) {
        return std::nullopt;
    }
    return (mixed ? m.number(at + 1) : 0.0) + above / below;
}

/// Inches in one of a unit's spellings.
double reference_unit(std::string unit) {
    for (char& c : unit) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c | 0x20) : c;
    }
    if (unit.starts_with("f") || unit == "'") {
        return 12.0;
    }
    if (unit.starts_with("c")) {
        return 1 / 2.54;
    }
    if (unit.starts_with("mm") || unit.starts_with("mi")) {
        return 1 / 25.4;
    }
    return unit.starts_with("m") ? 1000 / 25.4 : 1.0;
}

/// A second reading of lengths in an inch file: two regular expressions and strtod. Nothing: refused.
std::optional<double> reference_length(const std::string& text) {
    static const std::string number =
        "(([0-9]+)([ \t]+|-)([0-9]+)/([0-9]+)|([0-9]+)/([0-9]+)|(([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?))";
    static const std::string unit =
        "[ \t]*([iI][nN]|[iI][nN][cC][hH]|[iI][nN][cC][hH][eE][sS]|\"|''|[fF][tT]|[fF][oO][oO][tT]|[fF][eE][eE][tT]|'|[mM][mM]|[cC][mM]|[mM])?";
    static Pattern plain("^[ \t]*([+-]?)" + number + unit + "[ \t]*$");
    static Pattern feet("^[ \t]*([+-]?)([0-9]+)[ \t]*(ft|foot|feet|FT|Ft|')[ \t]*-?" + number +
                        "[ \t]*([iI][nN]|[iI][nN][cC][hH]|[iI][nN][cC][hH][eE][sS]|\"|'')[ \t]*$");
    std::optional<double> inches;
    bool negative = false;
    if (plain.matches(text)) {
        negative = plain.text(1) == "-";
        inches = reference_number(plain, 2);
        inches = inches ? std::optional(*inches * reference_unit(plain.text(12))) : inches;
    } else if (feet.matches(text)) {
        negative = feet.text(1) == "-";
        inches = reference_number(feet, 4);
        inches = inches && *inches < 12.0 ? std::optional(feet.number(2) * 12.0 + *inches) : std::nullopt;
    }
    const bool fine = inches && std::isfinite(*inches) && *inches * inch <= most_quantity_value;
    return fine ? std::optional((negative ? -1.0 : 1.0) * *inches * inch) : std::nullopt;
}

}  // namespace

TEST_CASE("quantity: lengths in all accepted forms have the exact value", "[analytic]") {
    const Dimension d = Dimension::length;
    const std::vector<Good> cases = {
        {"14", d, 14 * inch},
        {"14 in", d, 14 * inch},
        {"14in", d, 14 * inch},
        {"14\"", d, 14 * inch},
        {"  14 \t in  ", d, 14 * inch},
        {"14 INCHES", d, 14 * inch},
        {"3-1/4 in", d, 3.25 * inch},
        {"3 1/4", d, 3.25 * inch},
        {"3 1/4 in", d, 3.25 * inch},
        {"3/4", d, 0.75 * inch},
        {"-3-1/4 in", d, -3.25 * inch},
        {"-3 1/4 in", d, -3.25 * inch},
        {"+3/16in", d, 0.1875 * inch},
        {"13/4 in", d, 3.25 * inch},
        {"3'2 1/2\"", d, 38.5 * inch},
        {"3' 2-1/2\"", d, 38.5 * inch},
        {"3'-2 1/2\"", d, 38.5 * inch},
        {"3 ft 2 in", d, 38 * inch},
        {"3ft2.5in", d, 38.5 * inch},
        {"3'2''", d, 38 * inch},
        {"-3'2\"", d, -38 * inch},
        {"5 ft", d, 60 * inch},
        {"5'", d, 60 * inch},
        {"1/2 ft", d, 6 * inch},
        {"82mm", d, 82.0 / 1000},
        {"82 mm", d, 0.082},
        {"25.4 mm", d, 0.0254},
        {"1.2 m", d, 1.2},
        {"120 cm", d, 1.2},
        {".5 in", d, 0.5 * inch},
        {"5. in", d, 5 * inch},
        {"1e2 mm", d, 0.1},
        {"1.5E-2 m", d, 0.015},
        {"0", d, 0.0},
        {"14 in +- 1/8 in", d, 14 * inch, inch / 8},
        {"14 +/- 1/8 in", d, 14 * inch, inch / 8},
        {"14 in +- 1/8", d, 14 * inch, inch / 8},
        {"14 +- 1/8", d, 14 * inch, inch / 8},
        {"14 in+-3mm", d, 14 * inch, 0.003},
        {"3'2 1/2\" +- 1/4 in", d, 38.5 * inch, inch / 4},
        {"-14 in +- 0", d, -14 * inch, 0.0},
    };
    for (const Good& good : cases) {
        check_good(good, "in");
    }
}

TEST_CASE("quantity: typographic signs mean the same as their plain forms", "[analytic]") {
    const Dimension d = Dimension::length;
    const std::vector<Good> cases = {
        {"14 in \xC2\xB1 3 mm", d, 14 * inch, 0.003},            // plus-minus sign
        {"1 \xC2\xBD", d, 1.5 * inch},                           // half sign
        {"1\xC2\xBD in", d, 1.5 * inch},
        {"\xC2\xBC in", d, 0.25 * inch},                         // quarter
        {"-\xC2\xBE", d, -0.75 * inch},                          // three quarters
        {"3-\xC2\xBD", d, 3.5 * inch},
        {"2\xE2\x85\x9C in", d, 2.375 * inch},                   // three eighths
        {"3\xE2\x80\xB2 2\xC2\xBD\xE2\x80\xB3", d, 38.5 * inch},  // prime, double prime
        {"3\xE2\x80\x99 2\xE2\x80\x9D", d, 38 * inch},            // curly quotes
        {"\xE2\x88\x92" "3 in", d, -3 * inch},                    // minus sign
        {"3\xE2\x80\x93" "1/4 in", d, 3.25 * inch},               // en dash
        {"3 1\xE2\x81\x84" "4 in", d, 3.25 * inch},               // fraction slash
        {"14\xC2\xA0in", d, 14 * inch},                           // no-break space
        {"14\xE2\x80\xAF" "mm", d, 14.0 / 1000},                  // narrow no-break space
        {"12.5\xC2\xB0", Dimension::angle, 12.5 * (std::numbers::pi / 180)},    // degree sign
    };
    for (const Good& good : cases) {
        check_good(good, "in");
    }
}

TEST_CASE("quantity: the other dimensions have their units and defaults", "[analytic]") {
    // Factors by definition: pound 0.45359237 kg, standard gravity 9.80665 m/s2, hp 550 ft lbf/s, PS 75 kgf m/s.
    const double lbf = 0.45359237 * 9.80665;
    const std::vector<Good> cases = {
        {"12.5", Dimension::angle, 12.5 * (std::numbers::pi / 180)},
        {"12.5 deg", Dimension::angle, 12.5 * (std::numbers::pi / 180)},
        {"-12.5 degrees", Dimension::angle, -12.5 * (std::numbers::pi / 180)},
        {"0.2 rad", Dimension::angle, 0.2},
        {"10 deg +- 0.3", Dimension::angle, 10 * (std::numbers::pi / 180), 0.3 * std::numbers::pi / 180},
        {"650 kg", Dimension::mass, 650},
        {"100 lb", Dimension::mass, 45.359237},
        {"100 lbs", Dimension::mass, 45.359237},
        {"1.2 t", Dimension::mass, 1200},
        {"700 +- 20 lb", Dimension::mass, 700 * 0.45359237, 20 * 0.45359237},
        {"20 N", Dimension::force, 20},
        {"2 kN", Dimension::force, 2000},
        {"1 lbf", Dimension::force, lbf},
        {"1 lb", Dimension::force, lbf},
        {"1 kgf", Dimension::force, 9.80665},
        {"500 W", Dimension::power, 500},
        {"22 kW", Dimension::power, 22000},
        {"540 rpm", Dimension::rotation_speed, 540 * (2 * std::numbers::pi) / 60},
        {"540", Dimension::rotation_speed, 540 * (2 * std::numbers::pi) / 60},
        {"0.42", Dimension::ratio, 0.42},
        {"42 %", Dimension::ratio, 0.42},
        {"1/3", Dimension::ratio, 1.0 / 3},
        {"5 mm/turn", Dimension::length_per_turn, 0.005},
        {"1/4 in per turn", Dimension::length_per_turn, 0.25 * inch},
        {"4 turns/in", Dimension::length_per_turn, inch / 4},
        {"4 turns per in", Dimension::length_per_turn, inch / 4},
        {"5/16 in", Dimension::length_per_turn, 0.3125 * inch},
        {"1/4", Dimension::length_per_turn, 0.25 * inch},
        {"1/4 per turn", Dimension::length_per_turn, 0.25 * inch},
        {"1 psi", Dimension::pressure, lbf / (inch * inch)},
        {"150 kPa", Dimension::pressure, 150000},
        {"1.5 bar", Dimension::pressure, 150000},
        {"2 MPa", Dimension::pressure, 2000000},
        {"90 N m", Dimension::torque, 90},
        {"90 Nm", Dimension::torque, 90},
        {"1 lbf ft", Dimension::torque, 12 * (inch * 0.45359237 * 9.80665)},
        {"1 ft-lb", Dimension::torque, 12 * (inch * 0.45359237 * 9.80665)},
        {"12 in lbf", Dimension::torque, 12 * (inch * 0.45359237 * 9.80665)},
        {"1 kgf m", Dimension::torque, 9.80665},
        {"6", Dimension::count, 6},
    };
    for (const Good& good : cases) {
        check_good(good, "in");
    }
    CHECK(std::fabs(parse_quantity("1 hp", Dimension::power).value - 745.699872) < 1e-6);
    CHECK(std::fabs(parse_quantity("1 PS", Dimension::power).value - 735.49875) < 1e-9);
}

TEST_CASE("quantity: what is not a quantity is refused with a reason and an example", "[analytic]") {
    using S = QuantityStatus;
    const Dimension d = Dimension::length;
    const std::vector<Bad> cases = {
        {"", d, S::empty}, {"   ", d, S::empty}, {"\t", d, S::empty},
        {"nan", d, S::not_finite}, {"NaN in", d, S::not_finite}, {"inf", d, S::not_finite}, {"-inf mm", d, S::not_finite},
        {"infinity", d, S::not_finite},
        {"1e400", d, S::huge}, {"1e12 mm", d, S::ok}, {"1e14 mm", d, S::huge}, {"1e-400", d, S::huge},
        {"abc", d, S::not_a_number}, {"in", d, S::not_a_number}, {"in 14", d, S::not_a_number}, {"-", d, S::not_a_number},
        {"--3", d, S::not_a_number}, {"+-3", d, S::not_a_number}, {"/4", d, S::not_a_number}, {"$14", d, S::not_a_number},
        {"3,25", d, S::comma}, {"1,250 mm", d, S::comma}, {"3,25 in +- 1/8 in", d, S::comma},
        {"1/0", d, S::zero_denominator}, {"3 1/0 in", d, S::zero_denominator},
        {"1/2/3", d, S::bad_fraction}, {"3 5/4", d, S::bad_fraction}, {"3.5 1/4", d, S::bad_fraction},
        {"1.5/2", d, S::bad_fraction}, {"3 1/4-1/8", d, S::bad_fraction}, {"1/2.5", d, S::bad_fraction},
        {"14 15", d, S::two_numbers}, {"14 in 15 in", d, S::two_numbers}, {"14-15 in", d, S::two_numbers},
        {"3 - 1/4", d, S::two_numbers}, {"1 000 mm", d, S::two_numbers}, {"0x10", d, S::two_numbers},
        {"14 kg", d, S::wrong_unit}, {"14 deg", d, S::wrong_unit}, {"14 furlongs", d, S::wrong_unit},
        {"14 in.", d, S::wrong_unit}, {"14 in in", d, S::wrong_unit}, {"3/", d, S::wrong_unit}, {"3-", d, S::wrong_unit},
        {"14 in;", d, S::wrong_unit}, {"5e", d, S::wrong_unit}, {"3 2'", d, S::two_numbers},
        {"3'14\"", d, S::bad_feet_and_inches}, {"3'2", d, S::bad_feet_and_inches}, {"3.5'2\"", d, S::bad_feet_and_inches},
        {"3'2 mm", d, S::bad_feet_and_inches},
        {"14 in +-", d, S::bad_tolerance}, {"14 in +- -1/8 in", d, S::bad_tolerance}, {"14 in +- x", d, S::bad_tolerance},
        {"14 in +- 1 in +- 2 in", d, S::bad_tolerance}, {"14 in +- 1 kg", d, S::bad_tolerance},
        {"14 +- 3 mm", d, S::unclear_unit},
        {"12 lb", Dimension::angle, S::wrong_unit}, {"650", Dimension::mass, S::no_unit}, {"1600", Dimension::force, S::no_unit},
        {"30", Dimension::power, S::no_unit}, {"5 kg", Dimension::force, S::wrong_unit}, {"5 mW", Dimension::power, S::wrong_unit},
        {"0 turns/in", Dimension::length_per_turn, S::huge}, {"-4 turns/in", Dimension::length_per_turn, S::huge},
        {"4 turns", Dimension::length_per_turn, S::wrong_unit}, {"4 turns/in +- 1", Dimension::length_per_turn, S::bad_tolerance},
        {"14 \xE2\x82\xAC", d, S::not_a_number}, {"14 in\x1b[31m", d, S::not_a_number}, {"14\n", d, S::not_a_number},
        {"\xC3", d, S::not_a_number}, {"14 \xFF", d, S::not_a_number}, {"\xC2\xBD\xC2\xBD", d, S::two_numbers},
    };
    for (const Bad& bad : cases) {
        if (bad.status == S::ok) {
            CHECK(parse_quantity(bad.text, bad.dimension, "in").ok());
        } else {
            check_bad(bad, "in");
        }
    }
    check_bad({"14", d, S::no_unit}, "");
    check_bad({"14 +- 1/8", d, S::no_unit}, "");
    check_bad({"1/4", Dimension::length_per_turn, S::no_unit}, "");
    const std::string long_text(most_quantity_characters + 1, '1');
    check_bad({long_text.c_str(), d, S::too_long}, "in");
}

TEST_CASE("quantity: a refusal says what was read and what to write", "[analytic]") {
    const Quantity comma = parse_quantity("3,25 in", Dimension::length, "in");
    const std::string text = format_refusal("3,25 in", comma);
    CAPTURE(text);
    CHECK(text.find("\"3,25 in\"") != std::string::npos);
    CHECK(text.find("3.25 in") != std::string::npos);
    CHECK(text.find("325 in") != std::string::npos);
    CHECK(text.find("such as") != std::string::npos);
    const Quantity wrong = parse_quantity("14 kg", Dimension::length, "in");
    CHECK(wrong.allowed.find("in, ft, mm, cm or m") != std::string::npos);
    // Nothing typed reaches the terminal as a control character.
    const std::string hostile = "14 \x1b[31m";
    CHECK(format_refusal(hostile, parse_quantity(hostile, Dimension::length)).find('\x1b') == std::string::npos);
}

TEST_CASE("quantity: every sixteenth up to ten feet is read exactly in each notation", "[analytic]") {
    for (int n = 0; n <= 16 * 120; ++n) {
        const double value = (n / 16.0) * inch;
        const std::string whole = std::to_string(n / 16), part = std::to_string(n % 16) + "/16";
        for (const std::string& text : {whole + " " + part + " in", whole + "-" + part + "\"", std::to_string(n) + "/16 in"}) {
            if (parse_quantity(text, Dimension::length).value != value) {
                FAIL(text);
            }
        }
        const std::string feet = std::to_string(n / 192) + "'" + std::to_string(n % 192 / 16) + " " + part + "\"";
        if (parse_quantity(feet, Dimension::length).value != value) {
            FAIL(feet);
        }
    }
    SUCCEED("1921 lengths in four notations");
}

TEST_CASE("quantity: bare numbers of a file follow the same rules", "[analytic]") {
    CHECK(make_quantity(14, Dimension::length, "in").value == 14 * inch);
    CHECK(make_quantity(14, Dimension::length, "mm").value == 14.0 / 1000);
    CHECK(make_quantity(14, Dimension::length, "in").plain);
    CHECK_FALSE(make_quantity(14, Dimension::length).ok());
    CHECK_FALSE(make_quantity(14, Dimension::mass).ok());
    CHECK_FALSE(make_quantity(std::numeric_limits<double>::quiet_NaN(), Dimension::length, "in").ok());
    CHECK_FALSE(make_quantity(std::numeric_limits<double>::infinity(), Dimension::length, "in").ok());
    CHECK_FALSE(make_quantity(1e300, Dimension::length, "in").ok());
}

TEST_CASE("quantity: a locale with a decimal comma changes nothing", "[analytic]") {
    const std::string before = std::setlocale(LC_ALL, nullptr);
    struct CommaPoint : std::numpunct<char> {
        char do_decimal_point() const override { return ','; }
        char do_thousands_sep() const override { return '.'; }
    };
    const std::locale old = std::locale::global(std::locale(std::locale(), new CommaPoint));
    for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C"}) {
        if (std::setlocale(LC_ALL, name) != nullptr) {
            break;
        }
    }
    const Quantity point = parse_quantity("3.25 in", Dimension::length);
    const Quantity comma = parse_quantity("3,25 in", Dimension::length);
    std::locale::global(old);
    std::setlocale(LC_ALL, before.c_str());
    CHECK(point.value == 3.25 * inch);
    CHECK_FALSE(comma.ok());
}

TEST_CASE("quantity: mutated lengths are read as a second parser reads them, or refused", "[random]") {
    const unsigned seed = 20260405;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const std::vector<std::string> seeds = {"14 in", "3-1/4 in", "3 1/4", "3/4", "3'2 1/2\"", "3' 2-1/2\"", "82mm",
                                            "1.2 m", "5 ft", "-12.75 in", "1e2 mm", "3 ft 2 in", "0.5", "120 cm"};
    const std::string alphabet = "0123456789 .-/'\"+eEinmftc\t,%x\xC2\xE2\x80\x01";
    const auto pick = [&](std::size_t size) { return std::uniform_int_distribution<std::size_t>(0, size - 1)(random); };
    int accepted = 0, refused = 0;
    for (int round = 0; round < 20000; ++round) {
        std::string text = seeds[pick(seeds.size())];
        for (std::size_t edits = 1 + pick(3); edits > 0; --edits) {
            const std::size_t at = pick(text.size() + 1);
            const std::size_t kind = pick(3);
            if (kind == 0 || text.empty() || at == text.size()) {
                text.insert(at, 1, alphabet[pick(alphabet.size())]);
            } else if (kind == 1) {
                text.erase(at, 1);
            } else {
                text[at] = alphabet[pick(alphabet.size())];
            }
        }
        const Quantity quantity = parse_quantity(text, Dimension::length, "in");
        const std::optional<double> expected = reference_length(text);
        CAPTURE(text, quantity.message, quantity.value);
        if (text.find("+-") != std::string::npos || text.find("+/-") != std::string::npos) {
            continue;  // the second parser knows no tolerance
        }
        if (quantity.ok() != expected.has_value()) {
            FAIL("the two parsers disagree");
        }
        if (expected && std::fabs(quantity.value - *expected) > 1e-12 * std::max(1.0, std::fabs(*expected))) {
            FAIL("the two parsers read different lengths: " << *expected);
        }
        (expected ? accepted : refused) += 1;
    }
    INFO(accepted << " accepted, " << refused << " refused");
    CHECK(accepted > 2000);
    CHECK(refused > 2000);
}

TEST_CASE("quantity: random bytes crash nothing and give no number", "[random]") {
    const unsigned seed = 7;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_int_distribution<int> byte(0, 255), size(0, 70);
    const Dimension all[] = {Dimension::length, Dimension::angle, Dimension::mass, Dimension::force, Dimension::power,
                             Dimension::rotation_speed, Dimension::ratio, Dimension::length_per_turn, Dimension::pressure,
                             Dimension::torque, Dimension::count};
    for (int round = 0; round < 5000; ++round) {
        std::string text(static_cast<std::size_t>(size(random)), '\0');
        for (char& c : text) {
            c = static_cast<char>(byte(random));
        }
        for (const Dimension dimension : all) {
            const Quantity quantity = parse_quantity(text, dimension, "mm");
            const bool number_like = text.find_first_of("0123456789") != std::string::npos && text.size() < 8;
            if (quantity.ok() && !number_like) {
                FAIL(format_refusal(text, quantity));
            }
            if (!quantity.ok() && (quantity.message.empty() || quantity.value != 0.0)) {
                FAIL("a refusal without reason or with a value");
            }
        }
    }
    SUCCEED("40000 texts");
}
