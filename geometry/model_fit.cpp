// See model_fit.h. Causes of a misfit: misfit_cause.h.
#include "geometry/model_fit.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Cholesky>

#include "geometry/candidate_readings.h"
#include "geometry/direct_place.h"
#include "geometry/innovations.h"
#include "geometry/misfit_cause.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(ModelFit);

namespace {

/// Step of the slopes, of a two-sigma error: far above rounding, far below what the model bends over.
constexpr double slope_step = 0.02;
constexpr int most_iterations = 20;
/// An estimate that moves by less than this, of two-sigma errors, has settled.
constexpr double settled = 1e-7;
/// Inputs that move by less than this part of their error are not listed.
constexpr double least_listed = 0.1;
/// The w of two readings that go together like this do not tell them apart.
constexpr double alike = 0.9;

Eigen::Index to_index(std::size_t n) { return static_cast<Eigen::Index>(n); }

/// Predictions of the observations at errors u, and their slopes.
class Predictor {
public:
    Predictor(const ErrorModel& errors, const std::vector<Observation>& all)
        : errors_(errors), all_(all), drawn_(errors.setup().implement.attachment == Attachment::drawn) {
        if (drawn_) {
            built_ = make_drawn_model(errors.setup()).hitch_ok;
            return;
        }
        const MountedModelResult now = make_mounted_model(errors.setup(), nullptr, RangeSearch::none);
        decision_ = now.model.pin_decision;
        built_ = now.linkage_ok;
    }

    /// False: there is no model to fit.
    bool built() const { return built_; }

    /// Empty entries: cannot be simulated.
    std::vector<std::optional<double>> at(const Eigen::VectorXd& u) const {
        const Setup& moved = errors_.shift_all({u.data(), static_cast<std::size_t>(u.size())});
        std::vector<std::optional<double>> out(all_.size());
        if (drawn_) {
            const DrawnModelResult r = make_drawn_model(moved);
            for (std::size_t j = 0; r.hitch_ok && j < all_.size(); ++j) out[j] = predict_at(find_place_of(all_[j], moved), moved, r.model);
            return out;
        }
        const MountedModelResult r = make_mounted_model(moved, &decision_, RangeSearch::none);
        for (std::size_t j = 0; r.linkage_ok && j < all_.size(); ++j) {
            out[j] = predict_at(find_place_of(all_[j], moved), all_[j].read, moved, r.model);
        }
        return out;
    }

    /// Observations that can be simulated with all readings as they are, and moved.
    std::vector<std::size_t> find_possible() const {
        const auto now = at(Eigen::VectorXd::Zero(to_index(errors_.readings().size())));
        std::vector<std::size_t> rows;
        for (std::size_t j = 0; j < all_.size(); ++j) {
            if (now[j]) rows.push_back(j);
        }
        return rows;
    }

    Innovations find_innovations(const Eigen::VectorXd& u, const std::vector<std::size_t>& rows) const {
        const auto n = to_index(rows.size()), columns = u.size();
        Innovations in{Eigen::MatrixXd::Zero(n, columns), Eigen::VectorXd(n), Eigen::VectorXd(n)};
        const auto now = at(u);
        for (Eigen::Index j = 0; j < n; ++j) {
            const std::size_t row = rows[static_cast<std::size_t>(j)];
            in.errors[j] = all_[row].error;
            in.off[j] = all_[row].read - now[row].value_or(all_[row].read);
        }
        Eigen::VectorXd moved = u;
        for (Eigen::Index i = 0; i < columns; ++i) {
            moved[i] = u[i] - slope_step;
            const auto low = at(moved);
            moved[i] = u[i] + slope_step;
            const auto high = at(moved);
            moved[i] = u[i];
            for (Eigen::Index j = 0; j < n; ++j) {
                const std::size_t row = rows[static_cast<std::size_t>(j)];
                if (low[row] && high[row]) in.slopes(j, i) = (*high[row] - *low[row]) / (2.0 * slope_step);
            }
        }
        return in;
    }

