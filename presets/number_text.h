// The number part of a quantity: decimals, fractions, mixed numbers, and the signs people type.
//
// Internal to the quantity parser. Works on ASCII; `to_ascii` brings typographic signs there first.
// Numbers are read by std::from_chars, which knows no locale.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "presets/quantity.h"

namespace hitchwright {

inline bool is_digit(char c) { return c >= '0' && c <= '9'; }
inline bool is_blank(char c) { return c == ' ' || c == '\t'; }

/// Without blanks and tabs at both ends.
std::string_view trim(std::string_view text);

/// The text with fraction, prime, degree, minus and blank signs in plain ASCII (1 and the half sign give "1 1/2");
/// nothing when a character has no place in a quantity.
std::optional<std::string> to_ascii(std::string_view text);

/// True for what TOML takes as a number without more ado (14, -3.25); all else stands in quotes in a file.
bool is_toml_number(std::string_view text);

/// A number cut off the front of a text.
struct Number {
    QuantityStatus status = QuantityStatus::ok;
    double value = 0.0;
    bool whole = false;  ///< digits only: neither fraction, point nor exponent
};

/// Cuts an unsigned decimal (14, 3.5, 1e3), fraction (3/4) or mixed number (3 1/4, 3-1/4) off the front
/// of `rest`. On a status other than ok the state of `rest` means nothing.
Number take_number(std::string_view& rest);

}  // namespace hitchwright
