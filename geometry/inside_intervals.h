// Where a function stays at or below a limit: a set of closed intervals of its first variable, with both ends.
//
// Further variables (slack) are whatever they may be: x counts as inside when f(x, e) <= limit for every e of their range.
// Method: a piece of x is bounded by natural and mean-value form (bounded_extreme.h). Those e that keep the limit all over
// the piece are dropped; one that breaks it all over decides the piece; where f is monotone in an e only the greater end
// is kept. When every e left makes f rise, or every one makes it fall, the piece holds at most one crossing, bracketed
// with rigorous signs. Everything else is halved. What is still open at `finest_piece`, or after
// `evaluation_limit` evaluations, counts as outside, and every end is rounded inward: the answer is never too wide.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "geometry/bounded_extreme.h"
#include "geometry/crossing.h"
#include "geometry/height_range.h"

namespace hitchwright {

namespace detail {

template <std::size_t N, class F>
class InsideSearch {
public:
    InsideSearch(const F& function, double limit, double finest) : function_(function), limit_(limit), finest_(finest) {}

    std::vector<HeightRange> run(const IntervalBox<N>& whole) {
        Rest rest;
        std::copy(whole.begin() + 1, whole.end(), rest.begin());
        if (!std::isfinite(limit_) || !std::isfinite(whole[0].width())) return {};
        if (whole[0].lo == whole[0].hi) {
            if (inside(whole[0].lo, {rest})) add(whole[0].lo, whole[0].lo);
        } else {
            look(whole[0], {rest});
        }
        return found_;
    }

private:
    using Rest = std::array<Interval, N - 1>;  ///< a box of the variables behind the first

    /// What may break the limit somewhere on a piece of x.
    struct Left {
        std::vector<Rest> rests;  ///< empty: nothing
        std::vector<std::size_t> axes;  ///< for each: the side of it that moves the value most
        bool above = false;       ///< the limit is broken all over the piece
        bool rises = true, falls = true;  ///< for every rest: the function's slope in x
    };

    static IntervalBox<N> join(const Interval& piece, const Rest& rest) {
        IntervalBox<N> box;
        box[0] = piece;
        std::copy(rest.begin(), rest.end(), box.begin() + 1);
        return box;
    }

    Interval at_middle(const IntervalBox<N>& box) {
        std::array<IntervalJet<0>, N> x;
        for (std::size_t i = 0; i < N; ++i) x[i] = IntervalJet<0>(box[i].middle());
        ++evaluations_;
        const Interval value = function_(x).v;
        last_at_ = box[0].middle();
        last_ = value.middle();
        return value;
    }

    /// Values and slopes over the box; where the natural form does not decide, the mean-value form helps.
    IntervalJet<N> enclose(const IntervalBox<N>& box) {
        const bool point = std::all_of(box.begin(), box.end(), [](const Interval& s) { return s.lo == s.hi; });
        if (point) return IntervalJet<N>(at_middle(box));
        std::array<IntervalJet<N>, N> x;
        for (std::size_t i = 0; i < N; ++i) x[i] = IntervalJet<N>::variable(box[i], i);
        ++evaluations_;
        IntervalJet<N> f = function_(x);
        if (f.v.hi <= limit_ || f.v.lo > limit_) return f;
        if (N == 1 && (f.d[0].lo > 0.0 || f.d[0].hi < 0.0)) return f;  // at most one crossing: looked for at once
        const Interval mean = find_mean_value_form(at_middle(box), f, box);
        f.v = Interval(std::max(f.v.lo, mean.lo), std::min(f.v.hi, mean.hi));
        return f;
    }

    /// Keeps only the end with the greater values where the function is monotone along a further variable.
    static bool flatten(Rest& rest, const IntervalJet<N>& f) {
        bool changed = false;
        for (std::size_t i = 1; i < N; ++i) {
            Interval& side = rest[i - 1];
            if (side.lo == side.hi || (f.d[i].lo < 0.0 && f.d[i].hi > 0.0)) continue;
            side = Interval(f.d[i].lo >= 0.0 ? side.hi : side.lo);
            changed = true;
        }
        return changed;
    }

    Left sift(const Interval& piece, std::vector<Rest> rests) {
        Left left;
        while (!rests.empty()) {
            Rest rest = rests.back();
            rests.pop_back();
            const IntervalJet<N> f = enclose(join(piece, rest));
            if (f.v.hi <= limit_) continue;
            left.above = f.v.lo > limit_;
            if (left.above) return left;
            if (flatten(rest, f)) {
                rests.push_back(rest);
                continue;
            }
            left.rises = left.rises && f.d[0].lo > 0.0;
            left.falls = left.falls && f.d[0].hi < 0.0;
            left.axes.push_back(choose_axis(rest, f));
            left.rests.push_back(rest);
        }
        return left;
    }