    void put_back() const { errors_.shift_all(std::vector<double>(errors_.readings().size(), 0.0)); }

private:
    const ErrorModel& errors_;
    const std::vector<Observation>& all_;
    bool drawn_, built_ = false;
    PinDecision decision_;
};

/// Which rows are kept, and why.
struct Choice {
    std::vector<std::size_t> kept, left_out;  ///< rows of the innovations
    bool consistent = false;
    bool too_far = false;  ///< only from the model, not from each other
};

std::size_t find_worst(const Eigen::VectorXd& misfits) {
    Eigen::Index worst = 0;
    misfits.cwiseAbs().maxCoeff(&worst);
    return static_cast<std::size_t>(worst);
}

/// A row that moves with nothing and is not off: a floating link takes up whatever was read.
bool tells_something(const Innovations& all, std::size_t row) {
    return all.off[to_index(row)] != 0.0 || all.slopes.row(to_index(row)).squaredNorm() > 0.0;
}

/// True when each reading by itself stands no farther from the model than all errors together explain: an error common to all
/// of them shows in none against the others.
bool is_near(const Innovations& in) {
    for (Eigen::Index j = 0; j < in.off.size(); ++j) {
        if (std::fabs(in.off[j]) > direct_doubt * std::hypot(in.slopes.row(j).norm(), in.errors[j])) return false;
    }
    return true;
}

/// Leaves the worst out as long as two others speak against it.
Choice choose_rows(const Innovations& all) {
    Choice c;
    for (std::size_t row = 0; row < static_cast<std::size_t>(all.off.size()); ++row) {
        if (tells_something(all, row)) c.kept.push_back(row);
    }
    if (c.kept.empty()) return c;
    while (true) {
        const Innovations now = all.pick(c.kept);
        const Eigen::VectorXd misfits = find_misfits(now);
        const std::size_t worst = find_worst(misfits);
        const bool misfit = std::fabs(misfits[to_index(worst)]) > misfit_limit;
        if (!misfit) {
            c.too_far = find_misfit_sum(now) > find_misfit_sum_limit(c.kept.size()) || !is_near(now);
            c.consistent = !c.too_far && c.kept.size() > c.left_out.size();
            return c;
        }
        if (c.kept.size() < 3) return c;
        c.left_out.push_back(c.kept[worst]);
        c.kept.erase(c.kept.begin() + static_cast<std::ptrdiff_t>(worst));
    }
}

/// u of the least sum of squares over the rows kept; nothing where the estimate does not settle or leaves what closes.
std::optional<Eigen::VectorXd> solve(const Predictor& predict, const std::vector<std::size_t>& rows, Eigen::Index columns) {
    Eigen::VectorXd u = Eigen::VectorXd::Zero(columns);
    for (int i = 0; i < most_iterations; ++i) {
        const auto now = predict.at(u);
        for (const std::size_t row : rows) {
            if (!now[row]) return std::nullopt;
        }
        const Innovations in = predict.find_innovations(u, rows);
        const Eigen::VectorXd next = in.slopes.transpose() * (in.find_weight() * (in.off + in.slopes * u));
        const double moved = (next - u).lpNorm<Eigen::Infinity>();
        u = next;
        if (moved < settled) return u;
    }
    return std::nullopt;
}

ErrorNarrowing make_narrowing(const Innovations& at_fit) {
    ErrorNarrowing n;
    n.count = static_cast<std::size_t>(at_fit.off.size());
    for (Eigen::Index j = 0; j < at_fit.slopes.rows(); ++j) {
        for (Eigen::Index i = 0; i < at_fit.slopes.cols(); ++i) n.slopes.push_back(at_fit.slopes(j, i));
        n.errors.push_back(at_fit.errors[j]);
    }
    const Eigen::MatrixXd weight = at_fit.find_weight();
    for (Eigen::Index j = 0; j < weight.rows(); ++j) {
        for (Eigen::Index i = 0; i < weight.cols(); ++i) n.weight.push_back(weight(j, i));
    }
    return n;
}

std::string find_widest(const ErrorModel& errors, const Eigen::VectorXd& slopes) {
    Eigen::Index widest = 0;
    if (slopes.size() == 0 || slopes.cwiseAbs().maxCoeff(&widest) <= 0.0) return {};
    return errors.readings()[static_cast<std::size_t>(widest)].key;
}

/// One row for each observation: w and chance against the rows kept, and itself.
std::vector<FittedReading> describe(const ErrorModel& errors, const std::vector<Observation>& all, const std::vector<std::size_t>& possible,
                                    const Innovations& in, const Choice& choice) {
    std::vector<FittedReading> out;
    for (std::size_t row = 0; row < possible.size(); ++row) {
        const Observation& o = all[possible[row]];
        const bool tells = tells_something(in, row);
        std::vector<std::size_t> with{row};
        for (const std::size_t k : choice.kept) {
            if (k != row) with.push_back(k);
        }
        const Innovations beside = in.pick(with);
        FittedReading r;
        r.key = o.key;
        r.kind = o.place.kind;
        r.dimension = o.dimension;
        r.ball_height = o.place.ball_height;
        r.turn = o.place.turn;
        r.read = o.read;
        r.error = o.error;
        r.predicted = r.fitted = o.read - in.off[to_index(row)];
        r.band = std::hypot(in.slopes.row(to_index(row)).norm(), o.error);
        r.tells = tells;
        r.misfit = tells ? find_misfits(beside)[0] : 0.0;
        r.chance_caught = tells ? find_chance_caught(find_shifts(beside, gross_tolerances)[0]) : 0.0;
        r.widest = find_widest(errors, in.slopes.row(to_index(row)));
        r.fits = std::find(choice.left_out.begin(), choice.left_out.end(), row) == choice.left_out.end() &&
                 std::fabs(r.misfit) <= misfit_limit;
        out.push_back(r);
    }
    return out;
}

std::vector<FittedInput> list_inputs(const ErrorModel& errors, const Eigen::VectorXd& u, const Innovations& at_fit) {
    const Eigen::MatrixXd weight = at_fit.find_weight();
    std::vector<FittedInput> out;
    for (std::size_t i = 0; i < errors.readings().size(); ++i) {
        const double by = u[to_index(i)];
        if (std::fabs(by) < least_listed) continue;
        const ReadingError& e = errors.readings()[i];
        const Eigen::VectorXd column = at_fit.slopes.col(to_index(i));
        const double left = std::sqrt(std::max(0.0, 1.0 - column.dot(weight * column)));
        out.push_back({e.key, e.spec.dimension, e.value, e.moved(by), e.error, e.error * left, std::fabs(by) > 1.0});
    }
    std::stable_sort(out.begin(), out.end(), [](const FittedInput& a, const FittedInput& b) {
        return std::fabs(a.fitted - a.read) * b.error > std::fabs(b.fitted - b.read) * a.error;
    });
    return out;
}

/// What could be as wrong as the worst reading: others whose w goes with it, and readings of the files whose error would
/// explain it as well.
std::vector<std::string> list_equally(const ErrorModel& errors, const std::vector<FittedReading>& readings, const Innovations& in,
                                      std::size_t worst) {
    std::vector<std::string> keys;
    const Eigen::MatrixXd weight = in.find_weight();
    const Eigen::VectorXd misfits = find_misfits(in), pulled = weight * in.off;
    for (Eigen::Index j = 0; j < in.off.size(); ++j) {
        if (j == to_index(worst)) continue;
        const double with = find_correlation(weight, j, to_index(worst));
        if (std::fabs(with) > alike && std::fabs(misfits[j]) > misfit_limit) keys.push_back(readings[static_cast<std::size_t>(j)].key);
    }
    for (std::size_t i = 0; i < errors.readings().size(); ++i) {
        const Eigen::VectorXd column = in.slopes.col(to_index(i));
        const double own = column.dot(weight * column);
        if (own <= 0.0) continue;
        const double misfit = 2.0 * column.dot(pulled) / std::sqrt(own);
        if (std::fabs(misfit) > alike * std::fabs(misfits[to_index(worst)]) && std::fabs(misfit) > misfit_limit) keys.push_back(errors.readings()[i].key);
    }
    return keys;
}

/// The candidate with which an error in the least checkable reading shows best.
std::optional<NextReading> find_check(const ErrorModel& errors, const Innovations& kept, const std::vector<double>& chances) {
    const auto least = std::min_element(chances.begin(), chances.end());
    if (least == chances.end() || *least >= checkable_chance) return std::nullopt;
    const auto row = static_cast<Eigen::Index>(least - chances.begin());
    const Eigen::Index n = kept.off.size();
    std::optional<NextReading> best;
    for (CandidateReading& c : list_candidates(errors)) {
        if (c.reading.again) continue;
        Innovations with{Eigen::MatrixXd(n + 1, kept.slopes.cols()), Eigen::VectorXd(n + 1), Eigen::VectorXd::Zero(n + 1)};
        with.slopes.topRows(n) = kept.slopes;
        with.slopes.row(n) = Eigen::Map<const Eigen::VectorXd>(c.slopes.data(), to_index(c.slopes.size()));
        with.errors << kept.errors, c.error;
        const double chance = find_chance_caught(find_shifts(with, gross_tolerances)[row]);
        if (best && chance <= best->chance_caught) continue;
        best = c.reading;
        best->chance_caught = chance;
    }
    return best;
}

Setup move_readings(const ErrorModel& errors, const Eigen::VectorXd& u) {
    Setup fitted = errors.shift_all({u.data(), static_cast<std::size_t>(u.size())});
    errors.shift_all(std::vector<double>(errors.readings().size(), 0.0));
    return fitted;
}

}  // namespace

