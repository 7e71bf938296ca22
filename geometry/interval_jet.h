// Interval jets: an enclosure of a function over a box together with enclosures of its partial derivatives.
//
// Forward differentiation over intervals: d(a b) = a db + b da and so on. From a jet over a box and the function
// at the box's middle follows the mean-value form f(m) + sum d_i (X_i - m_i), whose excess width shrinks with the
// square of the box, and the monotonicity test that decides most boxes at once (bounded_extreme.h).
#pragma once

#include <array>
#include <cstddef>

#include "geometry/interval.h"

namespace hitchwright {

/// Value and N partial derivatives, each an enclosure over the box the variables were made from.
template <std::size_t N>
struct IntervalJet {
    Interval v;
    std::array<Interval, N> d{};

    IntervalJet() = default;
    IntervalJet(double value) : v(value) {}  // NOLINT: a number is a constant
    IntervalJet(const Interval& value) : v(value) {}  // NOLINT

    /// The variable number `index`, ranging over `range`.
    static IntervalJet variable(const Interval& range, std::size_t index) {
        IntervalJet r(range);
        r.d[index] = Interval(1.0);
        return r;
    }
};

template <std::size_t N>
IntervalJet<N> operator-(const IntervalJet<N>& a) {
    IntervalJet<N> r(-a.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = -a.d[i];
    return r;
}
template <std::size_t N>
IntervalJet<N> operator+(const IntervalJet<N>& a, const IntervalJet<N>& b) {
    IntervalJet<N> r(a.v + b.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = a.d[i] + b.d[i];
    return r;
}
template <std::size_t N>
IntervalJet<N> operator-(const IntervalJet<N>& a, const IntervalJet<N>& b) {
    IntervalJet<N> r(a.v - b.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = a.d[i] - b.d[i];
    return r;
}
template <std::size_t N>
IntervalJet<N> operator*(const IntervalJet<N>& a, const IntervalJet<N>& b) {
    IntervalJet<N> r(a.v * b.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = a.v * b.d[i] + a.d[i] * b.v;
    return r;
}
template <std::size_t N>
IntervalJet<N> operator/(const IntervalJet<N>& a, const IntervalJet<N>& b) {
    IntervalJet<N> r(a.v / b.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = (a.d[i] - r.v * b.d[i]) / b.v;
    return r;
}
template <std::size_t N>
IntervalJet<N> square(const IntervalJet<N>& a) {
    IntervalJet<N> r(square(a.v));
    const Interval twice = Interval(2.0) * a.v;
    for (std::size_t i = 0; i < N; ++i) r.d[i] = twice * a.d[i];
    return r;
}
/// Root; where the argument reaches zero the derivative is not bounded and says so (the whole line).
template <std::size_t N>
IntervalJet<N> sqrt(const IntervalJet<N>& a) {
    IntervalJet<N> r(sqrt(a.v));
    const Interval twice = Interval(2.0) * r.v;
    for (std::size_t i = 0; i < N; ++i) r.d[i] = a.d[i] / twice;
    return r;
}
template <std::size_t N>
IntervalJet<N> clamped_sqrt(const IntervalJet<N>& a) { return sqrt(a); }

// Mixed forms with plain numbers: cheaper than promoting the number to a jet.
template <std::size_t N>
IntervalJet<N> operator*(double s, const IntervalJet<N>& a) {
    const Interval k(s);
    IntervalJet<N> r(k * a.v);
    for (std::size_t i = 0; i < N; ++i) r.d[i] = k * a.d[i];
    return r;
}
template <std::size_t N>
IntervalJet<N> operator*(const IntervalJet<N>& a, double s) { return s * a; }
template <std::size_t N>
IntervalJet<N> operator+(const IntervalJet<N>& a, double s) {
    IntervalJet<N> r(a);
    r.v = a.v + Interval(s);
    return r;
}
template <std::size_t N>
IntervalJet<N> operator+(double s, const IntervalJet<N>& a) { return a + s; }
template <std::size_t N>
IntervalJet<N> operator-(const IntervalJet<N>& a, double s) { return a + (-s); }
template <std::size_t N>
IntervalJet<N> operator-(double s, const IntervalJet<N>& a) { return (-a) + s; }

}  // namespace hitchwright
