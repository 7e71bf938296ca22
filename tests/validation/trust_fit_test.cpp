// The fit to direct readings: what it narrows, whether its bands still hold the truth, what it catches, and its least squares
// by a second route.
//
// source: none needed; truth: random_setup.h with the usual tolerance of each field and distances of the joint centres taped at some
//   heights; readings: the truth plus normal errors, sigma = half the tolerance, of heights and distances too. The second route
//   closes upper link and mast as two circles (random_setup.h) and solves normal equations with slopes of its own; the posterior
//   itself by rejection of draws from the prior
// tolerance: shares of trials within what is stated at each case; the second route 1e-4 of an error
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <fmt/format.h>

#include "geometry/analysis.h"
#include "geometry/direct_place.h"
#include "geometry/error_band.h"
#include "geometry/field_spec.h"
#include "geometry/model_fit.h"
#include "geometry/visit_readings.h"
#include "presets/load_setup.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/random_setup.h"
#include "tests/validation/trust_draws.h"
#include "tests/validation/trust_machine.h"
#include "tests/validation/trust_numbers.h"

using namespace hitchwright;
using namespace validation;

namespace {

constexpr unsigned seed = 20261103;

double find_length_at(const MountedModel& m, double height) {
    return find_shaft_state(m.ends, solve_kernel<double>(m.linkage, height, m.linkage.upper_length)).length;
}

/// A distance between joint centres as it is, with the errors of a tape.
void add_distance(Setup& s, const MountedModel& m, const std::string& name, double height) {
    s.direct_readings.push_back({name, test::known(height, field::floor_error), test::known(find_length_at(m, height), field::groove_error),
                                 LengthReference::joint_centres});
}

MountedModel model_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s, nullptr, RangeSearch::none);
    REQUIRE(r.linkage_ok);
    REQUIRE(r.model.has_halves);
    return r.model;
}

/// A random machine with `count` distances, evenly over the travel.
Setup make_truth(std::mt19937& random, int count) {
    Setup s = make_random_setup(random, {}).setup;
    set_usual_tolerances(s);
    const MountedModel m = model_of(s);
    for (int i = 0; i < count; ++i) {
        add_distance(s, m, fmt::format("{}", i + 1), count == 1 ? 0.5 * (m.travel.low + m.travel.high) : m.travel.low + (m.travel.high - m.travel.low) * i / (count - 1));
    }
    return s;
}

/// Built-in mounted set-ups with a shaft.
std::vector<Setup> load_shafted() {
    std::vector<Setup> all;
    const Library library;
    for (const PresetEntry& e : library.list(FileKind::setup)) {
        LoadedSetup l = load_setup(e.key, library);
        REQUIRE(l.ok());
        if (l.setup.implement.attachment != Attachment::mounted || !l.setup.has_driveline || !l.setup.implement.pic.fitted) continue;
        l.setup.key = e.key;
        all.push_back(l.setup);
    }
    return all;
}

/// With distances at the lowest, middle and greatest ball height, where the model says.
Setup add_three(Setup s) {
    const MountedModel m = model_of(s);
    const double middle = 0.5 * (m.travel.low + m.travel.high);
    for (const auto& [name, h] : {std::pair{"low", m.travel.low}, {"middle", middle}, {"high", m.travel.high}}) add_distance(s, m, name, h);
    return s;
}

ErrorBands find_bands(const Setup& s, const ErrorNarrowing& narrowing, BandEffort effort = BandEffort::draws) {
    const std::optional<Seen> seen = look_at(s);
    REQUIRE(seen);
    return find_error_bands(ErrorModel(s, narrowing, effort), seen->linkage, seen->shaft);
}

const FittedReading* find_reading(const ModelFit& fit, const std::string& key) {
    const auto at = std::find_if(fit.readings.begin(), fit.readings.end(), [&](const FittedReading& r) { return r.key == key; });
    return at == fit.readings.end() ? nullptr : &*at;
}

}  // namespace

