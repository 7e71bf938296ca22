// The set-up sheet as pages: lines, code and drawing, as "sheet -o" writes them and the window shows them.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "presets/library.h"
#include "report/format_length.h"
#include "report/sheet_pages.h"

namespace hitchwright {

/// Paper of a sheet and of the drawing behind it.
struct SheetPaper {
    PageSetup upright, lying;
};
SheetPaper find_sheet_paper(bool a4);

/// Where a set-up comes from: what its code is made of.
struct SetupOrigin {
    std::string name;  ///< or path
    const Library& library;
    std::vector<std::string> sets;
    std::string rules;
};

/// The options of a sheet with the set-up's code in it, or why there is none.
SheetOptions make_sheet_options(const SetupOrigin& origin, const std::string& printed);

/// The pages: lines, then the drawing, in black and white.
std::vector<PagePicture> compose_sheet_document(const Setup& setup, const Analysis& analysis, const Sheet& sheet,
                                                const SheetOptions& options, UnitSystem units, const SheetPaper& paper);

}  // namespace hitchwright
