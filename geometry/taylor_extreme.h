// The least value of a Taylor model over its range, with a proven bound; ranges are restricted by a change of variable.
//
// The radius bounds f - p, so that the least value of the polynomial is all that is looked for. Over a range on which p
// rises or falls, or is bent one way only (seen from the coefficients of p' and p''), it is at an end, or where p' vanishes:
// there the tangent bounds a polynomial bent upward, p(t) >= p(t*) + p'(t*) (t - t*). Other ranges are halved.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "geometry/taylor_model.h"

namespace hitchwright {

/// The model over [a, b] of its variable, as a model of its own; -1 <= a < b <= 1 but for rounding, which the radius covers.
template <std::size_t N>
TaylorModel<N> restrict_model(const TaylorModel<N>& f, double a, double b) {
    TaylorModel<N> r(f);
    const double middle = 0.5 * (a + b), half = 0.5 * (b - a);
    for (std::size_t i = 0; i < N; ++i) {
        for (std::size_t j = N; j-- > i;) r.c[j] += middle * r.c[j + 1];
    }
    double power = 1.0;
    for (std::size_t k = 1; k <= N; ++k) r.c[k] *= power *= half;
    r.radius = detail::grow(f.radius + 16.0 * static_cast<double>(N) * detail::unit_roundoff * detail::find_size(f));
    return r;
}

namespace detail {

/// Value and slope of the polynomial.
struct ValueAndSlope {
    double value, slope;
};
template <std::size_t N>
ValueAndSlope evaluate(const TaylorModel<N>& f, double t) {
    ValueAndSlope r{f.c[N], 0.0};
    for (std::size_t k = N; k-- > 0;) {
        r.slope = r.slope * t + r.value;
        r.value = r.value * t + f.c[k];
    }
    return r;
}

/// More than what `evaluate` is off by in the value, also when t itself is off by a few units in the last place.
template <std::size_t N>
double find_evaluation_error(double size) {
    return 16.0 * static_cast<double>(N) * unit_roundoff * size;
}

/// How a polynomial runs over [-1, 1].
enum class Course { rises, falls, bent_up, bent_down, open };

template <std::size_t N>
Course find_course(const TaylorModel<N>& f) {
    double slopes = 0.0, bends = 0.0;  // of all terms but the first of p' and p''
    for (std::size_t k = 2; k <= N; ++k) {
        const double slope = static_cast<double>(k) * std::fabs(f.c[k]);
        slopes += slope;
        if (k > 2) bends += static_cast<double>(k - 1) * slope;
    }
    if (std::fabs(f.c[1]) > grow(slopes)) return f.c[1] > 0.0 ? Course::rises : Course::falls;
    if (2.0 * std::fabs(f.c[2]) > grow(bends)) return f.c[2] > 0.0 ? Course::bent_up : Course::bent_down;
    return Course::open;
}

/// Where the slope of a polynomial that is bent upward vanishes in [-1, 1], or the end nearest to that. Newton steps inside a
/// bracket, halved where a step does not halve the slope.
template <std::size_t N>
double find_flat_place(const TaylorModel<N>& f) {
    if (evaluate(f, -1.0).slope >= 0.0) return -1.0;
    if (evaluate(f, 1.0).slope <= 0.0) return 1.0;
    double low = -1.0, high = 1.0, t = std::clamp(-0.5 * f.c[1] / f.c[2], -1.0, 1.0);
    double before = std::numeric_limits<double>::infinity();
    for (int step = 0; step < 100; ++step) {
        double slope = 0.0, bend = 0.0;
        for (std::size_t k = N; k > 0; --k) {
            bend = bend * t + slope;
            slope = slope * t + static_cast<double>(k) * f.c[k];
        }
        (slope > 0.0 ? high : low) = t;
        const double size = std::fabs(slope), newton = t - slope / bend;
        if (std::fabs(newton - t) < 1e-15) return t;
        const bool sure = size <= 0.5 * before && low <= newton && newton <= high;
        t = sure ? newton : 0.5 * (low + high);
        before = size;
    }
    return t;
}

}  // namespace detail

/// A least value over the range of a model's variable.
struct ModelMinimum {
    double at = 0.0;     ///< of the variable, in [-1, 1]
    double value = std::numeric_limits<double>::infinity();  ///< the function at `at` is not greater
    double bound = std::numeric_limits<double>::infinity();  ///< nor less than this anywhere
};

namespace detail {

template <std::size_t N>
class ModelSearch {
public:
    ModelMinimum run(const TaylorModel<N>& f) {
        look(f, 0.0, 1.0, deepest);
        best_.bound = std::min(best_.bound, best_.value);
        return best_;
    }

private:
    static constexpr int deepest = 40;

    /// A part of the range, about `middle`.
    struct Part {
        const TaylorModel<N>& f;
        double middle, half;
        double error;  ///< of a value of the function taken from the polynomial
    };

    double attain(const Part& part, double t) {
        const double p = evaluate(part.f, t).value;
        if (p + part.error < best_.value) {
            best_.value = p + part.error;
            best_.at = std::clamp(part.middle + t * part.half, -1.0, 1.0);
        }
        return p;
    }

    /// Least value of a polynomial that is bent upward, by its tangent.
    double attain_flat(const Part& part, double spread) {
        const double t = find_flat_place(part.f), p = attain(part, t), slope = evaluate(part.f, t).slope;
        const double error = static_cast<double>(N) * find_evaluation_error<N>(spread);
        const bool end = (t == -1.0 && slope > error) || (t == 1.0 && slope < -error);
        return end ? p : p - 2.0 * (std::fabs(slope) + error);
    }

    void look(const TaylorModel<N>& f, double middle, double half, int depth) {
        const double size = find_size(f), spread = size - std::fabs(f.c[0]), least = f.c[0] - spread;
        const Part part{f, middle, half, find_evaluation_error<N>(size) + f.radius};
        if (least - part.error > best_.value) return;
        const auto settle = [&](double p) { best_.bound = std::min(best_.bound, p - part.error); };
        switch (find_course(f)) {
            case Course::rises: return settle(attain(part, -1.0));
            case Course::falls: return settle(attain(part, 1.0));
            case Course::bent_down: return settle(std::min(attain(part, -1.0), attain(part, 1.0)));
            case Course::bent_up: return settle(attain_flat(part, spread));
            case Course::open: break;
        }
        attain(part, 0.0);
        if (depth == 0 || 2.0 * spread <= part.error) return settle(least);
        look(restrict_model(f, -1.0, 0.0), middle - 0.5 * half, 0.5 * half, depth - 1);
        look(restrict_model(f, 0.0, 1.0), middle + 0.5 * half, 0.5 * half, depth - 1);
    }

    ModelMinimum best_;
};

}  // namespace detail

/// Least value of a function over the range of its model; infinite both ways where nothing is known of it.
template <std::size_t N>
ModelMinimum find_model_minimum(const TaylorModel<N>& f) {
    if (!f.is_bounded()) return {0.0, std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    return detail::ModelSearch<N>().run(f);
}

}  // namespace hitchwright
