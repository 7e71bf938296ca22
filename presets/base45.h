// Bytes as text of the 45 letters a QR code holds most densely, and back: RFC 9285.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace hitchwright {

std::string encode_base45(std::string_view bytes);

/// Nothing for text that no bytes give: other letters, a length of 3 n + 1, or a group beyond its range.
std::optional<std::string> decode_base45(std::string_view text);

}  // namespace hitchwright
