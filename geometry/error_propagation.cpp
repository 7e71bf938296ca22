// First order by central differences over the readings' own two-sigma errors, and the question whether that is enough; see
// error_model.h.
//
// It is not where the second differences shift the middle of the band, or where the number at the band's two ends (all
// readings moved together along the slopes) is not where the slopes say: a number that is the least of two, one that
// leaves an end of the travel, a linkage near a dead centre. Then the number is taken for random draws of all readings. The part
// of each draw that the slopes explain has a known distribution: the draws are shifted so that this part has it exactly
// (a control variate). 4000 of them know an end of the band to 1 % of its width on the built-in set-ups, to 3 % at worst, where
// a number changes its place; plain draws would need four times as many (theory/errors.md).
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "geometry/error_model.h"
#include "geometry/standard_normal.h"

namespace hitchwright {
namespace {

/// Parts of a band: how far its middle may be shifted, and its ends be off, before draws are taken.
constexpr double shift_allowed = 0.015, end_allowed = 0.02;
constexpr int draws = 4000;
/// Of ends by second order, as shares of the widest side of the band: what any may be off, and what for each share that an end is moved
/// from where the slopes put it. Less than that was off in all but 8 of 2,467 bands (theory/errors.md).
constexpr double end_error_least = 0.15, end_error_moved = 0.8;
/// Share of a normal number beyond two sigma to one side: a band by draws holds what one by slopes does.
constexpr double beyond_two_sigma = 0.0227501319481792;

using Numbers = std::vector<std::optional<double>>;

/// The two greatest shares.
void set_widest(const ErrorModel& errors, ErrorBand& band) {
    const std::vector<double> shares = errors.find_shares(band.slopes);
    for (std::size_t i = 0; i < shares.size(); ++i) {
        if (shares[i] > band.widest.share) {
            band.second = std::move(band.widest);
            band.widest = {errors.readings()[i].key, shares[i]};
        } else if (shares[i] > band.second.share) {
            band.second = {errors.readings()[i].key, shares[i]};
        }
    }
}

class Propagator {
public:
    Propagator(const ErrorModel& errors, std::size_t count, const NumbersOf& numbers, const ReadsKey& reads)
        : errors_(errors), count_(count), numbers_(numbers), reads_(reads), now_(count), low_(count), high_(count), bend_(count), own_(errors.find_own_variances()) {}

    /// Slopes of each number into p_.bands; of those that are there as read.
    void find_slopes() {
        p_.bands.resize(count_);
        p_.lost_by.resize(count_);
        for (ErrorBand& b : p_.bands) b.slopes.resize(errors_.readings().size());
        numbers_({errors_.setup(), MovedSetup::all_numbers, 0}, now_);
        for (const auto& n : now_) p_.there.push_back(n.has_value());
        std::vector<std::size_t> unread;
        for (std::size_t i = 0; i < errors_.readings().size(); ++i) {
            if (reads_ && !reads_(errors_.readings()[i].key)) unread.push_back(i);
            else move(i);
        }
        if (!unread.empty() && !stays(unread)) {
            for (const std::size_t i : unread) move(i, false);
        }
    }

    std::vector<std::vector<double>> take_slopes() {
        find_slopes();
        std::vector<std::vector<double>> slopes(count_);
        for (std::size_t q = 0; q < count_; ++q) {
            if (now_[q]) slopes[q] = std::move(p_.bands[q].slopes);
        }
        return slopes;
    }

