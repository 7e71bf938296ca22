// A quantity as typed. The first character picks dimension and unit of the file, the rest is the text.
//
// What parses is finite, within bounds, and written out in its own unit parses back to itself; blanks around it, a sign
// and the tolerance do what they say. Second route for plain decimals: strtod.
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "presets/number_text.h"
#include "presets/quantity.h"
#include "presets/units.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;

namespace {

constexpr std::size_t dimensions = static_cast<std::size_t>(Dimension::count) + 1;
constexpr std::string_view file_units[] = {"in", "mm", "", "m", "cm"};

struct Case {
    std::string_view text;
    Dimension dimension = Dimension::length;
    std::string_view file_unit;
};

Case take_case(std::string_view input) {
    if (input.empty()) return {};
    const std::size_t first = static_cast<unsigned char>(input.front()) - static_cast<std::size_t>('a');
    return {input.substr(1), static_cast<Dimension>(first % dimensions), file_units[first / dimensions % std::size(file_units)]};
}

// The unit, the number and the way back round once each.
bool is_close(double a, double b) { return std::fabs(a - b) <= 1e-15 * std::fmax(std::fabs(a), std::fabs(b)); }

void check_refused(const Case& c, const Quantity& quantity) {
    require(!quantity.message.empty() && !quantity.allowed.empty(), "a refusal says what is wrong and what is allowed", c.text);
    require(!has_control_characters(format_refusal(c.text, quantity), true), "a refusal is one printable line", c.text);
}

void check_way_back(const Case& c, const Quantity& quantity) {
    const std::string_view name = quantity.plain ? std::string_view() : std::string_view(quantity.unit);
    const Unit* unit = quantity.plain ? plain_unit(c.dimension, c.file_unit) : find_unit(name, c.dimension);
    require(unit != nullptr, "a quantity has a unit of its dimension", c.text);
    std::string again = fmt::format("{:.17g} {}", unit->from_si(quantity.value), name);
    if (quantity.has_tolerance) again += fmt::format(" +- {:.17g} {}", unit->from_si(quantity.tolerance), name);
    // Twice 24 digits with sign and exponent may be longer than what is looked at; the greatest there is may be rounded beyond itself.
    const double greatest = std::fmax(std::fabs(quantity.value), quantity.tolerance);
    if (again.size() > most_quantity_characters || greatest > most_quantity_value * (1.0 - 1e-15)) return;
    const Quantity back = parse_quantity(again, c.dimension, c.file_unit);
    require(back.ok(), "a quantity written in its own unit parses", again);
    require(is_close(back.value, quantity.value), "a quantity written in its own unit is the same", again);
    require(is_close(back.tolerance, quantity.tolerance), "so is its tolerance", again);
    require(back.plain == quantity.plain && back.unit == quantity.unit, "so is its unit", again);
}

void check_twins(const Case& c, const Quantity& quantity) {
    const auto parse = [&c](const std::string& text) { return parse_quantity(text, c.dimension, c.file_unit); };
    const std::string text(c.text);
    if (text.size() + 3 <= most_quantity_characters) {
        const Quantity blanks = parse(" \t" + text + " ");
        require(blanks.ok() && blanks.value == quantity.value && blanks.tolerance == quantity.tolerance, "blanks around change nothing", text);
    }
    const std::string_view bare = trim(text);
    const bool turns = c.dimension == Dimension::length_per_turn;
    if (!turns && is_digit(bare.front()) && bare.size() < most_quantity_characters) {
        const Quantity negative = parse("-" + std::string(bare));
        require(negative.ok() && negative.value == -quantity.value, "a minus before it turns the sign", text);
    }
    if (!quantity.plain) {
        const Quantity elsewhere = parse_quantity(c.text, c.dimension, c.file_unit == "in" ? "mm" : "in");
        const bool same = elsewhere.ok() && elsewhere.value == quantity.value;
        require(same || elsewhere.status == QuantityStatus::unclear_unit, "the unit of the file changes nothing that has one", text);
    }
}

void check_decimal(const Case& c, const Quantity& quantity) {
    if (!is_toml_number(c.text)) return;
    const Unit* unit = plain_unit(c.dimension, c.file_unit);
    const double number = std::strtod(std::string(c.text).c_str(), nullptr);
    const Quantity made = make_quantity(number, c.dimension, c.file_unit);
    require(made.status == quantity.status && made.value == quantity.value, "a bare number is the same typed and as a number", c.text);
    if (unit == nullptr) return require(quantity.status == QuantityStatus::no_unit, "without a unit it is refused", c.text);
    if (quantity.ok()) require(is_close(quantity.value, number * unit->to_si(1.0)), "a decimal is what strtod reads", c.text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const Case c = take_case(fuzz::as_text(data, size));
    const Quantity quantity = parse_quantity(c.text, c.dimension, c.file_unit);
    check_decimal(c, quantity);
    fuzz::note_answer(quantity.ok() ? quantity.unit : quantity.message);
    if (!quantity.ok()) {
        check_refused(c, quantity);
        return 0;
    }
    require(quantity.message.empty() && quantity.allowed.empty(), "what is right has nothing said against it", c.text);
    require(std::fabs(quantity.value) <= most_quantity_value, "a quantity is finite and within bounds", c.text);
    require(quantity.tolerance >= 0.0 && quantity.tolerance <= most_quantity_value, "a tolerance is finite, zero or more", c.text);
    require(quantity.has_tolerance || quantity.tolerance == 0.0, "no tolerance without one typed", c.text);
    require(!std::signbit(quantity.value) || quantity.value < 0.0, "zero has no sign", c.text);
    check_way_back(c, quantity);
    check_twins(c, quantity);
    return 0;
}
