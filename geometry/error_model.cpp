// See error_model.h.
#include "geometry/error_model.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Core>

#include "geometry/moved_models.h"
#include "geometry/standard_normal.h"
#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

using RowMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Rows = Eigen::Map<const RowMatrix>;
using Column = Eigen::Map<const Eigen::VectorXd>;

Eigen::Index to_index(std::size_t n) { return static_cast<Eigen::Index>(n); }
Column view(std::span<const double> v) { return {v.data(), to_index(v.size())}; }

Rows slopes_of(const ErrorNarrowing& n) { return {n.slopes.data(), to_index(n.count), to_index(n.slopes.size() / n.count)}; }
Rows weight_of(const ErrorNarrowing& n) { return {n.weight.data(), to_index(n.count), to_index(n.count)}; }

}  // namespace

double ReadingError::moved(double by) const {
    double x = value + by * error;
    if (value >= spec.least) x = std::max(x, spec.least);
    if (value <= spec.most) x = std::min(x, spec.most);
    if (spec.least >= 0.0 && value >= 0.0) x = std::max(x, 0.0);  // no sign changes where none can be
    return x;
}

double find_reading_error(const Reading& r, const FieldSpec& spec, const std::string& key) {
    if (r.tolerance > 0.0 || spec.dimension != Dimension::mass || key.ends_with("_most")) return r.tolerance;
    return (r.origin == Origin::measured ? 0.03 : 0.10) * r.value;
}

ErrorModel::ErrorModel(const Setup& setup, BandEffort effort)
    : setup_(std::make_unique<Setup>(setup)), effort_(effort) {
    if (effort == BandEffort::draws_where_close) wish_.noted = std::make_shared<bool>(false);
    visit_readings(*setup_, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known) return;
        ReadingError e{key, spec, r.value, find_reading_error(r, spec, key)};
        e.low = e.moved(-1.0);
        e.high = e.moved(1.0);
        if (!(e.error > 0.0) || !(e.low < e.high)) return;
        readings_.push_back(std::move(e));
        at_.push_back(&r);
    });
    std::vector<std::string_view> keys;
    for (const ReadingError& r : readings_) keys.push_back(r.key);
    moved_models_ = std::make_shared<MovedModels>(std::move(keys));
}

ErrorModel::ErrorModel(const Setup& setup, ErrorNarrowing narrowing, BandEffort effort) : ErrorModel(setup, effort) {
    narrowing_ = std::move(narrowing);
}

const Setup& ErrorModel::move(std::size_t i, double value) const {
    at_[i]->value = value;
    return *setup_;
}

void ErrorModel::reset(std::size_t i) const { at_[i]->value = readings_[i].value; }

const Setup& ErrorModel::shift_all(std::span<const double> by) const {
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        at_[i]->value = readings_[i].moved(by[i]);
    }
    return *setup_;
}

std::vector<double> ErrorModel::draw(const std::function<double()>& next_normal) const {
    constexpr double sigma = 0.5;  // of an error whose two sigma are 1
    std::vector<double> u(readings_.size());
    for (double& x : u) x = sigma * next_normal();
    if (narrowing_.count == 0) return u;
    Eigen::VectorXd off = slopes_of(narrowing_) * view(u);
    for (std::size_t j = 0; j < narrowing_.count; ++j) off[to_index(j)] += sigma * narrowing_.errors[j] * next_normal();
    const Eigen::VectorXd taken = slopes_of(narrowing_).transpose() * (weight_of(narrowing_) * off);
    for (std::size_t i = 0; i < u.size(); ++i) u[i] -= taken[to_index(i)];
    return u;
}

std::span<const double> ErrorModel::draws(std::size_t count) const {
    if (draws_.size() != count * readings_.size()) {
        constexpr std::uint64_t seed = 20261126;
        StandardNormal normal(seed);
        draws_.clear();
        for (std::size_t n = 0; n < count; ++n) {
            const std::vector<double> one = draw([&] { return normal(); });
            draws_.insert(draws_.end(), one.begin(), one.end());
        }
    }
    return draws_;
}

std::vector<double> ErrorModel::find_covariance(std::span<const double> slopes) const {
    std::vector<double> c(slopes.begin(), slopes.end());
    if (narrowing_.count == 0) return c;
    const Eigen::VectorXd taken = slopes_of(narrowing_).transpose() * (weight_of(narrowing_) * (slopes_of(narrowing_) * view(slopes)));
    for (std::size_t i = 0; i < c.size(); ++i) c[i] -= taken[to_index(i)];
    return c;
}

double ErrorModel::find_width(std::span<const double> slopes) const {
    const std::vector<double> c = find_covariance(slopes);
    return std::sqrt(std::max(0.0, view(slopes).dot(view(c))));
}

std::vector<double> ErrorModel::find_own_variances() const {
    std::vector<double> own(readings_.size(), 1.0);
    if (narrowing_.count == 0) return own;
    for (std::size_t i = 0; i < own.size(); ++i) {
        const Eigen::VectorXd column = slopes_of(narrowing_).col(to_index(i));
        own[i] = std::max(0.0, 1.0 - column.dot(weight_of(narrowing_) * column));
    }
    return own;
}

std::vector<double> ErrorModel::find_shares(std::span<const double> slopes) const {
    std::vector<double> shares = find_covariance(slopes);
    const std::vector<double> own = find_own_variances();
    for (std::size_t i = 0; i < shares.size(); ++i) shares[i] = own[i] > 0.0 ? std::fabs(shares[i]) / std::sqrt(own[i]) : 0.0;
    return shares;
}

}  // namespace hitchwright
