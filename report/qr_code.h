// A text as a QR code (ISO/IEC 18004), by libqrencode. No type of that library appears here.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "report/page.h"

namespace hitchwright {

/// Dark and light squares, row by row from the top left; `size` a side.
struct QrCode {
    int size = 0;
    std::vector<bool> dark;
    bool at(int column, int row) const { return dark[static_cast<std::size_t>(row) * static_cast<std::size_t>(size) + static_cast<std::size_t>(column)]; }
};

/// Empty, or why the system can make no code, without a full stop.
std::string find_qr_problem();

/// The code of a text, error correction M (15 %), L (7 %) where M has no room. Nothing when it is empty or too long for
/// any code, or when the system can make none.
std::optional<QrCode> make_qr_code(std::string_view text);

/// The code with its quiet zone of four squares, as dark strips inside `area` (square).
std::vector<PageShape> place_qr_code(const QrCode& code, const PageRect& area);

}  // namespace hitchwright