TEST_CASE("trust: three taped distances leave half of the bands of the shaft's length on the built-in set-ups, or less", "[oracle]") {
    int compared = 0;
    for (const Setup& s : load_shafted()) {
        const Setup with = add_three(s);
        const std::optional<FittedSetup> fitted = fit_model(with);
        CAPTURE(s.key);
        REQUIRE((fitted && fitted->fit.used));
        const ErrorBands before = find_bands(s, {}), after = find_bands(fitted->setup, fitted->fit.narrowing);
        REQUIRE((before.known && after.known));
        fmt::print("| {} | {:.1f} | {:.1f} | {:.0f} % | {:.1f} | {:.1f} | {:.0f} % |\n", s.key, 1e3 * before.shortest.width, 1e3 * after.shortest.width,
                   100.0 * after.shortest.width / before.shortest.width, 1e3 * before.longest.width, 1e3 * after.longest.width,
                   100.0 * after.longest.width / before.longest.width);
        CHECK(after.shortest.width <= 0.5 * before.shortest.width);
        CHECK(after.longest.width <= 0.5 * before.longest.width);
        ++compared;
    }
    CHECK(compared >= 7);
}

TEST_CASE("trust: bands after a fit hold the truth in 94 to 96 % of random machines", "[random][oracle]") {
    const int count = is_long_run() ? 10000 : 4000;
    std::mt19937 machines(seed);
    std::mt19937_64 errors(seed + 1);
    std::array<int, quantities> held{}, of{};
    int unused = 0;
    for (int tries = 0; tries < 40 * count && *std::min_element(of.begin(), of.end()) < count; ++tries) {
        const Setup truth = make_truth(machines, 3);
        const std::optional<Seen> is = look_at(truth);
        if (!is) continue;
        const auto wanted = [&](std::size_t q) { return of[q] < count && is->plain[q]; };
        bool any = false;
        for (std::size_t q = 0; q < quantities; ++q) any = any || wanted(q);
        if (!any) continue;
        Drawn drawn(truth);
        const std::optional<FittedSetup> fitted = fit_model(drawn.draw(errors));
        if (!fitted || !fitted->fit.used) {
            ++unused;
            continue;
        }
        const std::optional<Seen> as_fitted = look_at(fitted->setup);
        if (!as_fitted) continue;
        const ErrorBands b = find_error_bands(ErrorModel(fitted->setup, fitted->fit.narrowing, BandEffort::second_order), as_fitted->linkage, as_fitted->shaft);
        if (!b.known) continue;
        const std::array<const ErrorBand*, quantities> bands{&b.gap, &b.overlap, &b.tractor_angle, &b.implement_angle, &b.shortest, &b.longest};
        for (std::size_t q = 0; q < quantities; ++q) {
            if (!wanted(q)) continue;
            const double off = is->number[q] - as_fitted->number[q];
            ++of[q];
            if (off >= -bands[q]->below && off <= bands[q]->above) ++held[q];
        }
    }
    fmt::print("| fitted to three distances |");
    for (std::size_t q = 0; q < quantities; ++q) fmt::print(" {:.1f} |", 100.0 * held[q] / of[q]);
    fmt::print(" {} | not used {} |\n", of[0], unused);
    for (std::size_t q = 0; q < quantities; ++q) {
        CAPTURE(quantity_names[q], held[q], of[q]);
        CHECK(of[q] == count);
        CHECK(held[q] >= 0.94 * of[q]);
        CHECK(held[q] <= 0.96 * of[q]);
    }
}

