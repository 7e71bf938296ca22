#include "presets/iso_date.h"

#include <charconv>

#include <fmt/format.h>

#include "presets/number_text.h"

namespace hitchwright {
namespace {

// Digits alone, so that no sign and no blank passes.
int read_digits(std::string_view text) {
    int number = 0;
    for (const char c : text) {
        if (!is_digit(c)) return -1;
    }
    std::from_chars(text.data(), text.data() + text.size(), number);
    return number;
}

}  // namespace

bool is_iso_date(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    const int year = read_digits(text.substr(0, 4)), month = read_digits(text.substr(5, 2)),
              day = read_digits(text.substr(8, 2));
    if (year < 0 || month < 0 || day < 0) return false;
    return std::chrono::year_month_day(std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                       std::chrono::day(static_cast<unsigned>(day)))
        .ok();
}

std::string format_iso_date(std::chrono::year_month_day day) {
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                       static_cast<unsigned>(day.day()));
}

}  // namespace hitchwright
