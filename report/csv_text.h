// CSV (RFC 4180 with plain line ends): numbers at full precision, locale independent, text quoted where needed.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// A number with the fewest digits that give it back exactly; empty when it is not finite.
std::string format_csv_number(double value);

/// Text quoted when it holds a comma, a quote, or a line end; control characters are escaped first. What a spreadsheet would take
/// for a formula (begins with = + - @ and is no amount) gets an apostrophe before it: names come from files of others.
std::string format_csv_text(std::string_view text);

/// Cells joined by commas, line ended.
std::string format_csv_line(const std::vector<std::string>& cells);

}  // namespace hitchwright
