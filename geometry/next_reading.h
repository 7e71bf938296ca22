// Which reading would narrow a number most, and how well readings have to be taken again to settle it.
//
// A reading with slopes j and error r (two-sigma units, error_model.h) takes (s C j)^2 / (j C j + r^2) off the square of the
// width of a number with slopes s; C: covariance of the errors as it is.
#pragma once

#include <vector>

#include "geometry/candidate_readings.h"
#include "geometry/error_model.h"
#include "geometry/finding.h"
#include "geometry/model_fit.h"

namespace hitchwright {

/// One reading to take again, and how well: two sigma.
struct Retake {
    std::string key;
    double error = 0.0;  ///< SI, in the reading's own unit
    bool operator==(const Retake&) const = default;
};

/// The fewest readings, widest first, that bring a band below |margin| when taken again with equal care; each error is found so
/// that it just does. Empty: not even three readings taken four times as well would.
std::vector<Retake> plan_retakes(const ErrorModel& errors, const ErrorBand& band, double margin);

/// The candidates of list_candidates(errors) that narrow a number with these slopes, best first; at most `most`.
std::vector<NextReading> list_next_readings(const ErrorModel& errors, const std::vector<CandidateReading>& candidates,
                                            const std::vector<double>& slopes, std::size_t most);

/// The finding that decides the verdict by its error: the worst that is too close to call, else the one whose margin is the
/// least part of its band; nothing where no finding that decides anything has one.
const Finding* find_decisive(const std::vector<Finding>& findings);

}  // namespace hitchwright
