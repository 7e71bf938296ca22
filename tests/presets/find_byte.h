// Where the TOML library says something stands, as a place in the text.
#pragma once

#include <cstddef>
#include <string_view>

namespace hitchwright::test {

/// Byte of a line and column, both from 1, columns in characters.
inline std::size_t find_byte(std::string_view text, int line, int column) {
    std::size_t at = 0;
    for (int i = 1; i < line; ++i) at = text.find('\n', at) + 1;
    for (int i = 1; i < column; ++i) {
        ++at;
        while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) ++at;
    }
    return at;
}

}  // namespace hitchwright::test
