// The model fitted to what was read directly on the coupled machine: weighted least squares with normal priors.
//
// Unknowns: the errors u of all readings (error_model.h), prior N(0, sigma = half the tolerance), no hard bounds. A direct
// reading y_j with error r_j (two sigma) is simulated as it was taken, h_j(u): distances between their own points, at the
// ball height they were taken at, whose error is among the u. Minimised is |2 u|^2 + sum ((y_j - h_j(u)) 2 / r_j)^2, by
// Gauss-Newton from slopes J at the estimate; the innovations have the covariance S = J J' + R (two-sigma units).
//
// What does not fit is not absorbed: w_j = (S^-1 d)_j / sqrt((S^-1)_jj), d: read less predicted, is standard normal for a sound
// reading (times two in these units); beyond `misfit_limit` the worst is left out and the rest fitted anew. An error e in
// reading j shifts w_j by e sqrt((S^-1)_jj): that gives the chance that it is caught. Lengths m, angles rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/direct_check.h"
#include "geometry/error_model.h"
#include "geometry/setup.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// Standard deviations: one in a thousand sound readings is called a misfit.
inline constexpr double misfit_limit = 3.29;
/// The wrong reading that must be caught: off by this many of its tolerances.
inline constexpr double gross_tolerances = 4.0;
/// A reading is checkable when an error of `gross_tolerances` in it is caught at least this often.
inline constexpr double checkable_chance = 0.95;

/// What is read directly on the coupled machine.
enum class DirectKind { shaft_length, pitch, tail_height, upper_link_length, lowest_ball_height, greatest_ball_height };

/// One direct reading against the model.
struct FittedReading {
    std::string key;   ///< "direct_reading[low]", "pose_reading[2]", "turn_reading[left]"
    DirectKind kind{};
    Dimension dimension = Dimension::length;
    double ball_height = 0.0;  ///< where it was taken, m; 0 for the two ball heights and drawn implements
    double turn = 0.0;         ///< drawn: rad, right positive
    double read = 0.0;         ///< SI
    double error = 0.0;        ///< of the reading itself, two sigma
    double predicted = 0.0;    ///< by the readings as they are in the files
    double band = 0.0;         ///< 95 %, of read less predicted
    double fitted = 0.0;       ///< by the fitted model
    double misfit = 0.0;       ///< w, standard deviations, against all other readings together; of one left out: against the fit
    bool fits = true;          ///< false: left out of the fit
    bool simulated = true;     ///< false: the model does not close there, or a distance at a joint is missing; then not fitted
    bool tells = true;         ///< false: a floating link explains it by itself, whatever the other readings are
    double chance_caught = 0.0;  ///< that an error of four tolerances in it would have been found
    std::string widest;          ///< the reading of the files that moves `predicted` most
};

/// A reading of the files and what the fit makes of it.
struct FittedInput {
    std::string key;
    Dimension dimension = Dimension::length;
    double read = 0.0, fitted = 0.0;          ///< SI
    double error = 0.0, error_after = 0.0;    ///< two sigma, before and after
    bool beyond = false;                      ///< moved by more than its tolerance
};

/// A reading that could be taken next.
struct NextReading {
    DirectKind kind{};
    bool again = false;       ///< `key` taken once more, instead of something new
    std::string key;          ///< again: of the files
    Dimension dimension = Dimension::length;
    double ball_height = 0.0; ///< m; not for the two ball heights
    bool at_turn = false;     ///< drawn: at `turn` instead
    double turn = 0.0;        ///< rad, right positive
    std::string point;        ///< tail_height: outline point
    LengthReference reference = LengthReference::joint_centres;  ///< shaft_length: between which points
    double error = 0.0;       ///< two sigma it is taken with
    double band_now = 0.0, band_after = 0.0;  ///< of the number asked about
    double chance_caught = 0.0;               ///< where it was asked to make another reading checkable: then
};

struct ModelFit {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(ModelFit);
    std::vector<FittedReading> readings;
    bool used = false;         ///< the answer comes from the fitted model: more readings fit than not, together and each by itself
    bool too_far = false;      ///< they agree with each other, and stand farther from the model than all errors explain
    double misfit_sum = 0.0;   ///< chi-square of the readings kept
    int kept = 0;              ///< how many
    std::vector<FittedInput> inputs;  ///< farthest moved for their error first; moved by a tenth of it or more
    ErrorNarrowing narrowing;         ///< by the readings of ErrorModel(fitted)
    DirectCause cause = DirectCause::unknown;  ///< of what does not fit
    LengthReference points{};                  ///< other_points
    std::string subject;                       ///< key of the one reading, or name of the hole
    std::vector<std::string> equally;          ///< keys that could be as wrong as the one left out: the readings do not tell which
    std::optional<NextReading> would_check;    ///< makes the least checkable reading checkable
};

/// The fit and the set-up with its readings as fitted.
struct FittedSetup {
    ModelFit fit;
    Setup setup;
};

/// Fits a set-up to its direct, pose and turn readings; nothing when there is none that can be simulated.
std::optional<FittedSetup> fit_model(const Setup& setup);

/// The set-up with its readings as fitted and the direct readings taken out, for asking what another part or hole would do; with
/// its readings as they are where nothing was fitted.
Setup apply_fit(const Setup& setup);

/// Chance that an error that shifts a standard normal by `shift` is caught at `misfit_limit`.
double find_chance_caught(double shift);

}  // namespace hitchwright
