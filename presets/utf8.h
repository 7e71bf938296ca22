// Reading UTF-8 one character at a time, strictly: no overlong forms, surrogates or values past U+10FFFF.
//
// Method: the table of well-formed byte sequences of the Unicode Standard, chapter 3 (D92).
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace hitchwright {

/// One decoded character.
struct Utf8Character {
    std::uint32_t code = 0;
    std::size_t size = 0;  ///< bytes, 1 to 4; 0: the bytes at this place are not UTF-8
};

/// Decodes the character that begins at byte `at`; size 0 when the bytes are broken or `at` is past the end.
inline Utf8Character decode_utf8(std::string_view text, std::size_t at) {
    if (at >= text.size()) {
        return {};
    }
    const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i])); };
    const std::uint32_t lead = byte(at);
    if (lead < 0x80) {
        return {lead, 1};
    }
    const std::size_t size = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || at + size > text.size()) {
        return {};
    }
    std::uint32_t code = lead & (0x7Fu >> size);
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(at + i) & 0xC0) != 0x80) {
            return {};
        }
        code = (code << 6) | (byte(at + i) & 0x3F);
    }
    const bool overlong = (size == 3 && code < 0x800) || (size == 4 && code < 0x10000);
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (overlong || surrogate || code > 0x10FFFF) {
        return {};
    }
    return {code, size};
}

}  // namespace hitchwright
