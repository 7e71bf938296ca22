// A number with a unit, as a person types it, to SI.
//
// Form: VALUE [UNIT] [+- VALUE [UNIT]]. A value is a decimal (14, -3.5, 1e3), a fraction (3/4) or a mixed
// number (3 1/4, 3-1/4); lengths may be feet and inches (3'2 1/2", 3' 2-1/2", 3 ft 2 in). The tolerance may
// be written +-, +/- or with the plus-minus sign. Common typographic signs (fractions, primes, degree, minus,
// no-break spaces) are understood. The result does not depend on the locale.
// What does not follow this form in full is refused with a reason; nothing is guessed.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "geometry/reading.h"

namespace hitchwright {

/// Why a text is no quantity.
enum class QuantityStatus {
    ok,
    empty,
    too_long,
    not_a_number,
    not_finite,
    huge,
    comma,
    zero_denominator,
    bad_fraction,
    two_numbers,
    no_unit,
    unclear_unit,
    wrong_unit,
    bad_feet_and_inches,
    bad_tolerance
};

/// Longest text that is looked at, in bytes.
inline constexpr std::size_t most_quantity_characters = 64;
/// Largest magnitude of a quantity, in SI; anything beyond is a slip of the finger in every dimension.
inline constexpr double most_quantity_value = 1.0e9;

/// A parsed quantity, or the reason why it is none.
struct Quantity {
    double value = 0.0;          ///< SI; meaningful only when ok()
    double tolerance = 0.0;      ///< two sigma, SI, >= 0; meaningful only when has_tolerance
    bool has_tolerance = false;
    std::string unit;            ///< as in units.h ("in", "mm", ...) if one was typed, else empty
    bool plain = false;          ///< true: no unit was typed, the default one was used
    QuantityStatus status = QuantityStatus::empty;
    std::string message;  ///< what is wrong, a clause without the text itself; empty when ok
    std::string allowed;  ///< what would be right, with an example; empty when ok

    bool ok() const { return status == QuantityStatus::ok; }
};

/// Parses a text. `file_unit` is the unit of bare lengths ("in", "mm", "cm", "m"); empty: bare lengths are
/// refused. Bare angles are degrees, bare speeds rpm; masses, forces, powers, pressures and
/// torques always need a unit.
/// A length per turn is "5 mm/turn", "1/4 in per turn", "4 turns/in", or a length alone (in one turn).
Quantity parse_quantity(std::string_view text, Dimension dimension, std::string_view file_unit = {});

/// A bare number, as in a TOML file: the same rules and refusals as for a text without unit.
Quantity make_quantity(double number, Dimension dimension, std::string_view file_unit = {});

/// One sentence for a refused text: what was read, why it is refused, what is allowed. Printable.
std::string format_refusal(std::string_view text, const Quantity& quantity);

}  // namespace hitchwright
