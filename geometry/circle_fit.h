// The circle through measured points: centre and radius with their errors, and the point that does not belong.
//
// Least squares of the orthogonal distances d_i = |p_i - c| - R, each over its own error in the direction of the normal,
// s_i^2 = (n_x sigma_x)^2 + (n_z sigma_z)^2, with what is known of c and R besides as normal priors. Start: algebraic fit
// (G. Taubin, IEEE PAMI 13 (1991) 1115; N. Chernov, Circular and Linear Regression, CRC 2010, ch. 5), then
// Levenberg-Marquardt (Chernov, ch. 4). Covariance (J'WJ)^-1. A point is doubted by its normalised residual
// d_i / (s_i sqrt(1 - h_ii)), h the leverage (W. Baarda, A testing procedure for use in geodetic networks, 1968).
// An arc too short to tell its curvature is refused: the numbers of such a fit mean nothing, however small its residuals.
#pragma once

#include <optional>
#include <vector>

#include <Eigen/Core>

#include "geometry/point.h"

namespace hitchwright {

/// A measured point, m, with one sigma of each coordinate (independent, above 0).
struct CirclePoint {
    Point at = Point::Zero();
    double sigma_x = 0.0, sigma_z = 0.0;
};

/// What is known of a number besides: normal, mean and one sigma (above 0), m.
struct NormalPrior {
    double mean = 0.0, sigma = 0.0;
};

/// Priors of the circle; nothing: not known.
struct CirclePriors {
    std::optional<NormalPrior> x, z, radius;
};

/// What became of a fit.
enum class CircleFitStatus {
    ok,
    not_finite,  ///< a number is not finite, or a sigma not above 0
    too_few,     ///< fewer than three points
    coincident,  ///< the points stand at fewer than three places
    too_straight ///< the arc is too short: the curvature is not known to `radius_doubt_most`
};

/// 95 % error of the radius over the radius beyond which a fit is refused: an error carried to first order is then
/// wrong by a third of itself, since 1/R, not R, is what the points tell.
inline constexpr double radius_doubt_most = 0.25;

/// Normalised residual beyond which a point is doubted: one in a thousand sound points reaches it (two-sided normal).
inline constexpr double residual_doubt = 3.29;

/// How far one observation (a point, or a prior) stands from what the others say.
struct FitCheck {
    double off = 0.0;         ///< m, from the circle (outside positive), or prior less fit, all others deciding
    double allowed = 0.0;     ///< m, 95 % error of `off`
    double normalised = 0.0;  ///< off over its sigma; 0 when the others leave no check
    bool checked = false;     ///< false: the others do not decide it
};

/// A fitted circle. With `too_straight` the arc is described (arc, departure, needed), centre and radius are as fitted
/// when `converged`; other refusals leave all zero.
struct CircleFit {
    CircleFitStatus status = CircleFitStatus::not_finite;
    bool converged = false;
    Point centre = Point::Zero();
    double radius = 0.0;
    Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();  ///< of (centre x, centre z, radius), one sigma squared, m^2
    std::vector<double> residuals;                         ///< d_i, m, outside positive
    std::vector<FitCheck> checks;                          ///< of each point
    FitCheck check_x, check_z, check_radius;               ///< of each prior; unchecked without one
    int freedom = 0;                                       ///< points and priors beyond three
    double chi_square = 0.0;
    double arc = 0.0;               ///< rad, least sector seen from the centre that holds all points
    double departure = 0.0;         ///< m, how far the arc stands off its chord
    double arc_needed = 0.0;        ///< rad, arc over the same chord that these errors can tell from a line
    double departure_needed = 0.0;  ///< m, the same as a departure

    /// 95 % error (two sigma) of a member of (x, z, radius), m.
    double error(int member) const;
};

/// Fits a circle to points, with priors.
CircleFit fit_circle(const std::vector<CirclePoint>& points, const CirclePriors& priors = {});

/// Points doubted, worst first: those whose normalised residual passes `residual_doubt`. With one degree of freedom all
/// points share one residual, so that the list names them all: one of them is wrong.
std::vector<std::size_t> find_doubted_points(const CircleFit& fit);

}  // namespace hitchwright