namespace {

/// Trials whose predicted chance lies in one range.
struct Bin {
    double from, to;
    int of = 0, caught = 0;
    double predicted = 0.0;
};

/// Own slopes of the distances by every reading that has an error, at the readings as they are; rows: distances.
struct Slopes {
    std::vector<std::string> keys;
    Eigen::MatrixXd by;      ///< SI for each two-sigma error
    Eigen::MatrixXd weight;  ///< inverse of covariance, two-sigma units
};

Slopes find_slopes(const Setup& s) {
    Slopes out;
    Setup moved = s;
    std::vector<std::pair<Reading*, double>> at;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        const double error = r.known ? find_stated_error(r, spec, key) : 0.0;
        if (!(error > 0.0) || key.ends_with(".distance")) return;
        out.keys.push_back(key);
        at.push_back({&r, error});
    });
    const auto count = static_cast<Eigen::Index>(s.direct_readings.size());
    out.by = Eigen::MatrixXd::Zero(count, static_cast<Eigen::Index>(at.size()));
    const auto lengths = [&] {
        const MountedModelResult r = make_mounted_model(moved, nullptr, RangeSearch::none);
        Eigen::VectorXd l(count);
        for (Eigen::Index j = 0; j < count; ++j) l[j] = find_length_at(r.model, moved.direct_readings[static_cast<std::size_t>(j)].ball_height.value);
        return l;
    };
    for (std::size_t i = 0; i < at.size(); ++i) {
        const double was = at[i].first->value, step = 0.05 * at[i].second;
        at[i].first->value = was + step;
        const Eigen::VectorXd more = lengths();
        at[i].first->value = was - step;
        out.by.col(static_cast<Eigen::Index>(i)) = (more - lengths()) / 0.1;
        at[i].first->value = was;
    }
    Eigen::MatrixXd sum = out.by * out.by.transpose();
    for (Eigen::Index j = 0; j < count; ++j) sum(j, j) += std::pow(s.direct_readings[static_cast<std::size_t>(j)].distance.tolerance, 2);
    out.weight = sum.inverse();
    return out;
}

void print(const std::vector<Bin>& bins, const char* what) {
    for (const Bin& b : bins) {
        if (b.of == 0) continue;
        fmt::print("| {} | {:.0f} to {:.0f} % | {} | {:.1f} % | {:.1f} % |\n", what, 100.0 * b.from, 100.0 * std::min(1.0, b.to), b.of,
                   100.0 * b.predicted / b.of, 100.0 * b.caught / b.of);
    }
}

}  // namespace

TEST_CASE("trust: a direct reading off by four tolerances is caught as often as the fit says, and sound ones are not", "[random][oracle]") {
    const int trials = is_long_run() ? 20000 : 3000;
    std::mt19937 machines(seed + 10);
    std::mt19937_64 errors(seed + 11);
    std::vector<Bin> bins{{0.0, 0.5}, {0.5, 0.8}, {0.8, 0.9}, {0.9, 0.95}, {0.95, 1.01}};
    int sound = 0, called_wrong = 0, sets = 0, sets_not_used = 0;
    for (int t = 0; t < trials; ++t) {
        const int count = 2 + t % 5;
        Setup truth = make_truth(machines, count);
        // A better tape on some, so that every chance comes up.
        for (DirectReading& r : truth.direct_readings) r.distance.tolerance *= t % 3 == 0 ? 2.0 : 1.0;
        Drawn drawn(truth);
        Setup taped = drawn.draw(errors);
        const std::optional<FittedSetup> before = fit_model(taped);
        if (!before || before->fit.readings.size() != static_cast<std::size_t>(count)) continue;
        ++sets;
        if (!before->fit.used) ++sets_not_used;
        for (const FittedReading& r : before->fit.readings) {
            ++sound;
            if (!r.fits) ++called_wrong;
        }
        const std::size_t wrong = static_cast<std::size_t>(t / 5) % taped.direct_readings.size();
        Reading& distance = taped.direct_readings[wrong].distance;
        distance.value += (t % 2 == 0 ? 1.0 : -1.0) * gross_tolerances * distance.tolerance;
        const std::optional<FittedSetup> after = fit_model(taped);
        REQUIRE(after);
        const std::string key = before->fit.readings[wrong].key;
        const double chance = find_reading(before->fit, key)->chance_caught;
        for (Bin& b : bins) {
            if (chance < b.from || chance >= b.to) continue;
            ++b.of;
            b.predicted += chance;
            if (!find_reading(after->fit, key)->fits) ++b.caught;
        }
    }
    print(bins, "a direct reading");
    fmt::print("| sound readings called wrong | {} of {} | {:.2f} % | sets not used {} of {} |\n", called_wrong, sound, 100.0 * called_wrong / sound, sets_not_used, sets);
    for (const Bin& b : bins) {
        CAPTURE(b.from, b.to, b.of, b.caught, b.predicted);
        if (b.of < 200) continue;
        const double measured = static_cast<double>(b.caught) / b.of, predicted = b.predicted / b.of;
        if (b.from >= checkable_chance) CHECK(measured >= 0.95);
        else CHECK(std::fabs(measured - predicted) <= 0.03 + 2.0 * std::sqrt(predicted * (1.0 - predicted) / b.of));
    }
    CHECK(called_wrong <= 0.0025 * sound);
    CHECK(sets_not_used <= 0.005 * sets);
}

