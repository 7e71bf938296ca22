// Our own small SVG 1.1 writer: paths, circles and text, no scripts, no outside references.
//
// The output is the same byte by byte for the same picture. Text is cleaned and escaped, so any name a person types
// gives a well-formed file. Every text carries the width the layout reckoned with (`textLength`), so that words keep
// clear of each other also where DejaVu Sans is missing.
#pragma once

#include <string>
#include <string_view>

#include "report/page.h"

namespace hitchwright {

/// `text` cleaned (text_clean.h) with & < > " and ' replaced by entities: safe as content and as an attribute.
std::string escape_xml(std::string_view text);

/// A length as it stands in the files: millimetres with at most three decimals, "215.9mm".
std::string format_svg_length(double mm);

/// The picture as an SVG document in UTF-8. Shapes with a coordinate that is not finite are left out.
std::string write_svg(const PagePicture& picture);
/// Its element alone, for a place within another document.
std::string write_svg_element(const PagePicture& picture);

}  // namespace hitchwright
