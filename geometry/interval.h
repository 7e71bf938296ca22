// Intervals with outward rounding, the scalar behind every "bounded to" statement.
//
// Method: compute in round-to-nearest, then step both ends outward by at least one unit in the last place
// (Rump, Zimmermann, Boldo, Melquiond, "Computing predecessor and successor in rounding to nearest", BIT 49
// (2009): fl(c - fl(phi |c| + eta)) <= pred(c) with phi = 2^-53 (1 + 2^-52), eta = 2^-1074). Only + - * / sqrt
// are used in the kernels, all correctly rounded by IEEE 754, so that one step is enough. Switching the
// processor's rounding mode would be tighter by a unit, slower, and wrong where the compiler moves code across it.
// An operation without a finite answer (division by an interval around zero, zero times an infinite end) gives the
// whole line, never a NaN.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

namespace hitchwright {

#if defined(__GNUC__)
// Left to itself the compiler calls what takes a few operations and passes intervals through memory: a search takes a quarter longer.
#define HITCHWRIGHT_INLINE [[gnu::always_inline]] inline
#else
#define HITCHWRIGHT_INLINE inline
#endif

/// A closed interval lo <= hi. Default: zero.
struct Interval {
    double lo = 0.0;
    double hi = 0.0;

    constexpr Interval() = default;
    constexpr Interval(double value) : lo(value), hi(value) {}  // NOLINT: a number is a thin interval
    constexpr Interval(double low, double high) : lo(low), hi(high) {}

    bool operator==(const Interval&) const = default;
    /// Width, not rounded outward: for splitting, not for proofs.
    double width() const { return hi - lo; }
    double middle() const { return lo + 0.5 * (hi - lo); }
    bool contains(double x) const { return lo <= x && x <= hi; }
};

namespace outward {
inline constexpr double phi = 0x1.0000000000001p-53;
inline constexpr double eta = std::numeric_limits<double>::denorm_min();
inline double below(double c) { return c - (phi * std::fabs(c) + eta); }
inline double above(double c) { return c + (phi * std::fabs(c) + eta); }
/// True when one of four candidates is 0 * infinity or infinity / infinity (and when they hold both infinities, where
/// nothing is known either). std::min and std::max would drop such a NaN, or keep it, by its place among the arguments.
inline bool has_nan(double p, double q, double r, double s) { return std::isnan((p + q) + (r + s)); }
}  // namespace outward

/// The whole line: what is known of a quantity that could not be bounded.
inline Interval whole_line() {
    return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
}
/// Ends stepped outward; the whole line when an end is not a number.
HITCHWRIGHT_INLINE Interval widen(double lo, double hi) {
    const Interval r{outward::below(lo), outward::above(hi)};
    return r.lo <= r.hi ? r : whole_line();
}

HITCHWRIGHT_INLINE Interval operator-(const Interval& a) { return {-a.hi, -a.lo}; }
HITCHWRIGHT_INLINE Interval operator+(const Interval& a, const Interval& b) { return widen(a.lo + b.lo, a.hi + b.hi); }
HITCHWRIGHT_INLINE Interval operator-(const Interval& a, const Interval& b) { return widen(a.lo - b.hi, a.hi - b.lo); }
HITCHWRIGHT_INLINE Interval operator*(const Interval& a, const Interval& b) {
    const double p = a.lo * b.lo, q = a.lo * b.hi, r = a.hi * b.lo, s = a.hi * b.hi;
    if (outward::has_nan(p, q, r, s)) return whole_line();
    return widen(std::min(std::min(p, q), std::min(r, s)), std::max(std::max(p, q), std::max(r, s)));
}
HITCHWRIGHT_INLINE Interval operator/(const Interval& a, const Interval& b) {
    if (b.lo <= 0.0 && b.hi >= 0.0) return whole_line();
    const double p = a.lo / b.lo, q = a.lo / b.hi, r = a.hi / b.lo, s = a.hi / b.hi;
    if (outward::has_nan(p, q, r, s)) return whole_line();
    return widen(std::min(std::min(p, q), std::min(r, s)), std::max(std::max(p, q), std::max(r, s)));
}
HITCHWRIGHT_INLINE Interval square(const Interval& a) {
    const double p = a.lo * a.lo, q = a.hi * a.hi;
    if (a.lo <= 0.0 && a.hi >= 0.0) return {0.0, outward::above(std::max(p, q))};
    const Interval r = widen(std::min(p, q), std::max(p, q));
    return {std::max(0.0, r.lo), r.hi};
}
/// Root of the part of `a` that is not negative: callers stay inside the domain where the exact argument is >= 0,
/// so that a negative end is rounding or overestimation and may be dropped.
HITCHWRIGHT_INLINE Interval sqrt(const Interval& a) {
    const double lo = std::max(0.0, a.lo), hi = std::max(0.0, a.hi);
    return {std::max(0.0, outward::below(std::sqrt(lo))), outward::above(std::sqrt(hi))};
}
/// As `sqrt`; the name that kernels use for doubles too (vec.h).
HITCHWRIGHT_INLINE Interval clamped_sqrt(const Interval& a) { return sqrt(a); }

#undef HITCHWRIGHT_INLINE

}  // namespace hitchwright