TEST_CASE("trust: a reading of the files off by four tolerances shows as often as linear theory says", "[random][oracle]") {
    const int trials = is_long_run() ? 10000 : 1500;
    std::mt19937 machines(seed + 20);
    std::mt19937_64 errors(seed + 21);
    std::normal_distribution<double> normal;
    std::vector<Bin> bins{{0.0, 0.05}, {0.05, 0.5}, {0.5, 0.95}, {0.95, 1.01}};
    for (int t = 0; t < trials; ++t) {
        Setup truth = make_truth(machines, 3 + t % 3);
        const Slopes slopes = find_slopes(truth);
        // The three readings of the files that move the distances most, in turn.
        std::vector<Eigen::Index> order;
        for (Eigen::Index i = 0; i < slopes.by.cols(); ++i) {
            if (!slopes.keys[static_cast<std::size_t>(i)].starts_with("direct_reading")) order.push_back(i);
        }
        std::sort(order.begin(), order.end(), [&](Eigen::Index a, Eigen::Index b) { return slopes.by.col(a).norm() > slopes.by.col(b).norm(); });
        const Eigen::Index wrong = order[static_cast<std::size_t>(t) % 3];
        const double by = t % 2 == 0 ? gross_tolerances : -gross_tolerances;
        // What linear theory says: innovations drawn from their own covariance, shifted.
        const Eigen::MatrixXd covariance = slopes.weight.inverse();
        const Eigen::MatrixXd root = covariance.llt().matrixL();
        const double limit = slopes.by.rows() == 3 ? 16.266 : slopes.by.rows() == 4 ? 18.467 : 20.515;  // chi-square, one in a thousand
        // Two sets: one says which bin, the other what is predicted there, so that no bin collects lucky ones.
        std::array<int, 2> shows{};
        constexpr int rehearsals = 300;
        for (int k = 0; k < 2 * rehearsals; ++k) {
            Eigen::VectorXd z(slopes.by.rows());
            for (double& x : z) x = 0.5 * normal(errors);
            const Eigen::VectorXd off = by * slopes.by.col(wrong) + root * z, pulled = slopes.weight * off;
            const Eigen::VectorXd w = 2.0 * pulled.cwiseQuotient(slopes.weight.diagonal().cwiseSqrt());
            // By itself, too, none may be farther off than all errors explain: 1.645 bands.
            const bool far = (off.cwiseAbs() - 1.645 * covariance.diagonal().cwiseSqrt()).maxCoeff() > 0.0;
            if (far || w.cwiseAbs().maxCoeff() > misfit_limit || 4.0 * off.dot(pulled) > limit) ++shows[static_cast<std::size_t>(k % 2)];
        }
        const double chance = static_cast<double>(shows[0]) / rehearsals, predicted = static_cast<double>(shows[1]) / rehearsals;
        Drawn drawn(truth);
        Setup taped = drawn.draw(errors);
        visit_readings(taped, [&](const std::string& key, Reading& r, const FieldSpec&) {
            if (key == slopes.keys[static_cast<std::size_t>(wrong)]) r.value += by * r.tolerance;
        });
        const std::optional<FittedSetup> fitted = fit_model(taped);
        if (!fitted) continue;
        const auto& readings = fitted->fit.readings;
        const bool seen = !fitted->fit.used || std::any_of(readings.begin(), readings.end(), [](const FittedReading& r) { return !r.fits; });
        for (Bin& b : bins) {
            if (chance < b.from || chance >= b.to) continue;
            ++b.of;
            b.predicted += predicted;
            if (seen) ++b.caught;
        }
    }
    print(bins, "a reading of the files");
    for (const Bin& b : bins) {
        CAPTURE(b.from, b.to, b.of, b.caught, b.predicted);
        if (b.of < 100) continue;
        const double measured = static_cast<double>(b.caught) / b.of, predicted = b.predicted / b.of;
        CHECK(std::fabs(measured - predicted) <= 0.03 + 2.0 * std::sqrt(predicted * (1.0 - predicted) / b.of));
    }
}

