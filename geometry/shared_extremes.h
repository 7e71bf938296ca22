// Several extremes of one motion found in one search: each piece of the travel is enclosed once for all of them.
//
// Method: that of bounded_extreme.h for one variable. A piece carries a mark for every function that may still have its
// minimum there; it is halved while any mark is left. For one function a piece is settled when
//   - its enclosure lies above the best value attained,
//   - the function is monotone over it (the minimum is at an end, which belongs to a neighbour as well, or to the whole
//     range; the ends of the whole range are evaluated first), or
//   - its lower bound is close enough to the best value: the bound then counts for the result.
// The enclosure of a pose costs most of an evaluation, so K extremes together cost little more than the hardest of them.
// Functions must be smooth over the range; none of them is sampled.
#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <vector>

#include "geometry/bounded_extreme.h"

namespace hitchwright {

/// Values of K functions at a point.
template <std::size_t K>
using PointValues = std::array<IntervalJet<0>, K>;

/// Values and slopes of K functions over a piece, and their values at its middle.
template <std::size_t K>
struct PieceValues {
    std::array<IntervalJet<1>, K> over;
    PointValues<K> middle;
};

/// A search over a whole travel starts with this many even pieces: enclosures over wider ones seldom settle anything.
inline constexpr std::size_t first_pieces = 8;

/// `whole` cut into even pieces that share their ends and cover it.
inline std::array<Interval, first_pieces> cut_evenly(const Interval& whole) {
    std::array<Interval, first_pieces> pieces;
    double low = whole.lo;
    for (std::size_t i = 0; i < first_pieces; ++i) {
        const double share = static_cast<double>(i + 1) / static_cast<double>(first_pieces);
        const double high = i + 1 == first_pieces ? whole.hi : std::clamp(whole.lo + share * whole.width(), low, whole.hi);
        pieces[i] = {low, high};
        low = high;
    }
    return pieces;
}

/// Which of K functions are asked for.
template <std::size_t K>
using FunctionMarks = std::array<bool, K>;

namespace detail {

template <std::size_t K, class F, class Close>
class SharedSearch {
public:
    SharedSearch(const F& functions, const Interval& whole, const Close& close, const FunctionMarks<K>& asked)
        : functions_(functions), close_(close), whole_(whole), asked_(asked) {}

    std::array<BoundedExtreme<1>, K> run() {
        for (std::size_t k = 0; k < K; ++k) best_[k].value = resolved_[k] = std::numeric_limits<double>::infinity();
        settle_end(whole_.lo);
        if (whole_.hi > whole_.lo) {
            settle_end(whole_.hi);
            for (const Interval& piece : cut_evenly(whole_)) waiting_.push_back({piece, asked_});
        }
        // First in, first out: coarse pieces attain good values early, which settles many of the fine ones.
        for (std::size_t next = 0; next < waiting_.size(); ++next) look(waiting_[next]);
        for (std::size_t k = 0; k < K; ++k) {
            if (!asked_[k]) {
                best_[k] = {};
                continue;
            }
            best_[k].bound = std::min(best_[k].value, resolved_[k]);
            best_[k].evaluations = evaluations_;
            best_[k].converged = close_(k, best_[k].value, best_[k].bound);
        }
        return best_;
    }

private:
    using Marks = FunctionMarks<K>;
    struct Piece {
        Interval range;
        Marks open;  ///< functions that may have their minimum here
    };

    PointValues<K> attain(double x) {
        ++evaluations_;
        const PointValues<K> f = functions_.at_point(x, asked_);
        keep_best(x, f, asked_);
        return f;
    }

    void keep_best(double x, const PointValues<K>& f, const Marks& asked) {
        for (std::size_t k = 0; k < K; ++k) {
            if (!asked[k] || f[k].v.hi >= best_[k].value) continue;
            best_[k].value = f[k].v.hi;
            best_[k].at[0] = x;
        }
    }

    void settle_end(double x) {
        const PointValues<K> f = attain(x);
        for (std::size_t k = 0; k < K; ++k) resolved_[k] = std::min(resolved_[k], f[k].v.lo);
    }

    /// Takes off the marks that the natural enclosure or the slopes settle; true when one is left.
    bool settle_by_enclosure(const std::array<IntervalJet<1>, K>& f, Marks& open) const {
        bool any = false;
        for (std::size_t k = 0; k < K; ++k) {
            const bool monotone = f[k].d[0].lo > 0.0 || f[k].d[0].hi < 0.0;
            open[k] = open[k] && !monotone && f[k].v.lo <= best_[k].value;
            any = any || open[k];
        }
        return any;
    }

    void look(Piece piece) {  // by value: `waiting_` grows
        ++evaluations_;
        const PieceValues<K> values = functions_.over_piece(piece.range, piece.open);
        const auto& f = values.over;
        const double middle = piece.range.middle();
        keep_best(middle, values.middle, piece.open);
        if (!settle_by_enclosure(f, piece.open)) return;
        const bool finest = !(piece.range.lo < middle && middle < piece.range.hi) || evaluations_ >= evaluation_limit;
        bool any = false;
        for (std::size_t k = 0; k < K; ++k) {
            if (!piece.open[k]) continue;
            const double least = std::max(f[k].v.lo, find_mean_value_form<1>(values.middle[k].v, f[k], {piece.range}).lo);
            piece.open[k] = false;
            if (least > best_[k].value) continue;
            if (finest || close_(k, best_[k].value, least)) resolved_[k] = std::min(resolved_[k], least);
            else any = piece.open[k] = true;
        }
        if (!any) return;
        waiting_.push_back({{piece.range.lo, middle}, piece.open});
        waiting_.push_back({{middle, piece.range.hi}, piece.open});
    }

    const F& functions_;
    const Close& close_;
    Interval whole_;
    Marks asked_;
    std::vector<Piece> waiting_;
    std::array<BoundedExtreme<1>, K> best_{};
    std::array<double, K> resolved_{};  ///< lower bounds over pieces that are settled by closeness, and at the ends
    int evaluations_ = 0;
};

}  // namespace detail

/// Least values over `range` of those of K functions that are asked for; the others come back empty. `functions` has
///   PointValues<K> at_point(double x, const FunctionMarks<K>& asked) const;
///   PieceValues<K> over_piece(const Interval& range, const FunctionMarks<K>& asked) const;
/// which need not compute what is not asked.
/// `close(k, value, bound)` says when function k is known well enough. Every result carries the evaluations of the whole
/// search.
template <std::size_t K, class F, class Close>
std::array<BoundedExtreme<1>, K> find_minima_together(const F& functions, const Interval& range, const Close& close,
                                                          const FunctionMarks<K>& asked) {
    return detail::SharedSearch<K, F, Close>(functions, range, close, asked).run();
}

}  // namespace hitchwright
