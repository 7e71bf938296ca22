// See base45.h. Two bytes, most significant first, are n = c + 45 d + 45^2 e and become "cde"; a last single one "cd".
#include "presets/base45.h"

namespace hitchwright {
namespace {

constexpr std::string_view letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

}  // namespace

std::string encode_base45(std::string_view bytes) {
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); i += 2) {
        const bool pair = i + 1 < bytes.size();
        unsigned n = static_cast<unsigned char>(bytes[i]);
        if (pair) n = 256U * n + static_cast<unsigned char>(bytes[i + 1]);
        for (int k = 0; k < (pair ? 3 : 2); ++k, n /= 45U) text += letters[n % 45U];
    }
    return text;
}

std::optional<std::string> decode_base45(std::string_view text) {
    if (text.size() % 3 == 1) return std::nullopt;
    std::string bytes;
    for (std::size_t i = 0; i < text.size(); i += 3) {
        const std::string_view group = text.substr(i, 3);
        unsigned n = 0, place = 1;
        for (const char c : group) {
            const std::size_t digit = letters.find(c);
            if (digit == std::string_view::npos) return std::nullopt;
            n += static_cast<unsigned>(digit) * place;
            place *= 45U;
        }
        if (n > (group.size() == 3 ? 0xFFFFU : 0xFFU)) return std::nullopt;
        if (group.size() == 3) bytes += static_cast<char>(n >> 8U);
        bytes += static_cast<char>(n & 0xFFU);
    }
    return bytes;
}

}  // namespace hitchwright
