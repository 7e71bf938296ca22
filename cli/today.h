// The day that stands in a log: today's, or the one a build or a test asks for.
#pragma once

#include <functional>
#include <string>

namespace hitchwright {

/// A day as YYYY-MM-DD, or why there is none.
struct TodayDate {
    std::string date;
    std::string message;  ///< one sentence without its full stop; empty: `date` holds
};

/// SOURCE_DATE_EPOCH (seconds since 1970, the day in UTC; reproducible-builds.org) when `variable` has it, else the day
/// of this machine's clock in its own time zone.
TodayDate find_today(const std::function<const char*(const char*)>& variable);

}  // namespace hitchwright
