// See text_clean.h. The decoder follows the table of well-formed byte sequences of the Unicode standard, chapter 3
// (table 3-7, from memory): overlong forms, surrogates and values above 10FFFF are refused.
#include "report/text_clean.h"

namespace hitchwright {
namespace {

constexpr char32_t replacement = 0xFFFD;

unsigned byte_at(std::string_view text, std::size_t at) {
    return at < text.size() ? static_cast<unsigned char>(text[at]) : 0U;  // 0 is no continuation byte
}

bool is_continuation(unsigned byte) { return (byte & 0xC0U) == 0x80U; }

bool is_control(char32_t code) {
    return code < 0x20 || (code >= 0x7F && code <= 0x9F) || code == 0x2028 || code == 0x2029;
}

/// Marks, overrides and isolates of direction: what stands behind one would be shown in another order than it was written.
bool turns_text(char32_t code) {
    return code == 0x061C || code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

bool is_refused(char32_t code) {
    return code == 0xFFFE || code == 0xFFFF || (code >= 0xFDD0 && code <= 0xFDEF) || turns_text(code);
}

}  // namespace

DecodedCharacter decode_character(std::string_view text, std::size_t at) {
    const DecodedCharacter broken{replacement, 1, false};
    const unsigned first = byte_at(text, at);
    if (first < 0x80U) return {first, 1, true};
    std::size_t length = 0;
    unsigned code = 0;
    if (first >= 0xC2U && first <= 0xDFU) {
        length = 2;
        code = first & 0x1FU;
    }
    if (first >= 0xE0U && first <= 0xEFU) {
        length = 3;
        code = first & 0x0FU;
    }
    if (first >= 0xF0U && first <= 0xF4U) {
        length = 4;
        code = first & 0x07U;
    }
    if (length == 0) return broken;
    for (std::size_t i = 1; i < length; ++i) {
        const unsigned next = byte_at(text, at + i);
        if (!is_continuation(next)) return broken;
        code = (code << 6U) | (next & 0x3FU);
    }
    const bool overlong = (length == 3 && code < 0x800U) || (length == 4 && code < 0x10000U);
    const bool surrogate = code >= 0xD800U && code <= 0xDFFFU;
    if (overlong || surrogate || code > 0x10FFFFU) return broken;
    return {code, length, true};
}

std::string clean_text(std::string_view text) {
    std::string clean;
    clean.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const DecodedCharacter c = decode_character(text, at);
        if (!c.valid || is_refused(c.code))
            clean += "\xEF\xBF\xBD";
        else if (is_control(c.code))
            clean += ' ';
        else
            clean.append(text.substr(at, c.bytes));
        at += c.bytes;
    }
    return clean;
}

}  // namespace hitchwright
