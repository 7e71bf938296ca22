// Taylor models: a polynomial of one variable t in [-1, 1] and a radius, |f(t) - p(t)| <= radius throughout.
//
// Method (Makino and Berz, Taylor models and other validated functional inclusion methods, 2003; from memory): sums and
// products are those of polynomials; what a product has beyond the degree, and every rounding error, goes into the radius.
// Quotient and root are power series of which only the residual has to be right:
//   |f/g - q| <= |f - q g| / |g|,    |sqrt f - s| = |f - s^2| / (sqrt f + s) <= |f - s^2| / s.
// Rounding: a sum of n products of doubles is off by at most gamma_n = n u / (1 - n u) times the sum of their sizes, the
// residual of a forward substitution likewise (Higham, Accuracy and Stability of Numerical Algorithms, ch. 3 and 8);
// u = 2^-53. Radii are sums of numbers that are not negative, made larger by more than their own rounding. A contraction
// into fused multiply-adds rounds less and changes nothing here.
// The radius of degree n falls with the (n+1)-th power of the range of the variable. An operation that cannot be bounded
// (a divisor or a root that may reach zero) gives an infinite radius; whatever is made of it has one too.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

#include "geometry/interval.h"

namespace hitchwright {

/// f(t) = sum c_k t^k + e(t), |e| <= radius, for all t in [-1, 1].
template <std::size_t Degree>
struct TaylorModel {
    static constexpr std::size_t terms = Degree + 1;
    std::array<double, terms> c{};
    double radius = 0.0;
    bool is_number = true;  ///< c[0] alone, exactly

    TaylorModel() = default;
    TaylorModel(double value) { c[0] = value; }  // NOLINT: a number is a constant

