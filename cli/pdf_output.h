// Pages of a command written as a PDF: the check of -o and --paper, and the file.
#pragma once

#include <string>
#include <vector>

#include "cli/option_values.h"
#include "cli/outcome.h"
#include "report/page.h"

namespace hitchwright {

/// -o names a PDF; --paper and no -o, and a table with -o, are problems.
void check_pdf_output(const Arguments& arguments, Form form, OptionReader& reader);

/// Writes the pages as a whole; what was written, in the form asked for.
Outcome write_pdf_pages(const std::vector<PagePicture>& pages, const std::string& path, Form form);

}  // namespace hitchwright
