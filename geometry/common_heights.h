// What two lists of height ranges have in common.
#pragma once

#include <algorithm>
#include <vector>

#include "geometry/height_range.h"

namespace hitchwright {

/// What lies in one of `a` and in one of `b`; both in rising order.
inline std::vector<HeightRange> find_common_heights(const std::vector<HeightRange>& a, const std::vector<HeightRange>& b) {
    std::vector<HeightRange> common;
    for (const HeightRange& x : a) {
        for (const HeightRange& y : b) {
            const HeightRange both{std::max(x.low, y.low), std::min(x.high, y.high)};
            if (both.low < both.high) common.push_back(both);
        }
    }
    return common;
}

}  // namespace hitchwright
