// Observations that can be reckoned, with what they would scatter by, and the misfit of predictions with them.
//
// Covariance and misfit as in trace_fit.h: C from the rates of the predictions, the tolerances of all readings and the
// errors of taking; for a complaint the value seen is any that breaks its margin.
#pragma once

#include <Eigen/Dense>

#include <string>
#include <vector>

#include "geometry/trace_cause.h"
#include "geometry/trace_seen.h"

namespace hitchwright {

/// One observation that can be reckoned.
struct SeenRow {
    Seen seen;
    double believed = 0.0;  ///< what the set-up says (a complaint: margin)
    double target = 0.0;    ///< what was seen; a complaint: its margin at most 0
    double band = 0.0;  ///< two sigma of the difference, tolerances of the readings and errors of taking it together
};

/// Observations with their covariance.
struct TraceRows {
    std::vector<SeenRow> rows;
    std::vector<Seen> seen;      ///< of the rows
    Eigen::MatrixXd covariance;  ///< C
    std::vector<Eigen::VectorXd>
        shares;  ///< one for each cause: what one sigma of it moves; zero where it is no reading
    const std::vector<Cause>* causes = nullptr;  ///< the list; must outlive the rows
    int measured = 0;                            ///< rows with a number
};

/// Rows, covariance and rates. Observations that cannot be reckoned are left out.
TraceRows make_trace_rows(TraceBench& bench, const std::vector<Cause>& causes, const std::vector<Seen>& seen);

/// Covariance about another machine than the believed one, `without` one cause. After a slip (`without` null) every
/// reading may count; else those that do on the believed machine, and those of the travel.
Eigen::MatrixXd make_covariance(const TraceMachine& machine, const TraceRows& rows, const Cause* without);

/// A covariance turned over, with the logarithm of the determinant of its measured rows.
struct TraceWeights {
    Eigen::MatrixXd inverse;
    double log_determinant = 0.0;
};
TraceWeights make_trace_weights(const TraceRows& rows, const Eigen::MatrixXd& covariance);

/// Misfit of predictions `f`, one for each row.
double find_misfit(const TraceRows& rows, const Eigen::MatrixXd& inverse, const std::vector<double>& f);

/// Misfit of the believed machine itself.
double find_believed_misfit(const TraceRows& rows);

/// Greatest misfit of `rows` observations that chance still explains: chi-square at five sigma of the normal law (Wilson and
/// Hilferty). So wide that a true cause is not dropped from the list where errors are not quite normal; it does not order anything.
double find_misfit_limit(std::size_t rows);
/// Greatest misfit as find_misfit_limit, once in 20: differences within it need no cause.
double find_usual_misfit(std::size_t rows);

}  // namespace hitchwright
