// A closed range of heights, m above the ground.
#pragma once

namespace hitchwright {

/// All heights from `low` to `high`, both included; low <= high.
struct HeightRange {
    double low = 0.0;
    double high = 0.0;

    constexpr bool contains(double height) const { return low <= height && height <= high; }
    bool operator==(const HeightRange&) const = default;
};

}  // namespace hitchwright