    Propagation run() {
        find_slopes();
        std::vector<std::size_t> rough;
        for (std::size_t q = 0; q < count_; ++q) {
            if (!now_[q]) continue;
            ErrorBand& b = p_.bands[q];
            b = make_first_order(errors_, std::move(b.slopes));
            if (b.width > 0.0 && !p_.lost_by[q] && is_rough(q)) rough.push_back(q);
        }
        if (!rough.empty() && errors_.effort() == BandEffort::draws) draw(rough);
        return std::move(p_);
    }

private:
    /// `kept`: what was made of the move before holds; not where a number moves that was not to.
    void move(std::size_t i, bool kept = true) {
        const ReadingError& r = errors_.readings()[i];
        std::fill(low_.begin(), low_.end(), std::nullopt);
        std::fill(high_.begin(), high_.end(), std::nullopt);
        const std::size_t number = 1 + 2 * i;
        numbers_({errors_.move(i, r.low), MovedSetup::all_numbers, kept ? number : MovedSetup::not_kept}, low_);
        numbers_({errors_.move(i, r.high), MovedSetup::all_numbers, kept ? number + 1 : MovedSetup::not_kept}, high_);
        errors_.reset(i);
        for (std::size_t q = 0; q < count_; ++q) {
            if (!now_[q]) continue;
            if (!low_[q] || !high_[q]) {
                if (!p_.lost_by[q]) p_.lost_by[q] = i;
                // The side that is left tells the slope.
                if (low_[q] && r.value > r.low) p_.bands[q].slopes[i] = (*now_[q] - *low_[q]) * r.error / (r.value - r.low);
                if (high_[q] && r.high > r.value) p_.bands[q].slopes[i] = (*high_[q] - *now_[q]) * r.error / (r.high - r.value);
                continue;
            }
            p_.bands[q].slopes[i] = (*high_[q] - *low_[q]) * r.error / (r.high - r.low);
            const bool even = r.high - r.low > 1.999 * r.error;
            if (even) bend_[q] += own_[i] * (*high_[q] + *low_[q] - 2.0 * *now_[q]);
        }
    }

    /// True when no number changes with all these readings moved at once, each by a share of its own so that none takes back what
    /// another does.
    bool stays(const std::vector<std::size_t>& unread) {
        for (const bool high : {false, true}) {
            double share = 1.0;
            for (const std::size_t i : unread) {
                constexpr double next = 1.0 - 0x1.9e3779b97f4a8p-27;  // 1.2e-8 less than the one before
                share *= next;
                const ReadingError& r = errors_.readings()[i];
                errors_.move(i, r.value + share * ((high ? r.high : r.low) - r.value));
            }
            std::fill(low_.begin(), low_.end(), std::nullopt);
            numbers_({errors_.setup()}, low_);
            for (const std::size_t i : unread) errors_.reset(i);
            if (low_ != now_) return false;
        }
        return true;
    }

    /// Sets the ends where the slopes do not reach them.
    bool is_rough(std::size_t q) {
        ErrorBand& b = p_.bands[q];
        // Half the second derivative times the variance, 1/4 in these units of what direct readings left of it.
        const double shift = bend_[q] / 8.0;
        std::vector<double> end = errors_.find_covariance(b.slopes);
        for (double& x : end) x /= b.width;
        std::array<std::optional<double>, 2> at;
        for (auto& there : at) {
            std::fill(low_.begin(), low_.end(), std::nullopt);
            numbers_({errors_.shift_all(end), q}, low_);
            there = low_[q];
            for (double& x : end) x = -x;
        }
        errors_.shift_all(std::vector<double>(end.size(), 0.0));
        const double above = at[0] ? *at[0] - *now_[q] : b.width, below = at[1] ? *now_[q] - *at[1] : b.width;
        const double off = std::max(std::fabs(above - b.width), std::fabs(below - b.width));
        const double by_slopes = b.width;
        const bool rough = !at[0] || !at[1] || off > end_allowed * by_slopes || std::fabs(shift) > shift_allowed * by_slopes;
        // Cornish-Fisher: the bend along the slopes shifts the middle already, and counts z^2 - 1 times at z sigma, not z^2.
        const double along = (above - below) / 8.0;
        // They are made where first order would do as well: a band that jumps at that line would make the answer flicker.
        // At a kink both corrections count the same thing: they take no more than a quarter off where the number itself goes.
        constexpr double kept = 0.75;
        b.above = std::max(kept * std::max(0.0, above), above + shift - along);
        b.below = std::max(kept * std::max(0.0, below), below - shift + along);
        b.width = b.width_without_draws = 0.5 * (b.above + b.below);
        if (!rough) return false;
        b.method = BandMethod::second_order;
        b.wish = errors_.wish();
        if (b.wish.noted) b.wish.end_error = find_end_error(by_slopes, b);
        // How many draws are without the number only draws tell.
        if (b.wish.noted && (!at[0] || !at[1])) *b.wish.noted = true;
        return true;
    }

