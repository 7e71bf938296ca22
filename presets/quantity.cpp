// Two steps: typographic signs become plain ASCII, then a small descent reads number, unit, tolerance.
#include "presets/quantity.h"

#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "presets/number_text.h"
#include "presets/problem.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

using Status = QuantityStatus;

/// A value and its unit as far as typed; or the reason why not.
struct Measure {
    Status status = Status::ok;
    double number = 0.0;
    const Unit* unit = nullptr;  ///< null: none typed
    bool turns_per_length = false;
};

// Lower case with single blanks, for units made of several words.
std::string tidy_unit(std::string_view text) {
    std::string result;
    for (const char c : trim(text)) {
        const bool repeated = is_blank(c) && !result.empty() && result.back() == ' ';
        if (!repeated) {
            result += is_blank(c) ? ' ' : (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
        }
    }
    return result;
}

bool cut_end(std::string& text, std::string_view end) {
    if (text.size() < end.size() || std::string_view(text).substr(text.size() - end.size()) != end) {
        return false;
    }
    text.resize(text.size() - end.size());
    text = std::string(trim(text));
    return true;
}

bool cut_start(std::string& text, std::string_view start) {
    if (std::string_view(text).substr(0, start.size()) != start) {
        return false;
    }
    text = std::string(trim(std::string_view(text).substr(start.size())));
    return true;
}

// The whole of `text` as a unit of the dimension.
Measure read_unit(double number, std::string_view text, Dimension dimension) {
    Measure measure{Status::ok, number, nullptr, false};
    std::string word = tidy_unit(text);
    if (word.empty()) {
        return measure;
    }
    if (dimension == Dimension::length_per_turn) {
        for (const std::string_view start : {"turns/", "turn/", "turns per ", "turn per "}) {
            measure.turns_per_length = measure.turns_per_length || cut_start(word, start);
        }
        for (const std::string_view end : {"/turn", "/ turn", "per turn", "a turn"}) {
            if (!measure.turns_per_length && cut_end(word, end)) {
                break;
            }
        }
        if (word.empty() && !measure.turns_per_length) {
            return measure;
        }
    }
    measure.unit = find_unit(word, dimension);
    if (measure.unit == nullptr) {
        const bool another_number = word.find_first_of("0123456789") != std::string::npos;
        measure.status = another_number ? Status::two_numbers : Status::wrong_unit;
    }
    return measure;
}

// The word for feet at the front of `rest`, in characters; 0: none.
std::size_t feet_word(std::string_view rest) {
    for (const std::string_view word : {"feet", "foot", "ft", "FT", "Ft", "'"}) {
        if (rest.substr(0, word.size()) == word && rest.substr(0, 2) != "''") {
            return word.size();
        }
    }
    return 0;
}

// Inches behind feet: `rest` begins at the inches.
Measure read_inches(const Number& feet, std::string_view rest) {
    const Number inches = take_number(rest);
    if (inches.status != Status::ok) {
        return {inches.status, 0.0, nullptr, false};
    }
    const Measure part = read_unit(inches.value, rest, Dimension::length);
    const bool in_inches = part.status == Status::ok && part.unit != nullptr && part.unit->name == "in";
    if (!feet.whole || !in_inches || inches.value >= 12.0) {
        return {part.status == Status::two_numbers ? Status::two_numbers : Status::bad_feet_and_inches, 0.0, nullptr, false};
    }
    return {Status::ok, feet.value * 12.0 + inches.value, part.unit, false};
}

// Number and unit, the whole of `text`.
Measure read_measure(std::string_view text, Dimension dimension) {
    std::string_view rest = trim(text);
    const bool negative = !rest.empty() && rest.front() == '-';
    if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) {
        rest.remove_prefix(1);
    }
    const Number number = take_number(rest);
    if (number.status != Status::ok) {
        return {number.status, 0.0, nullptr, false};
    }
    rest = trim(rest);
    Measure measure;
    const std::size_t feet = dimension == Dimension::length ? feet_word(rest) : 0;
    std::string_view inches = feet > 0 ? trim(rest.substr(feet)) : std::string_view{};
    if (!inches.empty() && inches.front() == '-') {
        inches.remove_prefix(1);
    }
    if (!inches.empty() && (is_digit(inches.front()) || inches.front() == '.')) {
        measure = read_inches(number, inches);
    } else {
        measure = read_unit(number.value, rest, dimension);
    }
    measure.number = negative ? -measure.number : measure.number;
    return measure;
}

std::string refusal_reason(Status status, std::string_view text, Dimension dimension) {
    const std::string_view name = dimension_name(dimension);
    switch (status) {
        case Status::ok: return {};
        case Status::empty: return fmt::format("this {} is empty", name);
        case Status::too_long: return fmt::format("this {} is longer than {} characters", name, most_quantity_characters);
        case Status::not_a_number: return fmt::format("this is not {} {}", name == "angle" ? "an" : "a", name);
        case Status::not_finite: return fmt::format("this {} is not a finite number", name);
        case Status::huge: return fmt::format("this {} is beyond anything that can be meant", name);
        case Status::zero_denominator: return "the fraction has a zero below the line";
        case Status::bad_fraction: return "this is no fraction: whole numbers with one slash, below one after a whole number";
        case Status::two_numbers: return "there is more than one number here";
        case Status::no_unit: return fmt::format("this {} has no unit", name);
        case Status::unclear_unit: return "only the tolerance has a unit, and it is not that of the file";
        case Status::wrong_unit: return fmt::format("what follows the number is no unit of {}", name);
        case Status::bad_feet_and_inches: return "feet are whole, and inches below 12 with their mark follow them";
        case Status::bad_tolerance: return "the tolerance after +- must be a plain value, zero or more";
        case Status::comma: break;
    }
    std::string point(text), none;
    point[point.find(',')] = '.';
    for (const char c : text) {
        none += c == ',' ? std::string{} : std::string(1, c);
    }
    return fmt::format("a comma can be read in two ways; write {} for a decimal, {} without thousands marks",
                       escape_text(trim(point)), escape_text(trim(none)));
}

