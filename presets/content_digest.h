// A short mark of some contents, to notice that they have changed. Not for secrets: FNV-1a, 64 bits (Fowler, Noll, Vo).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace hitchwright {

/// Digest of texts, one after the other; where one ends counts.
class ContentDigest {
public:
    ContentDigest& add(std::string_view text) {
        add_bytes(text);
        const std::uint64_t size = text.size();
        for (int shift = 0; shift < 64; shift += 8) add_byte(static_cast<unsigned char>(size >> shift));
        return *this;
    }
    /// 16 hexadecimal digits.
    std::string text() const {
        std::string digits(16, '0');
        for (std::size_t i = 0; i < 16; ++i) digits[i] = "0123456789abcdef"[(state_ >> (60 - 4 * i)) & 15U];
        return digits;
    }

private:
    void add_bytes(std::string_view text) {
        for (const char c : text) add_byte(static_cast<unsigned char>(c));
    }
    void add_byte(unsigned char byte) { state_ = (state_ ^ byte) * 0x100000001b3ULL; }
    std::uint64_t state_ = 0xcbf29ce484222325ULL;
};

}  // namespace hitchwright
