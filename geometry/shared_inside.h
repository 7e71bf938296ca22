// Where several functions of one variable each stay at or below a limit, found in one pass over the range.
//
// The method of inside_intervals.h for one variable: a piece is decided for a function when its enclosure lies on one side of
// the limit; where the function is monotone over the piece the one crossing is found at once; else the piece is halved.
// The enclosure of a piece serves all functions that are still open there. Ends are rounded inward.
#pragma once

#include <vector>

#include "geometry/crossing.h"
#include "geometry/height_range.h"
#include "geometry/shared_extremes.h"

namespace hitchwright {

namespace detail {

template <std::size_t K, class F>
class SharedInside {
public:
    SharedInside(const F& functions, const std::array<double, K>& limits) : functions_(functions), limits_(limits) {}

    std::array<std::vector<HeightRange>, K> run(const Interval& whole, const FunctionMarks<K>& asked) {
        if (whole.lo < whole.hi) {
            for (const Interval& piece : cut_evenly(whole)) look(piece, asked);
        } else {
            const PointValues<K> f = functions_.at_point(whole.lo, asked);
            for (std::size_t k = 0; k < K; ++k) {
                if (asked[k] && f[k].v.hi <= limits_[k]) add(k, whole.lo, whole.hi);
            }
        }
        return found_;
    }

private:
    void add(std::size_t k, double low, double high) {
        std::vector<HeightRange>& list = found_[k];
        if (!list.empty() && list.back().high == low) list.back().high = high;
        else list.push_back({low, high});
    }

    double cross(std::size_t k, double in, double out) {
        FunctionMarks<K> only{};
        only[k] = true;
        double at = std::numeric_limits<double>::quiet_NaN(), value = 0.0;
        const auto inside = [&](double x) {
            ++evaluations_;
            const Interval v = functions_.at_point(x, only)[k].v;
            at = x;
            value = v.middle() - limits_[k];
            return v.hi <= limits_[k];
        };
        const auto find_value = [&](double x) {
            if (x != at) inside(x);
            return value;
        };
        return find_crossing(in, out, inside, find_value);
    }

    void look_monotone(std::size_t k, const Interval& piece) {
        FunctionMarks<K> only{};
        only[k] = true;
        evaluations_ += 2;
        const bool low_in = functions_.at_point(piece.lo, only)[k].v.hi <= limits_[k];
        const bool high_in = functions_.at_point(piece.hi, only)[k].v.hi <= limits_[k];
        if (low_in && high_in) add(k, piece.lo, piece.hi);
        else if (low_in) add(k, piece.lo, cross(k, piece.lo, piece.hi));
        else if (high_in) add(k, cross(k, piece.hi, piece.lo), piece.hi);
    }

    /// True when function k needs the piece halved.
    bool is_open(std::size_t k, const Interval& piece, const PieceValues<K>& values) {
        const IntervalJet<1>& f = values.over[k];
        Interval v = f.v;
        if (v.hi > limits_[k] && v.lo <= limits_[k]) {
            if (f.d[0].lo > 0.0 || f.d[0].hi < 0.0) {
                look_monotone(k, piece);
                return false;
            }
            const Interval mean = find_mean_value_form<1>(values.middle[k].v, f, {piece});
            v = Interval(std::max(v.lo, mean.lo), std::min(v.hi, mean.hi));
        }
        if (v.hi <= limits_[k]) add(k, piece.lo, piece.hi);
        return v.hi > limits_[k] && v.lo <= limits_[k] && piece.width() > finest_piece;
    }

    void look(const Interval& piece, FunctionMarks<K> open) {
        if (++evaluations_ > evaluation_limit) return;
        const PieceValues<K> values = functions_.over_piece(piece, open);
        bool any = false;
        for (std::size_t k = 0; k < K; ++k) {
            open[k] = open[k] && is_open(k, piece, values);
            any = any || open[k];
        }
        if (!any) return;
        look({piece.lo, piece.middle()}, open);
        look({piece.middle(), piece.hi}, open);
    }

    const F& functions_;
    const std::array<double, K>& limits_;
    std::array<std::vector<HeightRange>, K> found_;
    int evaluations_ = 0;
};

}  // namespace detail

/// For each function asked for: all x of `range` at which it is at most its limit, in rising order. `functions` as in
/// shared_extremes.h; limits finite.
template <std::size_t K, class F>
std::array<std::vector<HeightRange>, K> find_inside_together(const F& functions, const std::array<double, K>& limits,
                                                             const Interval& range, const FunctionMarks<K>& asked) {
    return detail::SharedInside<K, F>(functions, limits).run(range, asked);
}

}  // namespace hitchwright