Quantity refuse(Status status, std::string_view text, Dimension dimension) {
    Quantity result;
    result.status = status;
    result.message = refusal_reason(status, text, dimension);
    result.allowed = dimension_example(dimension);
    if (status == Status::wrong_unit) {
        result.allowed += fmt::format("; units: {}", format_units(dimension));
    }
    if (status == Status::no_unit && (dimension == Dimension::length || dimension == Dimension::length_per_turn)) {
        result.allowed += "; or unit = \"in\" at the top of the file";
    }
    return result;
}

// From typed number to SI once the unit is known.
double to_si(const Measure& measure, const Unit& unit) {
    // Minus zero would print as "-0".
    return (measure.turns_per_length ? unit.to_si(1.0) / measure.number : unit.to_si(measure.number)) + 0.0;
}

Quantity finish(const Measure& value, const Measure* tolerance, std::string_view text, Dimension dimension,
                std::string_view file_unit) {
    const Unit* plain = plain_unit(dimension, file_unit);
    const Unit* unit = value.unit;
    if (unit == nullptr && tolerance != nullptr && tolerance->unit != nullptr) {
        // "14 +- 3 mm" in a file in inches: nobody can tell what the 14 is.
        if (plain != nullptr && plain != tolerance->unit) {
            return refuse(Status::unclear_unit, text, dimension);
        }
        unit = tolerance->unit;
    }
    unit = unit == nullptr ? plain : unit;
    if (unit == nullptr) {
        return refuse(Status::no_unit, text, dimension);
    }
    Quantity result;
    result.plain = value.unit == nullptr && (tolerance == nullptr || tolerance->unit == nullptr);
    result.unit = result.plain ? std::string{} : std::string(unit->name);
    result.value = to_si(value, *unit);
    if (tolerance != nullptr) {
        const Unit* own = tolerance->unit == nullptr ? unit : tolerance->unit;
        result.tolerance = own->to_si(tolerance->number);
        result.has_tolerance = true;
    }
    if (!(std::fabs(result.value) <= most_quantity_value) || !(result.tolerance <= most_quantity_value)) {
        return refuse(Status::huge, text, dimension);
    }
    result.status = Status::ok;
    return result;
}

// Splits at the plus-minus sign; nothing when there is none.
struct PlusMinus {
    std::size_t at = std::string::npos, size = 0;
};

PlusMinus find_plus_minus(std::string_view text, std::size_t from) {
    const std::size_t short_form = text.find("+-", from), long_form = text.find("+/-", from);
    return short_form < long_form ? PlusMinus{short_form, 2} : PlusMinus{long_form, 3};
}

// Text that is no number at all, told apart for the sentence.
Status text_status(std::string_view ascii) {
    const std::string word = tidy_unit(ascii);
    for (const std::string_view start : {"nan", "+nan", "-nan", "inf", "+inf", "-inf"}) {
        if (word.substr(0, start.size()) == start && (word.size() == start.size() || word[start.size()] == ' ')) {
            return Status::not_finite;
        }
    }
    return word == "infinity" ? Status::not_finite : Status::ok;
}

}  // namespace

Quantity parse_quantity(std::string_view text, Dimension dimension, std::string_view file_unit) {
    if (text.size() > most_quantity_characters) {
        return refuse(Status::too_long, text, dimension);
    }
    const std::optional<std::string> ascii = to_ascii(text);
    if (!ascii) {
        return refuse(Status::not_a_number, text, dimension);
    }
    if (trim(*ascii).empty()) {
        return refuse(Status::empty, text, dimension);
    }
    if (text.find(',') != std::string_view::npos) {
        return refuse(Status::comma, text, dimension);
    }
    if (text_status(*ascii) != Status::ok) {
        return refuse(text_status(*ascii), text, dimension);
    }
    const PlusMinus sign = find_plus_minus(*ascii, 0);
    const Measure value = read_measure(std::string_view(*ascii).substr(0, sign.at), dimension);
    if (value.status != Status::ok) {
        return refuse(value.status, text, dimension);
    }
    if (value.turns_per_length && !(value.number > 0.0)) {
        return refuse(Status::huge, text, dimension);
    }
    if (sign.at == std::string::npos) {
        return finish(value, nullptr, text, dimension, file_unit);
    }
    const std::string_view behind = trim(std::string_view(*ascii).substr(sign.at + sign.size));
    const bool signed_again = !behind.empty() && !is_digit(behind.front()) && behind.front() != '.';
    const Measure tolerance = read_measure(behind, dimension);
    if (signed_again || tolerance.status != Status::ok || tolerance.turns_per_length || value.turns_per_length) {
        return refuse(Status::bad_tolerance, text, dimension);
    }
    return finish(value, &tolerance, text, dimension, file_unit);
}

Quantity make_quantity(double number, Dimension dimension, std::string_view file_unit) {
    if (!std::isfinite(number)) {
        return refuse(Status::not_finite, {}, dimension);
    }
    return finish(Measure{Status::ok, number, nullptr, false}, nullptr, {}, dimension, file_unit);
}

std::string format_refusal(std::string_view text, const Quantity& quantity) {
    return fmt::format("\"{}\": {}; allowed: {}", escape_text(text, 80), quantity.message, quantity.allowed);
}

}  // namespace hitchwright
