// Text made safe before it reaches a picture: valid UTF-8, one line, no characters that XML or a font renderer refuses.
//
// Names come from files people type; a picture must neither break on them nor show something else in silence, so each
// refused byte or character becomes one visible replacement mark (U+FFFD) and each control character one space.
#pragma once

#include <string>
#include <string_view>

namespace hitchwright {

/// One step through UTF-8 text.
struct DecodedCharacter {
    char32_t code = 0;      ///< code point; U+FFFD when the bytes are not valid UTF-8
    std::size_t bytes = 1;  ///< bytes taken, at least 1
    bool valid = true;      ///< false: the bytes were not valid UTF-8 (overlong, surrogate, cut off, out of range)
};

/// Decodes the character that begins at `text[at]`; `at` must be inside `text`.
DecodedCharacter decode_character(std::string_view text, std::size_t at);

/// `text` as valid UTF-8 on one line: control characters (also U+0080..9F, line and paragraph separators) become
/// spaces, what is not valid UTF-8, not allowed in XML 1.0 or turns the direction of text becomes U+FFFD. Clean text is returned
/// unchanged.
std::string clean_text(std::string_view text);

}  // namespace hitchwright
