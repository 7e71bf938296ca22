// Round values along an axis: ticks, rules of a hatch.
#pragma once

#include <cmath>
#include <vector>

namespace hitchwright {

/// The multiples of `step` > 0 from `low` to `high`, ends a billionth of a step beyond them included. Each is a whole number times
/// the step, so that zero is 0 and no rounding adds up.
inline std::vector<double> list_multiples(double low, double high, double step) {
    const double first = std::ceil(low / step - 1e-9), last = std::floor(high / step + 1e-9);
    std::vector<double> all;
    if (!(last >= first)) return all;
    const auto count = static_cast<std::size_t>(last - first) + 1;
    all.reserve(count);
    for (std::size_t i = 0; i < count; ++i) all.push_back((first + static_cast<double>(i)) * step);
    return all;
}

}  // namespace hitchwright
