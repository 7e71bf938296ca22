// Extremes of a function over a box, with a proven bound: branch and bound on interval jets.
//
// Method (Moore, Kearfott and Cloud, Introduction to Interval Analysis, ch. 6 and 11; from memory): boxes wait in
// order of their lower bound. A box is bounded by its natural enclosure and its mean-value form
// f(m) + sum d_i (X_i - m_i). Where a derivative keeps its sign over the box, the minimum lies on that face: a face
// inside the whole box belongs to a neighbour and the box is dropped, a face of the whole box is searched alone.
// The search ends when the best value attained and the least bound left are close enough. No grid: nothing between
// samples can be missed. A limit on evaluations ends hopeless cases with `converged == false`; the bound still holds.
// The function is a generic callable: an array of N interval jets in, one out, with N slopes over boxes and none at points.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "geometry/interval_jet.h"

namespace hitchwright {

template <std::size_t N>
using IntervalBox = std::array<Interval, N>;

/// A minimum or maximum over a box. |value - bound| is the proven error.
template <std::size_t N>
struct BoundedExtreme {
    double value = 0.0;  ///< attained at `at`
    double bound = 0.0;  ///< no value in the box lies beyond this: below it for a minimum, above it for a maximum
    std::array<double, N> at{};
    int evaluations = 0;
    bool converged = false;  ///< value and bound are as close as was asked for
};

/// Evaluations after which the search gives up; smooth functions of one variable need a few dozen.
inline constexpr int evaluation_limit = 20000;

/// Closeness in the function's own unit. Another measure may be passed where the judged quantity is a function of it.
struct PlainCloseness {
    double tolerance;
    bool operator()(double value, double bound) const { return std::fabs(value - bound) <= tolerance; }
};

/// f(m) + sum d_i (X_i - m_i): encloses f over the box from its middle value and its derivatives over the box.
template <std::size_t N>
Interval find_mean_value_form(const Interval& at_middle, const IntervalJet<N>& over_box, const IntervalBox<N>& box) {
    Interval mean = at_middle;
    for (std::size_t i = 0; i < N; ++i) {
        if (box[i].lo == box[i].hi) continue;  // also where the derivative is not bounded
        mean = mean + over_box.d[i] * (box[i] - Interval(box[i].middle()));
    }
    return mean;
}

namespace detail {

/// Best-first search for a minimum; see the file head.
template <std::size_t N, class F, class Close>
class MinimumSearch {
public:
    MinimumSearch(const F& function, const IntervalBox<N>& whole, const Close& close)
        : function_(function), close_(close), whole_(whole) {}

    BoundedExtreme<N> run() {
        best_.value = std::numeric_limits<double>::infinity();
        keep(whole_);
        while (!waiting_.empty() && !close_(best_.value, least_bound())) {
            if (best_.evaluations >= evaluation_limit) return finish(false);
            std::pop_heap(waiting_.begin(), waiting_.end(), later);
            const Waiting next = waiting_.back();
            waiting_.pop_back();
            split(next);
        }
        return finish(close_(best_.value, least_bound()));
    }

private:
    struct Waiting {
        double least;  ///< lower bound of the function over `box`
        double attained;  ///< at its middle: among equal bounds (a square that reaches 0) the most promising goes first
        IntervalBox<N> box;
        std::size_t axis;  ///< to split next: the one that moves the value most
    };
    static bool later(const Waiting& a, const Waiting& b) {
        return a.least != b.least ? a.least > b.least : a.attained > b.attained;
    }

    double least_bound() const {
        const double resolved = std::min(best_.value, resolved_);
        return waiting_.empty() ? resolved : std::min(resolved, waiting_.front().least);
    }
    BoundedExtreme<N> finish(bool converged) {
        best_.bound = least_bound();
        best_.converged = converged;
        return best_;
    }

    /// The function at the middle of the box; remembered when it is the best so far.
    Interval attain(const IntervalBox<N>& box) {
        std::array<IntervalJet<0>, N> x;
        std::array<double, N> at{};
        for (std::size_t i = 0; i < N; ++i) {
            at[i] = box[i].middle();
            x[i] = IntervalJet<0>(at[i]);
        }
        ++best_.evaluations;
        const Interval f = function_(x).v;
        if (f.hi < best_.value) {
            best_.value = f.hi;
            best_.at = at;
        }
        return f;
    }

