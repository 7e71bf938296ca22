// Numbers as people type them; see number_text.h.
#include "presets/number_text.h"

#include <algorithm>
#include <charconv>

#include "presets/utf8.h"

namespace hitchwright {
namespace {

using Status = QuantityStatus;

struct Sign {
    std::uint32_t code;
    std::string_view ascii;
};

// Fractions carry a leading blank, so that a digit before them makes a mixed number.
constexpr Sign signs[] = {
    {0xB1, "+-"},     {0xB0, "deg"},    {0x2212, "-"},    {0x2010, "-"},    {0x2011, "-"},    {0x2013, "-"},
    {0x2032, "'"},    {0x2019, "'"},    {0x2018, "'"},    {0x2033, "\""},   {0x201C, "\""},   {0x201D, "\""},
    {0x2044, "/"},    {0xA0, " "},      {0x2007, " "},    {0x2009, " "},    {0x202F, " "},    {0xBC, " 1/4"},
    {0xBD, " 1/2"},   {0xBE, " 3/4"},   {0x2153, " 1/3"}, {0x2154, " 2/3"}, {0x2155, " 1/5"}, {0x2156, " 2/5"},
    {0x2157, " 3/5"}, {0x2158, " 4/5"}, {0x2159, " 1/6"}, {0x215A, " 5/6"}, {0x215B, " 1/8"}, {0x215C, " 3/8"},
    {0x215D, " 5/8"}, {0x215E, " 7/8"}};

Number take_digits(std::string_view& rest) {
    std::size_t count = 0;
    while (count < rest.size() && is_digit(rest[count])) {
        ++count;
    }
    double value = 0.0;
    const auto read = std::from_chars(rest.data(), rest.data() + count, value);
    const bool fine = count > 0 && read.ec == std::errc{};
    rest.remove_prefix(count);
    return {fine ? Status::ok : Status::bad_fraction, value, true};
}

// "/8" after a numerator.
Number take_denominator(double numerator, std::string_view& rest) {
    rest.remove_prefix(1);
    const Number denominator = take_digits(rest);
    if (denominator.status != Status::ok) {
        return denominator;
    }
    if (denominator.value == 0.0) {
        return {Status::zero_denominator, 0.0, false};
    }
    if (!rest.empty() && (rest.front() == '/' || rest.front() == '.' || rest.front() == '-')) {
        return {Status::bad_fraction, 0.0, false};
    }
    return {Status::ok, numerator / denominator.value, false};
}

// True when `rest` begins with a separator, digits and a slash: the fraction of a mixed number.
bool fraction_follows(std::string_view rest) {
    if (rest.empty() || !(is_blank(rest.front()) || rest.front() == '-')) {
        return false;
    }
    rest = rest.front() == '-' ? rest.substr(1) : trim(rest);
    std::size_t count = 0;
    while (count < rest.size() && is_digit(rest[count])) {
        ++count;
    }
    return count > 0 && count < rest.size() && rest[count] == '/';
}

}  // namespace

bool is_toml_number(std::string_view text) {
    std::string_view rest = text;
    if (rest.starts_with('-')) {
        rest.remove_prefix(1);
    }
    const std::string_view whole = rest.substr(0, rest.find('.'));
    const std::string_view part = whole.size() == rest.size() ? std::string_view("0") : rest.substr(whole.size() + 1);
    const auto digits = [](std::string_view s) {
        return !s.empty() && s.size() <= 15 && std::all_of(s.begin(), s.end(), is_digit);
    };
    return digits(whole) && digits(part) && (whole == "0" || whole.front() != '0');
}

std::string_view trim(std::string_view text) {
    while (!text.empty() && is_blank(text.front())) {
        text.remove_prefix(1);
    }
    while (!text.empty() && is_blank(text.back())) {
        text.remove_suffix(1);
    }
    return text;
}

std::optional<std::string> to_ascii(std::string_view text) {
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Character c = decode_utf8(text, at);
        at += c.size;
        if (c.size == 1 && (c.code >= 0x20 || c.code == '\t') && c.code != 0x7F) {
            result += static_cast<char>(c.code);
            continue;
        }
        const Sign* found = nullptr;
        for (const Sign& sign : signs) {
            found = sign.code == c.code ? &sign : found;
        }
        if (c.size == 0 || found == nullptr) {
            return std::nullopt;
        }
        const bool after_sign = found->ascii.size() == 4 && !result.empty() && (result.back() == '-' || result.back() == '+');
        result += after_sign ? found->ascii.substr(1) : found->ascii;
    }
    return result;
}

Number take_number(std::string_view& rest) {
    if (rest.empty() || !(is_digit(rest.front()) || rest.front() == '.')) {
        return {Status::not_a_number, 0.0, false};
    }
    Number number{Status::ok, 0.0, true};
    const auto read = std::from_chars(rest.data(), rest.data() + rest.size(), number.value);
    if (read.ec != std::errc{}) {
        return {read.ec == std::errc::result_out_of_range ? Status::huge : Status::not_a_number, 0.0, false};
    }
    const std::string_view typed = rest.substr(0, static_cast<std::size_t>(read.ptr - rest.data()));
    rest.remove_prefix(typed.size());
    number.whole = typed.find_first_not_of("0123456789") == std::string_view::npos;
    if (!rest.empty() && rest.front() == '/' && rest.size() > 1 && is_digit(rest[1])) {
        return number.whole ? take_denominator(number.value, rest) : Number{Status::bad_fraction, 0.0, false};
    }
    if (!fraction_follows(rest)) {
        return number;
    }
    rest = rest.front() == '-' ? rest.substr(1) : trim(rest);
    const Number numerator = take_digits(rest);
    const Number fraction = take_denominator(numerator.value, rest);
    if (numerator.status != Status::ok || fraction.status != Status::ok) {
        return numerator.status != Status::ok ? numerator : fraction;
    }
    const bool proper = number.whole && fraction.value < 1.0;
    return {proper ? Status::ok : Status::bad_fraction, number.value + fraction.value, false};
}

}  // namespace hitchwright