namespace {

/// The fit's sum of squares by a second route: circles of random_setup.h, the link's length from the working pose.
class SecondRoute {
public:
    explicit SecondRoute(const Setup& s) : moved_(s), slopes_(find_slopes(s)) {
        visit_readings(moved_, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
            if (std::find(slopes_.keys.begin(), slopes_.keys.end(), key) != slopes_.keys.end()) at_.push_back({&r, r.value, find_stated_error(r, spec, key)});
        });
    }

    Eigen::Index count() const { return static_cast<Eigen::Index>(at_.size()); }
    const std::vector<std::string>& keys() const { return slopes_.keys; }

    /// Read less predicted, as parts of each distance's own error.
    Eigen::VectorXd find_off(const Eigen::VectorXd& u) {
        for (std::size_t i = 0; i < at_.size(); ++i) at_[i].reading->value = at_[i].value + u[static_cast<Eigen::Index>(i)] * at_[i].error;
        const Reference reference(moved_);
        const double upper = find_upper_length();
        Eigen::VectorXd off(static_cast<Eigen::Index>(moved_.direct_readings.size()));
        for (Eigen::Index j = 0; j < off.size(); ++j) {
            const DirectReading& r = moved_.direct_readings[static_cast<std::size_t>(j)];
            const auto pose = reference.at(r.ball_height.value, upper);
            REQUIRE(pose);
            off[j] = (r.distance.value - pose->length) / r.distance.tolerance;
        }
        return off;
    }

    double find_sum(const Eigen::VectorXd& u) { return 4.0 * (u.squaredNorm() + find_off(u).squaredNorm()); }

    /// Rows: distances; central differences.
    Eigen::MatrixXd find_jacobian(const Eigen::VectorXd& u) {
        Eigen::MatrixXd j(static_cast<Eigen::Index>(moved_.direct_readings.size()), count());
        for (Eigen::Index i = 0; i < count(); ++i) {
            Eigen::VectorXd there = u;
            there[i] += 1e-3;
            const Eigen::VectorXd more = find_off(there);
            there[i] -= 2e-3;
            j.col(i) = (more - find_off(there)) / 2e-3;
        }
        return j;
    }

    Eigen::MatrixXd find_information(const Eigen::VectorXd& u) {
        const Eigen::MatrixXd j = find_jacobian(u);
        return Eigen::MatrixXd::Identity(count(), count()) + j.transpose() * j;
    }

    /// Normal equations of all unknowns, until nothing moves.
    Eigen::VectorXd minimise() {
        Eigen::VectorXd u = Eigen::VectorXd::Zero(count());
        for (int i = 0; i < 30; ++i) {
            const Eigen::MatrixXd j = find_jacobian(u);
            const Eigen::MatrixXd information = Eigen::MatrixXd::Identity(count(), count()) + j.transpose() * j;
            const Eigen::VectorXd step = information.ldlt().solve(-(u + j.transpose() * find_off(u)));
            u += step;
            if (step.lpNorm<Eigen::Infinity>() < 1e-10) break;
        }
        return u;
    }

private:
    struct Moved {
        Reading* reading;
        double value, error;
    };

    /// Upper pin to mast pin with the implement at its working height and pitch.
    double find_upper_length() const {
        const LowerLinkReadings& l = moved_.tractor.lower_link;
        const double across = l.half_spread_at_ball.value - l.half_spread_at_pivot.value, z = moved_.implement.work.ball_height.value;
        const double rise = z - l.pivot_z.value, x = l.pivot_x.value + std::sqrt(l.length.value * l.length.value - across * across - rise * rise);
        const double p = moved_.implement.work.pitch.value, up = moved_.implement.mast_pins[0].height.value, back = moved_.implement.mast_pins[0].offset.value_or(0.0);
        const NamedPoint& pin = moved_.tractor.upper_link_pins[0];
        return std::hypot(x + back * std::cos(p) - up * std::sin(p) - pin.x.value, z + back * std::sin(p) + up * std::cos(p) - pin.z.value);
    }

