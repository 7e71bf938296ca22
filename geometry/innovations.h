// Direct readings against the model before it is fitted: what was read less what is predicted, with its covariance.
//
// Two-sigma units throughout (model_fit.h): S = J J' + R. From it come the fit's weight, each reading's misfit w, the whole
// misfit (chi-square), and how far an error in a reading would shift its w.
#pragma once

#include <vector>

#include <Eigen/Core>

namespace hitchwright {

/// Rows: readings; columns of `slopes`: errors of the set-up's readings.
struct Innovations {
    Eigen::MatrixXd slopes;   ///< J, SI for each two-sigma error
    Eigen::VectorXd errors;   ///< of the direct readings alone, two sigma
    Eigen::VectorXd off;      ///< read less predicted

    /// The rows named.
    Innovations pick(const std::vector<std::size_t>& rows) const;
    /// W, the inverse of S.
    Eigen::MatrixXd find_weight() const;
};

/// w of each reading against all others, standard deviations.
Eigen::VectorXd find_misfits(const Innovations& innovations);
/// Chi-square of all together.
double find_misfit_sum(const Innovations& innovations);
/// The chi-square that one in a thousand sound sets of `count` readings exceeds.
double find_misfit_sum_limit(std::size_t count);
/// Shift of each reading's w when it is off by `tolerances` of its own errors.
Eigen::VectorXd find_shifts(const Innovations& innovations, double tolerances);
/// Correlation of the w of two readings, -1 to 1: near 1 the readings do not tell which of both is wrong.
double find_correlation(const Eigen::MatrixXd& weight, Eigen::Index a, Eigen::Index b);

}  // namespace hitchwright