    /// How far an end of a band by second order may be off: the more, the farther it is from where the slopes put it.
    static double find_end_error(double by_slopes, const ErrorBand& b) {
        const double moved = std::max(std::fabs(b.above - by_slopes), std::fabs(b.below - by_slopes)) / by_slopes;
        return (end_error_least + end_error_moved * moved) * std::max({by_slopes, b.above, b.below});
    }

    /// One draw of a number.
    struct Draw {
        double by_slopes, off;
    };

    void draw(const std::vector<std::size_t>& rough) {
        std::vector<std::vector<Draw>> found(count_);
        const std::size_t readings = errors_.readings().size();
        const std::span<const double> all = errors_.draws(draws);
        for (int n = 0; n < draws; ++n) {
            std::fill(low_.begin(), low_.end(), std::nullopt);
            const std::span<const double> by = all.subspan(static_cast<std::size_t>(n) * readings, readings);
            numbers_({errors_.shift_all(by), MovedSetup::all_numbers, 1 + 2 * readings + static_cast<std::size_t>(n)}, low_);
            for (const std::size_t q : rough) {
                if (!low_[q]) continue;
                const std::vector<double>& s = p_.bands[q].slopes;
                found[q].push_back({std::inner_product(s.begin(), s.end(), by.begin(), 0.0), *low_[q] - *now_[q]});
            }
        }
        errors_.shift_all(std::vector<double>(errors_.readings().size(), 0.0));
        std::vector<double> quantiles;  // of the ranks, where every draw has the number
        quantiles.reserve(static_cast<std::size_t>(draws));
        for (int n = 0; n < draws; ++n) quantiles.push_back(find_normal_quantile((n + 0.5) / draws));
        for (const std::size_t q : rough) finish(found[q], quantiles, 0.5 * errors_.find_width(p_.bands[q].slopes), p_.bands[q]);
    }

    /// Shifts each draw by what its part explained by the slopes lacks to the quantile of its rank.
    static void finish(std::vector<Draw>& found, const std::vector<double>& quantiles, double sigma, ErrorBand& b) {
        b.lost = 1.0 - static_cast<double>(found.size()) / draws;
        if (found.size() < draws / 2) return;  // most draws have no such number: its ends are all there is
        std::sort(found.begin(), found.end(), [](const Draw& x, const Draw& y) { return x.by_slopes < y.by_slopes; });
        const double count = static_cast<double>(found.size());
        for (std::size_t k = 0; k < found.size(); ++k) {
            const double quantile = found.size() == quantiles.size() ? quantiles[k] : find_normal_quantile((static_cast<double>(k) + 0.5) / count);
            b.sample.push_back(found[k].off + sigma * quantile - found[k].by_slopes);
        }
        std::sort(b.sample.begin(), b.sample.end());
        const auto at = [&](double share) {
            const double place = share * count - 0.5;
            const auto k = static_cast<std::size_t>(place);
            return b.sample[k] + (place - static_cast<double>(k)) * (b.sample[k + 1] - b.sample[k]);
        };
        b.method = BandMethod::monte_carlo;
        b.below = std::max(0.0, -at(beyond_two_sigma));
        b.above = std::max(0.0, at(1.0 - beyond_two_sigma));
        b.width = 0.5 * (b.below + b.above);
    }

    const ErrorModel& errors_;
    std::size_t count_;
    const NumbersOf& numbers_;
    const ReadsKey& reads_;
    Propagation p_;
    Numbers now_, low_, high_;
    std::vector<double> bend_, own_;
};

}  // namespace

ErrorBand make_first_order(const ErrorModel& errors, std::vector<double> slopes) {
    ErrorBand b;
    b.slopes = std::move(slopes);
    b.width = b.width_without_draws = b.below = b.above = errors.find_width(b.slopes);
    set_widest(errors, b);
    return b;
}

Propagation propagate(const ErrorModel& errors, std::size_t count, const NumbersOf& numbers, const ReadsKey& reads) {
    return Propagator(errors, count, numbers, reads).run();
}

std::vector<std::vector<double>> find_slopes(const ErrorModel& errors, std::size_t count, const NumbersOf& numbers, const ReadsKey& reads) {
    return Propagator(errors, count, numbers, reads).take_slopes();
}

}  // namespace hitchwright