    /// The side wider than `finest` that moves the value most; where that is not known, the widest.
    std::size_t choose_axis(const Rest& rest, const IntervalJet<N>& f) const {
        std::size_t best = 0;
        double most = -1.0;
        for (std::size_t i = 0; i + 1 < N; ++i) {
            if (rest[i].width() <= finest_) continue;
            const double slope = std::max(std::fabs(f.d[i + 1].lo), std::fabs(f.d[i + 1].hi));
            const double moves = rest[i].width() * (std::isfinite(slope) ? slope : 1.0e6);
            if (moves > most) {
                most = moves;
                best = i;
            }
        }
        return best;
    }

    /// Every rest cut in two along the side that moves the value most; empty when all are as fine as they get.
    std::vector<Rest> halve(const Left& left) const {
        bool fine = true;
        std::vector<Rest> rests = left.rests;
        for (std::size_t k = 0; k < left.rests.size(); ++k) {
            if constexpr (N > 1) {
                const std::size_t i = left.axes[k];
                if (rests[k][i].width() <= finest_) continue;
                fine = false;
                const double middle = rests[k][i].middle();
                rests.push_back(rests[k]);
                rests[k][i].hi = middle;
                rests.back()[i].lo = middle;
            }
        }
        return fine ? std::vector<Rest>{} : rests;
    }

    /// True when the limit is certainly kept at x; false also when rounding leaves it open.
    bool inside(double x, std::vector<Rest> rests) {
        while (evaluations_ < evaluation_limit) {
            const Left left = sift(Interval(x), std::move(rests));
            if (left.above) return false;
            if (left.rests.empty()) return true;
            for (const Rest& rest : left.rests) {
                if (at_middle(join(Interval(x), rest)).lo > limit_) return false;
            }
            rests = halve(left);
            if (rests.empty()) return false;
        }
        return false;
    }

    void add(double low, double high) {
        if (!found_.empty() && found_.back().high == low) {
            found_.back().high = high;
        } else {
            found_.push_back({low, high});
        }
    }

    /// The crossing between an inside and an outside point, returned on the inside. Only one variable gives values to aim by.
    double cross(double in, double out, const std::vector<Rest>& rests) {
        const auto value = [&](double x) {
            if constexpr (N == 1) return last_at_ == x ? last_ - limit_ : at_middle({Interval(x)}).middle() - limit_;
            return 0.0;
        };
        return find_crossing(in, out, [&](double x) { return inside(x, rests); }, value, 0.01 * finest_);
    }

    void look_monotone(const Interval& piece, const std::vector<Rest>& rests) {
        const bool low_in = inside(piece.lo, rests), high_in = inside(piece.hi, rests);
        if (low_in && high_in) return add(piece.lo, piece.hi);
        if (low_in) return add(piece.lo, cross(piece.lo, piece.hi, rests));
        if (high_in) return add(cross(piece.hi, piece.lo, rests), piece.hi);
    }

    void look(const Interval& piece, std::vector<Rest> rests) {
        if (evaluations_ >= evaluation_limit) return;
        const Left left = sift(piece, std::move(rests));
        if (left.above) return;
        if (left.rests.empty()) return add(piece.lo, piece.hi);
        if (left.rises || left.falls) return look_monotone(piece, left.rests);
        if (piece.width() <= finest_) return;
        const double middle = piece.middle();
        const std::vector<Rest> finer = halve(left);
        const std::vector<Rest>& next = finer.empty() ? left.rests : finer;
        look({piece.lo, middle}, next);
        look({middle, piece.hi}, next);
    }

    const F& function_;
    double limit_;
    double finest_;
    std::vector<HeightRange> found_;
    int evaluations_ = 0;
    double last_at_ = std::numeric_limits<double>::quiet_NaN();  ///< where and what `at_middle` gave last
    double last_ = 0.0;
};

}  // namespace detail

/// All x in the first side of `box` with function(x, e...) <= limit for every e in its other sides, in rising order.
/// Empty for a limit or a range that is not finite. `finest`: a piece or side as narrow as this is not halved any more. The function is called as in bounded_extreme.h.
template <std::size_t N, class F>
std::vector<HeightRange> find_inside(const F& function, const IntervalBox<N>& box, double limit, double finest = finest_piece) {
    return detail::InsideSearch<N, F>(function, limit, finest).run(box);
}

}  // namespace hitchwright