Setup apply_fit(const Setup& setup) {
    std::optional<FittedSetup> fitted = fit_model(setup);
    Setup s;
    if (fitted && fitted->fit.used) s = std::move(fitted->setup);
    else s = setup;
    s.direct_readings.clear();
    s.pose_readings.clear();
    s.turn_readings.clear();
    return s;
}

double find_chance_caught(double shift) {
    const auto above = [](double x) { return 0.5 * std::erfc(x / std::sqrt(2.0)); };
    return above(misfit_limit - std::fabs(shift)) + above(misfit_limit + std::fabs(shift));
}

namespace {

/// Readings the model has no place for: it does not close there, or a distance at a joint is missing.
void add_not_simulated(const std::vector<Observation>& all, const std::vector<std::size_t>& possible, ModelFit& fit) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (std::find(possible.begin(), possible.end(), i) != possible.end()) continue;
        FittedReading r;
        r.key = all[i].key;
        r.kind = all[i].place.kind;
        r.dimension = all[i].dimension;
        r.ball_height = all[i].place.ball_height;
        r.turn = all[i].place.turn;
        r.read = r.predicted = r.fitted = all[i].read;
        r.error = all[i].error;
        r.fits = r.simulated = false;
        fit.readings.push_back(r);
    }
}

}  // namespace

