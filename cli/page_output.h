// Pages of a command written as a PDF or as HTML: the check of -o and --paper, and the file.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/option_values.h"
#include "cli/outcome.h"
#include "report/cairo_writer.h"
#include "report/page.h"

namespace hitchwright {

/// The ending of a file's name in small letters, ".pdf"; empty: it has none.
std::string find_ending(std::string_view path);

/// -o names a PDF or HTML; --paper and no -o, and a table with -o, are problems.
void check_page_output(const Arguments& arguments, Form form, OptionReader& reader);

/// The pages as one document, HTML for the ending ".html", else a PDF.
RenderResult render_pages(const std::vector<PagePicture>& pages, std::string_view ending);

/// Writes the pages as a whole, in the form that the name's ending says; what was written, in the form asked for.
Outcome write_pages(const std::vector<PagePicture>& pages, const std::string& path, Form form);

}  // namespace hitchwright
