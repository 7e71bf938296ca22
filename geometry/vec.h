// Small vectors over any scalar: the pose kernel is written once and evaluated with doubles (fast), intervals
// (proven bounds) and interval jets (bounds of the derivative too). Eigen is kept for double-only code, since
// its packet types gain nothing for interval scalars and cost compile time.
#pragma once

#include <algorithm>
#include <cmath>

namespace hitchwright {

/// Vector in side view: x rearward, z up.
template <class T>
struct Vec2 {
    T x, z;
};
template <class T>
Vec2<T> operator+(const Vec2<T>& a, const Vec2<T>& b) { return {a.x + b.x, a.z + b.z}; }
template <class T>
Vec2<T> operator-(const Vec2<T>& a, const Vec2<T>& b) { return {a.x - b.x, a.z - b.z}; }
template <class T>
T dot(const Vec2<T>& a, const Vec2<T>& b) { return a.x * b.x + a.z * b.z; }
template <class T>
T cross(const Vec2<T>& a, const Vec2<T>& b) { return a.x * b.z - a.z * b.x; }

/// Vector in space: x rearward, y right, z up.
template <class T>
struct Vec3 {
    T x, y, z;
};
template <class T>
Vec3<T> operator+(const Vec3<T>& a, const Vec3<T>& b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
template <class T>
Vec3<T> operator-(const Vec3<T>& a, const Vec3<T>& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
template <class T>
Vec3<T> operator*(const T& s, const Vec3<T>& a) { return {s * a.x, s * a.y, s * a.z}; }
template <class T>
T dot(const Vec3<T>& a, const Vec3<T>& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
template <class T>
Vec3<T> cross(const Vec3<T>& a, const Vec3<T>& b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

/// x*x; overloaded where the square of an interval is tighter than the product.
inline double square(double x) { return x * x; }

/// Root of a quantity that is not negative but for rounding, which then counts as zero. Overloaded for intervals.
inline double clamped_sqrt(double x) { return std::sqrt(std::max(0.0, x)); }

/// A leg of a right triangle by its hypotenuse and the other leg, of lengths: no digit is lost where those two are nearly the same, as a sine
/// would lose them. 0 where the leg is the longer.
template <class H, class L>
auto find_other_leg(const H& hypotenuse, const L& leg) {
    return clamped_sqrt((hypotenuse - leg) * (leg + hypotenuse));
}

}  // namespace hitchwright
