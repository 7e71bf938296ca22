// The 95 % band of one number, how it was found, and the readings that have most of it.
//
// A number y of readings x_i with two-sigma errors t_i. First order: half width = sqrt(sum s_i^2), s_i = dy/dx_i t_i, and
// what direct readings have narrowed is taken off (error_model.h). Where that is not good enough the band reaches to where
// the number itself goes at the band's two ends, its middle shifted by the second differences (second order), or it is the
// middle 95 % of a Monte Carlo sample; neither is even about y in general.
#pragma once

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <memory>
#include <string>
#include <vector>

namespace hitchwright {

/// The reading that moves a quantity most, and by how much its tolerance moves it.
struct ReadingShare {
    std::string reading;  ///< dotted key
    double share = 0.0;   ///< two sigma, SI
    bool operator==(const ReadingShare&) const = default;
};

/// How a band was found.
enum class BandMethod {
    first_order,   ///< slopes of the number by each reading
    second_order,  ///< the number bends, or changes its place, within the errors: its own values at the ends
    monte_carlo    ///< the same, by random draws of all readings
};

/// What may be spent on a band.
enum class BandEffort {
    second_order,       ///< for answers within a frame, and for tables of many set-ups
    draws_where_close,  ///< draws for a whole analysis, when they could turn a judgement
    draws               ///< Monte Carlo wherever first order is not good enough
};

/// Where a judgement by a band notes that a better one could turn it (is_within); one for all bands of an analysis. Null: nobody asks.
struct DrawsWish {
    std::shared_ptr<bool> noted;
    double end_error = 0.0;  ///< how far an end of this band by second order may be off, SI
    bool operator==(const DrawsWish&) const { return true; }  // no part of the band
};

/// Band of one number.
struct ErrorBand {
    double width = 0.0;  ///< two sigma (95 %), SI: half of the band
    ReadingShare widest, second;  ///< the two readings that contribute most; empty: there are none
    BandMethod method = BandMethod::first_order;
    double width_without_draws = 0.0;  ///< by slopes and bends alone: for what is stated as a height, whatever the effort
    double below = 0.0, above = 0.0;  ///< the band reaches from the number less `below` to the number and `above`
    std::vector<double> slopes;  ///< s_i, SI, by the readings of the error model
    std::vector<double> sample;  ///< Monte Carlo: how far each draw is off the number, in rising order
    double lost = 0.0;           ///< Monte Carlo: share of draws in which there was no such number
    DrawsWish wish;              ///< second order, where draws are taken on demand
    bool operator==(const ErrorBand&) const = default;
};

/// Which side of a limit is allowed.
enum class LimitSide { at_least, at_most };

/// Chance that the number's true value breaks the limit `margin` away (negative: broken as read). Draws without a number count
/// as broken. Needs a band.
inline double find_chance_of_breaking(const ErrorBand& band, double margin, LimitSide side) {
    if (band.method != BandMethod::monte_carlo) {
        const double towards = (margin > 0.0) == (side == LimitSide::at_least) ? band.below : band.above;
        return towards > 0.0 ? 0.5 * std::erfc(std::sqrt(2.0) * margin / towards) : margin < 0.0 ? 1.0 : 0.0;
    }
    const auto first = band.sample.begin(), last = band.sample.end();
    const auto broken = side == LimitSide::at_least ? std::lower_bound(first, last, -margin) - first : last - std::upper_bound(first, last, margin);
    const double of_kept = band.sample.empty() ? 0.0 : static_cast<double>(broken) / static_cast<double>(band.sample.size());
    return band.lost + (1.0 - band.lost) * of_kept;
}

/// True when `away` is less than `reach`, which is the end of a band or made of `bands`. All that is judged by bands of second order is
/// judged through this: draws are wished where `reach` may lie on the other side of `away`.
inline bool is_within(double away, double reach, std::initializer_list<const ErrorBand*> bands) {
    double end_error = 0.0;
    for (const ErrorBand* b : bands) end_error += b->wish.end_error;
    if (std::fabs(away - reach) < end_error) {
        for (const ErrorBand* b : bands) {
            if (b->wish.noted) *b->wish.noted = true;
        }
    }
    return away < reach;
}

/// True when the limit lies inside the band.
inline bool straddles(const ErrorBand& band, double margin, LimitSide side) {
    const double towards = (margin > 0.0) == (side == LimitSide::at_least) ? band.below : band.above;
    return is_within(std::fabs(margin), towards, {&band});
}

}  // namespace hitchwright
