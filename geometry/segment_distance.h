// Distance of a point to a point or a segment over any scalar, in side view, and the smooth parts that of a segment is made of.
//
// The nearest point of a segment is a + t (b - a) with t clamped to [0, 1]. The square of the distance is differentiable, with t held
// where it is: the nearest point's own motion along the segment does not count. Lengths m.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

#include "geometry/interval_jet.h"
#include "geometry/vec.h"

namespace hitchwright {

template <class T>
struct PointPlaces {
    Vec2<T> point, other;
};
template <class T>
struct SegmentPlaces {
    Vec2<T> point, from, to;
};

namespace detail {

template <std::size_t N>
IntervalJet<N> clamp_to_segment(const IntervalJet<N>& t) {
    return IntervalJet<N>(Interval(std::clamp(t.v.lo, 0.0, 1.0), std::clamp(t.v.hi, 0.0, 1.0)));
}
inline double clamp_to_segment(double t) { return std::clamp(t, 0.0, 1.0); }

template <class T>
T find_length_squared(const Vec2<T>& a) { return square(a.x) + square(a.z); }

}  // namespace detail

template <class T>
T find_distance_squared(const PointPlaces<T>& p) { return detail::find_length_squared(p.point - p.other); }

/// Over doubles and interval jets.
template <class T>
T find_distance_squared(const SegmentPlaces<T>& s) {
    const Vec2<T> along = s.to - s.from, past_from = s.point - s.from, past_to = s.point - s.to;
    const T t = detail::clamp_to_segment(dot(past_from, along) / detail::find_length_squared(along));
    const T u = 1.0 - t;  // weights instead of a step along b - a: at an end the other end drops out of the enclosure
    return square(u * past_from.x + t * past_to.x) + square(u * past_from.z + t * past_to.z);
}

/// Squares of the distances to both ends and to the line through them; how far the foot on it lies past either end, times the
/// segment's length, toward `to`.
enum SegmentPart : std::size_t { to_from, to_to, to_line, past_from, past_to, segment_parts };

template <class T>
std::array<T, segment_parts> find_segment_parts(const SegmentPlaces<T>& s) {
    const Vec2<T> along = s.to - s.from, from = s.point - s.from, to = s.point - s.to;
    return {detail::find_length_squared(from), detail::find_length_squared(to),
            square(cross(along, from)) / detail::find_length_squared(along), dot(from, along), dot(to, along)};
}

}  // namespace hitchwright
