// A day as people write it into a log: YYYY-MM-DD, proleptic Gregorian calendar.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

namespace hitchwright {

/// True for a day that exists: "2026-02-28", not "2026-02-30", "2026-2-28" or "26-02-28".
bool is_iso_date(std::string_view text);

/// The day as text. Years 0 to 9999.
std::string format_iso_date(std::chrono::year_month_day day);

}  // namespace hitchwright
