// The set-up sheet on paper: upright pages with a row for each line, then what to cut, what to read back, cautions,
// signatures and the code of the set-up. Black and white says all of it.
#pragma once

#include <string>
#include <vector>

#include "report/page.h"
#include "report/sheet.h"

namespace hitchwright {

/// What is beside the lines.
struct SheetOptions {
    std::string printed;       ///< day of printing, ISO; empty: none
    std::string code;          ///< text of the QR code; empty: none
    std::string no_code = {};  ///< why there is none, without a full stop
    bool worksheet = false;    ///< for teaching: targets are left to be filled in
};

/// The pages of a sheet; `paper` upright.
std::vector<PagePicture> compose_sheet_pages(const Sheet& sheet, const SheetOptions& options, const PageSetup& paper,
                                             const TextMeasure& measure);

}  // namespace hitchwright