    Setup moved_;
    Slopes slopes_;
    std::vector<Moved> at_;
};

}  // namespace

TEST_CASE("trust: the fit is the least sum of squares by normal equations on another model of the linkage", "[random][oracle]") {
    std::mt19937 machines(seed + 30);
    std::mt19937_64 errors(seed + 31);
    int compared = 0;
    for (int t = 0; t < 12; ++t) {
        Drawn drawn(make_truth(machines, 2 + t % 4));
        const Setup taped = drawn.draw(errors);
        const std::optional<FittedSetup> fitted = fit_model(taped);
        REQUIRE(fitted);
        const auto& readings = fitted->fit.readings;
        if (!fitted->fit.used || std::any_of(readings.begin(), readings.end(), [](const FittedReading& r) { return !r.fits; })) continue;
        SecondRoute second(taped);
        const Eigen::VectorXd u = second.minimise();
        const Eigen::MatrixXd covariance = second.find_information(u).inverse();
        // Nothing beside it is lower, along any reading or any direction at random.
        const double least = second.find_sum(u);
        std::normal_distribution<double> normal;
        for (int k = 0; k < 200; ++k) {
            Eigen::VectorXd there = u;
            if (k < second.count()) there[k] += 0.01;
            else for (double& x : there) x += 0.02 * normal(errors);
            CHECK(second.find_sum(there) >= least);
        }
        std::vector<double> values;
        Setup f = fitted->setup, before = taped;
        std::vector<Reading*> after, was;
        visit_readings(f, [&](const std::string& key, Reading& r, const FieldSpec&) {
            if (std::find(second.keys().begin(), second.keys().end(), key) != second.keys().end()) after.push_back(&r);
        });
        visit_readings(before, [&](const std::string& key, Reading& r, const FieldSpec&) {
            if (std::find(second.keys().begin(), second.keys().end(), key) != second.keys().end()) was.push_back(&r);
        });
        REQUIRE(after.size() == static_cast<std::size_t>(second.count()));
        for (std::size_t i = 0; i < after.size(); ++i) {
            const double moved = (after[i]->value - was[i]->value) / was[i]->tolerance;
            CAPTURE(second.keys()[i]);
            CHECK(std::fabs(moved - u[static_cast<Eigen::Index>(i)]) < 1e-4);
        }
        for (const FittedInput& input : fitted->fit.inputs) {
            const auto at = std::find(second.keys().begin(), second.keys().end(), input.key) - second.keys().begin();
            CAPTURE(input.key);
            CHECK(input.error_after / input.error == Approx(std::sqrt(covariance(at, at))).epsilon(2e-3));
        }
        ++compared;
    }
    CHECK(compared >= 9);
}

TEST_CASE("trust: the posterior of a built-in set-up by rejection of draws from the prior", "[random][oracle]") {
    const Library library;
    Setup s = add_three(load_setup("utility-cutter-fits", library).setup);
    // Read so that the fit has something to do.
    s.direct_readings[0].distance.value += 0.004;
    s.direct_readings[2].distance.value -= 0.003;
    const std::optional<FittedSetup> fitted = fit_model(s);
    REQUIRE((fitted && fitted->fit.used));
    const ErrorBands bands = find_bands(fitted->setup, fitted->fit.narrowing);
    REQUIRE(bands.known);
    const Lengths as_fitted = sample_lengths(model_of(fitted->setup));
    std::mt19937_64 random(seed + 40);
    std::uniform_real_distribution<double> even;
    Drawn drawn(s);
    std::vector<double> shortest, longest;
    const int draws = is_long_run() ? 3000000 : 300000;
    for (int i = 0; i < draws; ++i) {
        Setup& moved = const_cast<Setup&>(drawn.draw(random));
        const MountedModelResult r = make_mounted_model(moved, nullptr, RangeSearch::none);
        if (!r.linkage_ok) continue;
        double sum = 0.0;
        for (std::size_t j = 0; j < 3; ++j) {
            const double off = (s.direct_readings[j].distance.value - find_length_at(r.model, moved.direct_readings[j].ball_height.value)) /
                               s.direct_readings[j].distance.tolerance;
            sum += 4.0 * off * off;
        }
        if (even(random) > std::exp(-0.5 * sum)) continue;
        const Lengths l = sample_lengths(r.model);
        shortest.push_back(l.shortest - as_fitted.shortest);
        longest.push_back(l.longest - as_fitted.longest);
    }
    for (const auto& [sample, band, name] : {std::tuple{shortest, bands.shortest, "shortest"}, {longest, bands.longest, "longest"}}) {
        const Middle m = find_middle(sample);
        CAPTURE(name, sample.size(), m.low, m.high, m.half_error, band.width, band.below, band.above);
        fmt::print("| {} | {} draws kept | {:.2f} mm by rejection | {:.2f} mm by the fit | standard error {:.2f} mm | ends {:.2f} {:.2f} against {:.2f} {:.2f} |\n", name,
                   sample.size(), 1e3 * m.half(), 1e3 * band.width, 1e3 * m.half_error, 1e3 * m.low, 1e3 * m.high, -1e3 * band.below, 1e3 * band.above);
        CHECK(std::fabs(band.width - m.half()) <= std::max(0.03 * m.half(), 3.0 * m.half_error));
        CHECK(std::fabs(band.below + m.low) <= std::max(0.05 * m.half(), 3.0 * m.low_error));
        CHECK(std::fabs(band.above - m.high) <= std::max(0.05 * m.half(), 3.0 * m.high_error));
    }
}

