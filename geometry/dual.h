// Dual numbers: a value and its derivative in one direction, over any scalar that the kernels know.
#pragma once

#include <cmath>

#include "geometry/vec.h"

namespace hitchwright {

/// A constant has no derivative.
template <class T>
struct Dual {
    T v, d;

    // cppcheck-suppress uninitMemberVar ; lists of many are filled before they are read
    Dual() = default;
    Dual(const T& value, const T& slope) : v(value), d(slope) {}
    Dual(const T& value) : v(value), d(0.0) {}  // NOLINT: a constant
    Dual(double value) : v(value), d(0.0) {}    // NOLINT
};

template <class T>
Dual<T> operator-(const Dual<T>& a) { return {-a.v, -a.d}; }
template <class T>
Dual<T> operator+(const Dual<T>& a, const Dual<T>& b) { return {a.v + b.v, a.d + b.d}; }
template <class T>
Dual<T> operator-(const Dual<T>& a, const Dual<T>& b) { return {a.v - b.v, a.d - b.d}; }
template <class T>
Dual<T> operator*(const Dual<T>& a, const Dual<T>& b) { return {a.v * b.v, a.d * b.v + a.v * b.d}; }
template <class T>
Dual<T> operator/(const Dual<T>& a, const Dual<T>& b) {
    const T q = a.v / b.v;
    return {q, (a.d - q * b.d) / b.v};
}
template <class T>
Dual<T> operator+(const Dual<T>& a, double s) { return {a.v + s, a.d}; }
template <class T>
Dual<T> operator+(double s, const Dual<T>& a) { return a + s; }
template <class T>
Dual<T> operator-(const Dual<T>& a, double s) { return {a.v - s, a.d}; }
template <class T>
Dual<T> operator-(double s, const Dual<T>& a) { return {s - a.v, -a.d}; }
template <class T>
Dual<T> operator*(const Dual<T>& a, double s) { return {a.v * s, a.d * s}; }
template <class T>
Dual<T> operator*(double s, const Dual<T>& a) { return a * s; }
template <class T>
Dual<T> square(const Dual<T>& a) { return {square(a.v), 2.0 * (a.v * a.d)}; }
template <class T>
Dual<T> sqrt(const Dual<T>& a) {
    using std::sqrt;
    const T s = sqrt(a.v);
    return {s, 0.5 * (a.d / s)};
}
template <class T>
Dual<T> clamped_sqrt(const Dual<T>& a) {
    const T s = clamped_sqrt(a.v);
    return {s, 0.5 * (a.d / s)};
}

}  // namespace hitchwright
