// The readings of a set-up that can be off, each by how much, and what direct readings have said of their errors.
//
// Errors are independent and normal, a tolerance is two sigma. In units of the tolerances u_i the prior is N(0, 1/4 I) and a
// band is twice a standard deviation, so that everything here is in two-sigma units: width^2 = s . s for slopes s. After
// direct readings with slopes J (one row each) and inverse W of their covariance (model_fit.h, same units)
//   width^2 = s . s - (J s)' W (J s)
// which is the posterior of a weighted least-squares fit with normal priors.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/field_spec.h"
#include "geometry/reading_band.h"
#include "geometry/setup.h"

namespace hitchwright {

/// One reading that can be off.
struct ReadingError {
    std::string key;
    FieldSpec spec{};
    double value = 0.0;
    double error = 0.0;      ///< two sigma, SI
    double low = 0.0, high = 0.0;  ///< moved by it, not past the range of the possible

    /// What the reading may be in truth: off by `by` errors, within what there can be. A reading that a program hands over may lie beyond
    /// what files may hold: it can be off as any other.
    double moved(double by) const;
};

/// What fitted direct readings say of the errors. Two-sigma units.
struct ErrorNarrowing {
    std::size_t count = 0;       ///< direct readings fitted
    std::vector<double> slopes;  ///< J, row by row: count x readings
    std::vector<double> errors;  ///< of the direct readings alone
    std::vector<double> weight;  ///< W, count x count
};

class MovedModels;

/// A set-up with its errors. Holds a copy whose readings it moves.
class ErrorModel {
public:
    explicit ErrorModel(const Setup& setup, BandEffort effort = BandEffort::draws);
    /// `setup`: with the readings as fitted. Slopes are by the readings of ErrorModel(setup).
    ErrorModel(const Setup& setup, ErrorNarrowing narrowing, BandEffort effort = BandEffort::draws);

    const Setup& setup() const { return *setup_; }
    const std::vector<ReadingError>& readings() const { return readings_; }
    const ErrorNarrowing& narrowing() const { return narrowing_; }
    BandEffort effort() const { return effort_; }
    /// Where judgements by bands of second order note that draws could turn them; with `draws_where_close`, else null inside.
    const DrawsWish& wish() const { return wish_; }
    bool wants_draws() const { return wish_.noted && *wish_.noted; }

    /// The copy with reading `i` at `value`, until the next call; `reset` puts it back.
    const Setup& move(std::size_t i, double value) const;
    void reset(std::size_t i) const;

    /// The copy with every reading moved from its own value by `by[i]` of its error, not past the range of the possible.
    const Setup& shift_all(std::span<const double> by) const;
    /// `count` random draws of all errors, always the same, row by row in two-sigma units: found once and kept.
    std::span<const double> draws(std::size_t count) const;

    /// Two-sigma width of a number with these slopes.
    double find_width(std::span<const double> slopes) const;
    /// What direct readings left of each reading's own variance, 0 to 1.
    std::vector<double> find_own_variances() const;
    /// How much of a number's width goes with each reading: what it would lose, as squares, if the reading had no error.
    std::vector<double> find_shares(std::span<const double> slopes) const;
    /// C s in two-sigma units: how a number's error goes with each reading's.
    std::vector<double> find_covariance(std::span<const double> slopes) const;

    /// Models of the set-up with its readings moved, kept for all numbers that are asked of it.
    MovedModels& moved_models() const { return *moved_models_; }

private:
    std::vector<double> draw(const std::function<double()>& next_normal) const;

    std::unique_ptr<Setup> setup_;
    std::vector<ReadingError> readings_;
    std::vector<Reading*> at_;
    ErrorNarrowing narrowing_;
    BandEffort effort_;
    DrawsWish wish_;
    mutable std::vector<double> draws_;
    std::shared_ptr<MovedModels> moved_models_;
};

/// A set-up with its readings moved, of which numbers are asked.
struct MovedSetup {
    static constexpr std::size_t all_numbers = static_cast<std::size_t>(-1), not_kept = all_numbers;

    const Setup& setup;
    std::size_t only = all_numbers;  ///< the one number that is wanted; the others need not be found
    std::size_t move = not_kept;     ///< which move of which reading: what was made of it may be kept by this number, from 0

    bool asks(std::size_t number) const { return only == all_numbers || only == number; }
    /// The numbers that are wanted, of `all` that there are: from the first, how many.
    std::size_t first() const { return only == all_numbers ? 0 : only; }
    std::size_t count(std::size_t all) const { return only == all_numbers ? all : 1; }
};

/// Numbers of a set-up with its readings moved; an entry without value: there is no such number.
using NumbersOf = std::function<void(const MovedSetup& moved, std::span<std::optional<double>> numbers)>;

/// True when a reading may move the numbers. It need not be exact: what it leaves out is moved together, and each by itself where
/// that changes a number.
using ReadsKey = std::function<bool(std::string_view key)>;

/// Bands of numbers.
struct Propagation {
    std::vector<ErrorBand> bands;
    /// Index of the first reading that moved by its error leaves the number undefined; none: all fine. Such a reading is left
    /// out of the band.
    std::vector<std::optional<std::size_t>> lost_by;
    std::vector<bool> there;  ///< as read; of a number that is not the band says nothing
};

/// The band of a number with these slopes, first order.
ErrorBand make_first_order(const ErrorModel& errors, std::vector<double> slopes);

/// Carries the errors to `count` numbers: 2 n + 3 evaluations for n readings that may move them, none left out without `reads`, and
/// two of each number alone; by the model's effort 4000 draws where a number asks for them.
Propagation propagate(const ErrorModel& errors, std::size_t count, const NumbersOf& numbers, const ReadsKey& reads = nullptr);

/// Slopes of each number by the readings of the model, SI; none of a number that is not there as read.
std::vector<std::vector<double>> find_slopes(const ErrorModel& errors, std::size_t count, const NumbersOf& numbers, const ReadsKey& reads = nullptr);

/// Two sigma of a reading. A mass nobody gave an error for: 3 % where it was weighed, else a brochure's 10 % (common
/// practice, no source). Other readings without a tolerance, and the maker's limits, have none.
double find_reading_error(const Reading& reading, const FieldSpec& spec, const std::string& key);

}  // namespace hitchwright
