// Placed pages as one HTML document that prints as they are: a section for each, with the page as our own SVG writer draws it.
//
// What a browser prints has the pages of the PDF: as many, of their own sizes, without margins of its own, with text that can be
// searched and copied. Nothing in it runs or is loaded; its policy says so to whoever opens it.
#pragma once

#include <string>
#include <vector>

#include "report/page.h"

namespace hitchwright {

/// The pages as an HTML document in UTF-8, the same byte by byte for the same pages; the first one's title is the document's.
/// Its style names the sizes of paper ("paper-1" ...), which the sections have as classes.
std::string write_html(const std::vector<PagePicture>& pages);

}  // namespace hitchwright
