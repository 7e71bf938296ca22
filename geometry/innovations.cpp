#include "geometry/innovations.h"

#include <cmath>
#include <numbers>

#include <Eigen/Cholesky>

namespace hitchwright {

Innovations Innovations::pick(const std::vector<std::size_t>& rows) const {
    const auto n = static_cast<Eigen::Index>(rows.size());
    Innovations p{Eigen::MatrixXd(n, slopes.cols()), Eigen::VectorXd(n), Eigen::VectorXd(n)};
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto from = static_cast<Eigen::Index>(rows[static_cast<std::size_t>(i)]);
        p.slopes.row(i) = slopes.row(from);
        p.errors[i] = errors[from];
        p.off[i] = off[from];
    }
    return p;
}

Eigen::MatrixXd Innovations::find_weight() const {
    Eigen::MatrixXd s = slopes * slopes.transpose();
    // A reading said to have no error to speak of is still no better than a millionth of what the model knows: else S is singular.
    constexpr double least_share = 1e-6;
    s.diagonal() += errors.cwiseAbs2().cwiseMax(least_share * least_share * s.diagonal());
    return s.llt().solve(Eigen::MatrixXd::Identity(s.rows(), s.cols()));
}

Eigen::VectorXd find_misfits(const Innovations& in) {
    const Eigen::MatrixXd weight = in.find_weight();
    return 2.0 * (weight * in.off).cwiseQuotient(weight.diagonal().cwiseSqrt());
}

double find_misfit_sum(const Innovations& in) { return 4.0 * in.off.dot(in.find_weight() * in.off); }

namespace {

/// Share of chi-square with `count` degrees above x: the finite sums for even and odd degrees (Abramowitz and Stegun, 26.4.4, 26.4.5).
double find_share_above(double x, std::size_t count) {
    const bool odd = count % 2 == 1;
    double term = odd ? std::sqrt(2.0 * x / std::numbers::pi) * std::exp(-0.5 * x) : std::exp(-0.5 * x);
    double share = odd ? std::erfc(std::sqrt(0.5 * x)) : 0.0;
    for (std::size_t k = odd ? 1 : 0; k + 1 < count; k += 2) {
        share += term;
        term *= x / static_cast<double>(k + 2);
    }
    return share;
}

}  // namespace

double find_misfit_sum_limit(std::size_t count) {
    constexpr double wanted = 0.001;
    double low = 0.0, high = 20.0 + 10.0 * static_cast<double>(count);
    while (high - low > 1e-9) {
        const double middle = 0.5 * (low + high);
        (find_share_above(middle, count) > wanted ? low : high) = middle;
    }
    return high;
}

Eigen::VectorXd find_shifts(const Innovations& in, double tolerances) {
    return 2.0 * tolerances * in.errors.cwiseProduct(in.find_weight().diagonal().cwiseSqrt());
}

double find_correlation(const Eigen::MatrixXd& weight, Eigen::Index a, Eigen::Index b) {
    return weight(a, b) / std::sqrt(weight(a, a) * weight(b, b));
}

}  // namespace hitchwright
