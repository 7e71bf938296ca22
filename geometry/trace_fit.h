// How well one single change explains what was seen, and how far out it would have to be.
//
// What is seen differs from what the set-up says by errors of taking it and by the tolerances of all readings. With J
// the rates of the predictions, s = half the tolerances, R the errors squared, the differences have the covariance
//   C = J diag(s^2) J' + R                                        (first order, as error_band.h)
// A cause j out by d predicts f(d); its own tolerance is then no longer part of C. Misfit
//   Q(d) = min_y (y - f(d))' C_j^-1 (y - f(d)),   y: the values seen; for a complaint any y <= 0 (its margin is broken)
// The change is that of least misfit: scanned over the whole possible range in both senses, at steps that double from
// half a tolerance, then closed in on between neighbours. Nothing is linear in it. Complaints alone: the least change
// that breaks them, by bisection. Far from what is believed the readings' errors act otherwise: there C is taken anew
// at the change found, and the change closed in on again with it. The plausibility of a cause is its share of
//   weight x (how often a wrong reading is out by so much) x (how sharply what is seen fixes it) x exp(-Q/2)/sqrt|C_j|
// which is Bayes' rule with a Cauchy law for the size (Cause::usual_size) integrated about its best value; for one
// observation it falls with |change|/tolerance as a normal law would, but never so fast that a gross mistake counts as
// impossible.
#pragma once

#include <optional>
#include <vector>

#include "geometry/trace_rows.h"

namespace hitchwright {

/// One side of a cause: more or less than believed.
struct CauseSide {
    double change = 0.0;            ///< SI
    double misfit = 0.0;            ///< Q
    std::vector<double> predicted;  ///< each row with it
    double log_plausibility = 0.0;
};

/// What a cause comes to.
struct CauseFit {
    Cause cause;
    bool produces = false;  ///< it gives what is seen, within errors (Q at most find_cause_limit)
    bool matters = false;   ///< it moves any of the rows at all
    bool closes = true;     ///< false: with it (or with nearly all amounts of it) the machine has no such pose
    CauseSide best;         ///< by amount: the better side; what it can do at most where it does not produce it
    std::optional<CauseSide> other;  ///< the other side, where it too produces it
    double tolerances = 0.0;         ///< |change| in tolerances; 0 for a slip
    double share = 0.0;              ///< of the plausibility of all that produce it, 0 to 1
};

/// One cause against the rows. `index`: of it in the list the rows were made with.
CauseFit fit_cause(TraceBench& bench, const TraceRows& rows, const Cause& cause, std::size_t index);

/// Greatest misfit of a cause that is said to give what is seen. A size that is fitted takes up one observation, but
/// of a single one.
double find_cause_limit(std::size_t rows, bool by_amount);
}  // namespace hitchwright
