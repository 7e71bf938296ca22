// A worksheet for teaching, in words: the readings as taped, what is seen at the machine, and the key.
#pragma once

#include <string>
#include <vector>

#include "geometry/worksheet.h"
#include "report/format_length.h"
#include "report/page.h"
#include "report/sheet_pages.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The worksheet: given readings, what is seen, the sheet without targets, and the key behind it.
std::string format_worksheet_text(const Worksheet& worksheet, const Sheet& sheet, const SheetOptions& options,
                                  const TextStyle& style);

/// The same on paper; the key on pages of its own at the end.
std::vector<PagePicture> compose_worksheet_pages(const Worksheet& worksheet, const Sheet& sheet,
                                                 const SheetOptions& options, UnitSystem units, const PageSetup& paper,
                                                 const TextMeasure& measure);

/// What was set in: "the upper link is in hole 3 of the tractor, on paper 2".
std::string say_fault(const WorksheetFault& fault, UnitSystem units);

}  // namespace hitchwright