bool is_consistent(const Setup& setup) {
    const ErrorModel errors(setup);
    const std::vector<Observation> all = list_observations(setup);
    const Predictor predict(errors, all);
    const std::vector<std::size_t> possible = predict.find_possible();
    if (possible.size() != all.size()) return false;
    const Innovations in = predict.find_innovations(Eigen::VectorXd::Zero(to_index(errors.readings().size())), possible);
    const Choice c = choose_rows(in);
    predict.put_back();
    return c.consistent && c.left_out.empty();
}

std::optional<FittedSetup> fit_model(const Setup& setup) {
    const std::vector<Observation> all = list_observations(setup);
    if (all.empty()) return std::nullopt;
    const ErrorModel errors(setup);
    const Predictor predict(errors, all);
    const std::vector<std::size_t> possible = predict.find_possible();
    if (!predict.built()) return std::nullopt;
    if (possible.empty()) {
        FittedSetup none{{}, setup};
        add_not_simulated(all, possible, none.fit);
        return none;
    }
    const auto columns = to_index(errors.readings().size());
    const Innovations in = predict.find_innovations(Eigen::VectorXd::Zero(columns), possible);
    predict.put_back();
    const Choice choice = choose_rows(in);
    FittedSetup r{{}, setup};
    ModelFit& fit = r.fit;
    fit.readings = describe(errors, all, possible, in, choice);
    add_not_simulated(all, possible, fit);
    if (choice.kept.empty()) return r;
    const Innovations kept = in.pick(choice.kept);
    fit.kept = static_cast<int>(choice.kept.size());
    fit.misfit_sum = find_misfit_sum(kept);
    fit.used = choice.consistent;
    fit.too_far = choice.too_far;
    std::vector<double> chances;
    for (const std::size_t row : choice.kept) chances.push_back(fit.readings[row].chance_caught);
    fit.would_check = find_check(errors, kept, chances);
    if (!fit.used || !choice.left_out.empty()) {
        const std::size_t worst = choice.left_out.empty() ? find_worst(find_misfits(in)) : choice.left_out.front();
        fit.equally = list_equally(errors, fit.readings, in, worst);
        std::vector<std::string> left_out;
        for (const std::size_t row : choice.left_out) left_out.push_back(fit.readings[row].key);
        set_misfit_cause(setup, left_out, fit);
    }
    if (!fit.used) return r;
    std::vector<std::size_t> rows;
    for (const std::size_t row : choice.kept) rows.push_back(possible[row]);
    const std::optional<Eigen::VectorXd> found = solve(predict, rows, columns);
    predict.put_back();
    if (!found) {
        fit.used = false;
        fit.too_far = true;
        return r;
    }
    const Eigen::VectorXd& u = *found;
    const Innovations at_fit = predict.find_innovations(u, rows);
    const auto fitted = predict.at(u);
    for (std::size_t row = 0; row < possible.size(); ++row) {
        if (fitted[possible[row]]) fit.readings[row].fitted = *fitted[possible[row]];
    }
    fit.inputs = list_inputs(errors, u, at_fit);
    fit.narrowing = make_narrowing(at_fit);
    predict.put_back();
    r.setup = move_readings(errors, u);
    return r;
}

}  // namespace hitchwright