TEST_CASE("trust: the reading that the fit names makes the least checkable one checkable as it says", "[oracle]") {
    int named = 0, reached = 0;
    for (const Setup& s : load_shafted()) {
        Setup with = add_three(s);
        const std::optional<FittedSetup> before = fit_model(with);
        REQUIRE(before);
        const auto by_chance = [](const FittedReading& a, const FittedReading& b) { return a.chance_caught < b.chance_caught; };
        const FittedReading least = *std::min_element(before->fit.readings.begin(), before->fit.readings.end(), by_chance);
        CAPTURE(s.key, least.key, least.chance_caught);
        if (least.chance_caught >= checkable_chance) {
            CHECK_FALSE(before->fit.would_check);
            continue;
        }
        REQUIRE(before->fit.would_check);
        const NextReading& next = *before->fit.would_check;
        const MountedModel m = model_of(with);
        DirectPlace place;
        place.kind = next.kind;
        place.reference = next.reference;
        place.ball_height = next.ball_height;
        place.pitch = m.working_pitch;
        place.point = next.point;
        const double value = *predict_at(place, {}, with, m);
        if (next.kind == DirectKind::shaft_length) {
            with.direct_readings.push_back({"named", test::known(next.ball_height, field::floor_error), test::known(value, next.error), next.reference});
        } else {
            PoseReading p;
            p.name = "named";
            p.what = next.kind == DirectKind::pitch                  ? PoseQuantity::pitch
                     : next.kind == DirectKind::tail_height          ? PoseQuantity::tail_height
                     : next.kind == DirectKind::upper_link_length    ? PoseQuantity::upper_link_length
                     : next.kind == DirectKind::lowest_ball_height   ? PoseQuantity::lowest_ball_height
                                                                     : PoseQuantity::greatest_ball_height;
            p.ball_height = test::known(next.ball_height, field::floor_error);
            p.angle = next.kind == DirectKind::pitch ? test::known(value, next.error) : test::known(m.working_pitch, field::angle_error);
            p.length = test::known(value, next.error);
            p.point = next.point;
            with.pose_readings.push_back(p);
        }
        const std::optional<FittedSetup> after = fit_model(with);
        REQUIRE(after);
        const double chance = find_reading(after->fit, least.key)->chance_caught;
        fmt::print("| {} | {} {:.0f} % | kind {} at {:.2f} m | {:.0f} % promised | {:.0f} % |\n", s.key, least.key, 100.0 * least.chance_caught, static_cast<int>(next.kind),
                   next.ball_height, 100.0 * next.chance_caught, 100.0 * chance);
        CHECK(chance == Approx(next.chance_caught).margin(0.02));
        CHECK(chance > least.chance_caught);
        ++named;
        if (chance >= checkable_chance - 0.02) ++reached;
    }
    fmt::print("named {}, reached {}\n", named, reached);
}
