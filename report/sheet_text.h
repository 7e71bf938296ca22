// The set-up sheet as text for a terminal or a plain printer.
#pragma once

#include <string>

#include "report/sheet_pages.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The sheet in lines of at most style.width columns, with boxes to tick and lines to write on.
std::string format_sheet_text(const Sheet& sheet, const SheetOptions& options, const TextStyle& style);

std::string format_sheet_json(const Sheet& sheet, const Setup& setup, const SheetOptions& options);

}  // namespace hitchwright
