// Enclosures over a box made narrower by the mean-value form about the box's middle.
#pragma once

#include <algorithm>
#include <cstddef>

#include "geometry/bounded_extreme.h"
#include "geometry/vec.h"

namespace hitchwright {

/// Narrows a jet over a box by the mean-value form about its value in the middle of the box.
template <std::size_t N>
void narrow_by_mean(IntervalJet<N>& f, const Interval& middle, const IntervalBox<N>& box) {
    const Interval mean = find_mean_value_form(middle, f, box);
    const Interval both(std::max(f.v.lo, mean.lo), std::min(f.v.hi, mean.hi));
    if (both.lo <= both.hi) f.v = both;
}
template <std::size_t N>
void narrow_by_mean(Vec3<IntervalJet<N>>& f, const Vec3<Interval>& middle, const IntervalBox<N>& box) {
    narrow_by_mean(f.x, middle.x, box);
    narrow_by_mean(f.y, middle.y, box);
    narrow_by_mean(f.z, middle.z, box);
}

}  // namespace hitchwright
