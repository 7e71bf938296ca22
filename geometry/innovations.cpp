#include "geometry/innovations.h"

#include <cmath>

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
    s.diagonal() += errors.cwiseAbs2();
    return s.llt().solve(Eigen::MatrixXd::Identity(s.rows(), s.cols()));
}

Eigen::VectorXd find_misfits(const Innovations& in) {
    const Eigen::MatrixXd weight = in.find_weight();
    return 2.0 * (weight * in.off).cwiseQuotient(weight.diagonal().cwiseSqrt());
}

double find_misfit_sum(const Innovations& in) { return 4.0 * in.off.dot(in.find_weight() * in.off); }

double find_misfit_sum_limit(std::size_t count) {
    constexpr double quantile = 3.0902;  // of a standard normal, one in a thousand above it
    const double n = static_cast<double>(count), share = 2.0 / (9.0 * n);
    const double root = 1.0 - share + quantile * std::sqrt(share);
    return n * root * root * root;
}

Eigen::VectorXd find_shifts(const Innovations& in, double tolerances) {
    return 2.0 * tolerances * in.errors.cwiseProduct(in.find_weight().diagonal().cwiseSqrt());
}

double find_correlation(const Eigen::MatrixXd& weight, Eigen::Index a, Eigen::Index b) {
    return weight(a, b) / std::sqrt(weight(a, a) * weight(b, b));
}

}  // namespace hitchwright
