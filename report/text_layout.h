// Plain text for a terminal: printable names, columns, wrapped paragraphs, tables.
//
// Width is counted in columns of a monospaced font: one for a character, two for the wide ones of East Asian scripts. A
// number stays with its fraction, its unit and a "+-" before it ("3 5/8 in" is never torn), since a torn length is read
// wrong. Names come from files people type, so whatever could steer a terminal is written out as \xNN or \u{NNNN}.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "report/format_length.h"

namespace hitchwright {

/// How text is laid out.
struct TextStyle {
    UnitSystem units = UnitSystem::inch;
    std::size_t width = 80;  ///< columns; below 40 counts as 40
    bool colour = false;     ///< ANSI colours on top of the words; never the only sign of anything
};

/// `text` on one line with control characters, marks that turn or hide text, and broken UTF-8 escaped; longer than
/// `most` characters: its beginning and "...".
std::string printable_text(std::string_view text, std::size_t most = 60);

/// Columns the text takes on a terminal. `text` without control characters.
std::size_t count_columns(std::string_view text);

/// The text broken at spaces into lines of at most `width` columns, indents included. A word wider than a line is
/// broken inside. Empty text gives no line. No line ends in a space.
std::vector<std::string> wrap_columns(std::string_view text, std::size_t width, std::size_t first_indent,
                                      std::size_t indent);

/// `wrap_columns` with every line ended.
std::string format_paragraph(std::string_view text, std::size_t width, std::size_t first_indent, std::size_t indent);

/// A paragraph behind a label that is kept as it is, spaces included: `label` at `indent`, further lines at `hang`.
std::string format_labelled(std::string_view label, std::string_view text, std::size_t width, std::size_t indent,
                            std::size_t hang);

/// `text` padded with spaces to `columns`, behind it or before it; longer text is left as it is.
std::string pad_right(std::string_view text, std::size_t columns);
std::string pad_left(std::string_view text, std::size_t columns);

/// Rows as columns `spaces` apart, the first column left-aligned, the others right-aligned. Rows may be short.
/// Every line ended, none ends in a space.
std::string format_columns(const std::vector<std::vector<std::string>>& rows, std::size_t indent = 0,
                           std::size_t spaces = 2);

}  // namespace hitchwright