    /// The variable middle + half t.
    static TaylorModel variable(double middle, double half) {
        TaylorModel r(middle);
        r.c[1] = half;
        r.is_number = false;
        return r;
    }
    /// What is known of a function that could not be bounded.
    static TaylorModel unknown() {
        TaylorModel r;
        r.radius = std::numeric_limits<double>::infinity();
        r.is_number = false;
        return r;
    }
    bool is_bounded() const { return radius < std::numeric_limits<double>::infinity() && std::isfinite(c[0]); }
};

namespace detail {

inline constexpr double unit_roundoff = 0x1p-53;
/// More than what some sixty additions and products of numbers that are not negative lose.
inline constexpr double radius_growth = 1.0 + 0x1p-46;
/// More than what products below the normal range lose.
inline constexpr double radius_floor = 1.0e-290;

inline double grow(double radius) { return radius * radius_growth + radius_floor; }

/// Bound of the polynomial over [-1, 1], up to a rounding that `grow` covers.
template <std::size_t N>
double find_size(const TaylorModel<N>& a) {
    double even = 0.0, odd = 0.0;  // two sums that do not wait for each other
    for (std::size_t k = 0; k < N; k += 2) {
        even += std::fabs(a.c[k]);
        odd += std::fabs(a.c[k + 1]);
    }
    return N % 2 == 0 ? even + odd + std::fabs(a.c[N]) : even + odd;
}

/// sum of |a_i| |b_j| over i + j > N: bounds what the product has beyond the degree.
template <std::size_t N>
double find_excess(const TaylorModel<N>& a, const TaylorModel<N>& b) {
    double above = 0.0, sum = 0.0;  // above: |b_N| + ... + |b_(N-i+1)|
    for (std::size_t i = 1; i <= N; ++i) {
        above += std::fabs(b.c[N - i + 1]);
        sum += std::fabs(a.c[i]) * above;
    }
    return sum;
}

/// The terms of a model behind as many zeros: what is multiplied by t^i is then read i places earlier.
template <std::size_t N>
struct PaddedTerms {
    std::array<double, 2 * (N + 1)> at{};
    explicit PaddedTerms(const std::array<double, N + 1>& c) {
        for (std::size_t k = 0; k <= N; ++k) at[N + 1 + k] = c[k];
    }
};
/// sum += factor * t^I * terms. Written for a compiler that knows I and turns the loop into pairs: of the terms below t^I
/// at most one, a zero, is added.
template <std::size_t N, std::size_t I>
void add_shifted(const PaddedTerms<N>& terms, double factor, std::array<double, N + 1>& sum) {
    constexpr std::size_t first = I & ~std::size_t{1};
    for (std::size_t k = first; k <= N; ++k) sum[k] += factor * terms.at[N + 1 + k - I];
}

template <std::size_t N, std::size_t... I>
void add_product(const std::array<double, N + 1>& a, const PaddedTerms<N>& b, std::array<double, N + 1>& sum,
                 std::index_sequence<I...>) {
    (add_shifted<N, I>(b, a[I], sum), ...);
}
/// Power series of f/g: `rest` is f before and of no use behind.
template <std::size_t N, std::size_t... I>
void divide_series(std::array<double, N + 1>& rest, const PaddedTerms<N>& g, double inverse, std::array<double, N + 1>& q,
                   std::index_sequence<I...>) {
    ((q[I] = rest[I] * inverse, add_shifted<N, I>(g, -q[I], rest)), ...);
}

/// Term K of the power series of a root from the terms before it, the newest last: twice s_0 s_K is f_K less the products of
/// two of them.
template <std::size_t N, std::size_t K>
double find_root_term(const std::array<double, N + 1>& f, const std::array<double, N + 1>& s, double inverse) {
    double rest = 0.5 * f[K];
    if constexpr (K % 2 == 0) rest -= 0.5 * s[K / 2] * s[K / 2];
    for (std::size_t j = (K - 1) / 2; j > 0; --j) rest -= s[j] * s[K - j];
    return rest * inverse;
}
template <std::size_t N, std::size_t... I>
void take_root(const std::array<double, N + 1>& f, std::array<double, N + 1>& s, std::index_sequence<I...>) {
    s[0] = std::sqrt(f[0]);
    const double inverse = 1.0 / s[0];
    ((s[I + 1] = find_root_term<N, I + 1>(f, s, inverse)), ...);
}

/// Least size of the polynomial over [-1, 1] where its first term shows one; else not positive.
template <std::size_t N>
double find_least_size(const TaylorModel<N>& a) {
    const double size = find_size(a), first = std::fabs(a.c[0]);
    return first - (size - first) - 0x1p-46 * size;
}

template <std::size_t N>
TaylorModel<N> scale(const TaylorModel<N>& a, double s) {
    TaylorModel<N> r;
    for (std::size_t k = 0; k <= N; ++k) r.c[k] = s * a.c[k];
    r.radius = grow(std::fabs(s) * a.radius + unit_roundoff * find_size(r));
    r.is_number = false;
    return r;
}

}  // namespace detail

template <std::size_t N>
TaylorModel<N> operator-(const TaylorModel<N>& a) {
    TaylorModel<N> r(a);
    for (std::size_t k = 0; k <= N; ++k) r.c[k] = -a.c[k];
    return r;
}
template <std::size_t N>
TaylorModel<N> operator+(const TaylorModel<N>& a, const TaylorModel<N>& b) {
    TaylorModel<N> r;
    for (std::size_t k = 0; k <= N; ++k) r.c[k] = a.c[k] + b.c[k];
    r.radius = detail::grow(a.radius + b.radius + detail::unit_roundoff * detail::find_size(r));
    r.is_number = false;
    return r;
}
template <std::size_t N>
TaylorModel<N> operator-(const TaylorModel<N>& a, const TaylorModel<N>& b) {
    TaylorModel<N> r;
    for (std::size_t k = 0; k <= N; ++k) r.c[k] = a.c[k] - b.c[k];
    r.radius = detail::grow(a.radius + b.radius + detail::unit_roundoff * detail::find_size(r));
    r.is_number = false;
    return r;
}
template <std::size_t N>
TaylorModel<N> operator+(const TaylorModel<N>& a, double s) {
    TaylorModel<N> r(a);
    r.c[0] += s;
    r.radius = detail::grow(a.radius + detail::unit_roundoff * std::fabs(r.c[0]));
    r.is_number = false;
    return r;
}
template <std::size_t N>
TaylorModel<N> operator+(double s, const TaylorModel<N>& a) { return a + s; }
template <std::size_t N>
TaylorModel<N> operator-(const TaylorModel<N>& a, double s) { return a + (-s); }
template <std::size_t N>
TaylorModel<N> operator-(double s, const TaylorModel<N>& a) { return (-a) + s; }
template <std::size_t N>
TaylorModel<N> operator*(const TaylorModel<N>& a, double s) { return detail::scale(a, s); }
template <std::size_t N>
TaylorModel<N> operator*(double s, const TaylorModel<N>& a) { return detail::scale(a, s); }

template <std::size_t N>
TaylorModel<N> operator*(const TaylorModel<N>& a, const TaylorModel<N>& b) {
    if (a.is_number) return detail::scale(b, a.c[0]);
    if (b.is_number) return detail::scale(a, b.c[0]);
    TaylorModel<N> r;
    detail::add_product<N>(a.c, detail::PaddedTerms<N>(b.c), r.c, std::make_index_sequence<N + 1>{});
    const double size_a = detail::find_size(a), size_b = detail::find_size(b);
    r.radius = detail::grow(a.radius * (size_b + b.radius) + b.radius * size_a + detail::find_excess(a, b) +
                            static_cast<double>(N + 2) * detail::unit_roundoff * size_a * size_b);
    r.is_number = false;
    return r;
}
template <std::size_t N>
TaylorModel<N> square(const TaylorModel<N>& a) { return a * a; }

template <std::size_t N>
TaylorModel<N> operator/(const TaylorModel<N>& f, const TaylorModel<N>& g) {
    const double least = detail::find_least_size(g) - g.radius;
    if (!(least > 0.0)) return TaylorModel<N>::unknown();
    TaylorModel<N> q;
    std::array<double, N + 1> rest = f.c;
    detail::divide_series<N>(rest, detail::PaddedTerms<N>(g.c), 1.0 / g.c[0], q.c, std::make_index_sequence<N + 1>{});
    const double size_q = detail::find_size(q), size_g = detail::find_size(g);
    const double residual = f.radius + size_q * g.radius + detail::find_excess(q, g) +
                            static_cast<double>(N + 4) * detail::unit_roundoff * (detail::find_size(f) + size_q * size_g);
    q.radius = detail::grow(detail::grow(residual) / least);
    q.is_number = false;
    return q;
}

/// Root of a function that is positive throughout; unknown where that does not show.
template <std::size_t N>
TaylorModel<N> sqrt(const TaylorModel<N>& f) {
    if (!(f.c[0] > 0.0)) return TaylorModel<N>::unknown();
    TaylorModel<N> s;
    detail::take_root<N>(f.c, s.c, std::make_index_sequence<N>{});
    const double size_s = detail::find_size(s), least = detail::find_least_size(s);
    const double residual =
        detail::grow(f.radius + detail::find_excess(s, s) +
                     static_cast<double>(N + 5) * detail::unit_roundoff * (detail::find_size(f) + size_s * size_s));
    // f >= s^2 - residual > 0, so that the root is real throughout.
    if (!(least > 0.0 && least * least > 2.0 * residual)) return TaylorModel<N>::unknown();
    s.radius = detail::grow(residual / least);
    s.is_number = false;
    return s;
}
template <std::size_t N>
TaylorModel<N> clamped_sqrt(const TaylorModel<N>& f) { return sqrt(f); }

}  // namespace hitchwright
