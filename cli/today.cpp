#include "cli/today.h"

#include <charconv>
#include <chrono>
#include <ctime>
#include <string_view>

#include <fmt/format.h>

#include "presets/iso_date.h"
#include "presets/problem.h"

namespace hitchwright {
namespace {

// 9999-12-31, the last day that ISO dates of four digits have.
constexpr long long most_seconds = 253402300799;

TodayDate find_epoch_day(std::string_view typed) {
    long long seconds = -1;
    const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), seconds);
    if (error != std::errc{} || end != typed.data() + typed.size() || seconds < 0 || seconds > most_seconds) {
        return {{},
                fmt::format("SOURCE_DATE_EPOCH: \"{}\" was read; allowed: whole seconds since 1970, or --date",
                            escape_text(typed, 80))};
    }
    const std::chrono::sys_seconds moment{std::chrono::seconds(seconds)};
    return {format_iso_date(std::chrono::floor<std::chrono::days>(moment)), {}};
}

}  // namespace

TodayDate find_today(const std::function<const char*(const char*)>& variable) {
    const char* const epoch = variable("SOURCE_DATE_EPOCH");
    if (epoch != nullptr && *epoch != '\0') return find_epoch_day(epoch);
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    if (::localtime_r(&now, &local) == nullptr) return {{}, "this machine's clock gives no day; use --date"};
    return {fmt::format("{:04}-{:02}-{:02}", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday), {}};
}

}  // namespace hitchwright