    IntervalJet<N> enclose(const IntervalBox<N>& box) {
        std::array<IntervalJet<N>, N> x;
        for (std::size_t i = 0; i < N; ++i) x[i] = IntervalJet<N>::variable(box[i], i);
        ++best_.evaluations;
        return function_(x);
    }

    static bool is_point(const IntervalBox<N>& box) {
        return std::all_of(box.begin(), box.end(), [](const Interval& s) { return s.lo == s.hi; });
    }

    /// Bounds the box, narrows it to a face where a derivative keeps its sign, keeps it if it can hold the minimum.
    void keep(IntervalBox<N> box) {
        if (is_point(box)) {
            resolved_ = std::min(resolved_, attain(box).lo);
            return;
        }
        const IntervalJet<N> f = enclose(box);
        bool narrowed = false;
        for (std::size_t i = 0; i < N; ++i) {
            const bool rises = f.d[i].lo > 0.0, falls = f.d[i].hi < 0.0;
            if (box[i].lo == box[i].hi || (!rises && !falls)) continue;
            const double face = rises ? box[i].lo : box[i].hi;
            if (face != (rises ? whole_[i].lo : whole_[i].hi)) return;  // a neighbour owns this face
            box[i] = Interval(face);
            narrowed = true;
        }
        if (narrowed) return keep(box);
        const Interval middle = attain(box);
        const double least = std::max(f.v.lo, find_mean_value_form(middle, f, box).lo);
        if (least > best_.value) return;
        waiting_.push_back({least, middle.hi, box, choose_axis(box, f)});
        std::push_heap(waiting_.begin(), waiting_.end(), later);
    }

    /// The axis whose side moves the value most; where a derivative is not bounded, the side least split so far.
    std::size_t choose_axis(const IntervalBox<N>& box, const IntervalJet<N>& f) const {
        std::size_t best = 0;
        double most = -1.0;
        for (std::size_t i = 0; i < N; ++i) {
            if (box[i].lo == box[i].hi) continue;
            const double slope = std::max(std::fabs(f.d[i].lo), std::fabs(f.d[i].hi));
            const double moves = std::isfinite(slope) ? slope * box[i].width()
                                                      : 1.0e6 * box[i].width() / whole_[i].width();
            if (moves > most) {
                most = moves;
                best = i;
            }
        }
        return best;
    }

    void split(const Waiting& w) {
        const double middle = w.box[w.axis].middle();
        if (!(w.box[w.axis].lo < middle && middle < w.box[w.axis].hi)) {
            resolved_ = std::min(resolved_, w.least);  // as narrow as doubles go
            return;
        }
        IntervalBox<N> low = w.box, high = w.box;
        low[w.axis].hi = middle;
        high[w.axis].lo = middle;
        keep(low);
        keep(high);
    }

    const F& function_;
    const Close& close_;
    IntervalBox<N> whole_;
    std::vector<Waiting> waiting_;
    BoundedExtreme<N> best_;
    double resolved_ = std::numeric_limits<double>::infinity();  ///< lower bound over boxes that need no more splitting
};

}  // namespace detail

/// Minimum of `function` over `box`; `close(value, bound)` says when the two are near enough.
template <std::size_t N, class F, class Close>
BoundedExtreme<N> find_minimum(const F& function, const IntervalBox<N>& box, const Close& close) {
    return detail::MinimumSearch<N, F, Close>(function, box, close).run();
}

/// Maximum of `function` over `box`.
template <std::size_t N, class F, class Close>
BoundedExtreme<N> find_maximum(const F& function, const IntervalBox<N>& box, const Close& close) {
    const auto negated = [&function](const auto& x) { return -function(x); };
    const auto negated_close = [&close](double value, double bound) { return close(-value, -bound); };
    BoundedExtreme<N> r = find_minimum<N>(negated, box, negated_close);
    r.value = -r.value;
    r.bound = -r.bound;
    return r;
}

}  // namespace hitchwright
