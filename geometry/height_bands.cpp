#include "geometry/height_bands.h"

#include <algorithm>

namespace hitchwright {

std::vector<HeightRange> add_heights(std::vector<HeightRange> bands, const HeightRange& more) {
    bands.push_back(more);
    std::sort(bands.begin(), bands.end(), [](const HeightRange& x, const HeightRange& y) { return x.low < y.low; });
    std::vector<HeightRange> joined;
    for (const HeightRange& r : bands) {
        if (!joined.empty() && r.low <= joined.back().high) joined.back().high = std::max(joined.back().high, r.high);
        else joined.push_back(r);
    }
    return joined;
}

std::vector<HeightRange> find_remaining_heights(const HeightRange& whole, const std::vector<HeightRange>& inside) {
    std::vector<HeightRange> rest;
    double from = whole.low;
    for (const HeightRange& r : inside) {
        if (r.low > from) rest.push_back({from, std::min(r.low, whole.high)});
        from = std::max(from, r.high);
        if (from >= whole.high) return rest;
    }
    rest.push_back({from, whole.high});
    return rest;
}

}  // namespace hitchwright
