// Pins nobody can tape, from where a ball stands at several heights of the lift: the front pivot of the lower link and
// its length, and with the lift arm's angles the lift rod and its pin.
//
// The balls move on a circle about the pivot: centre (pivot_x, pivot_z), radius c' (projected; the length follows with the
// half-spreads). Seen from the link, the arm end E moves on a circle about the rod pin: with the link turned back by its
// angle phi, E' = R(-phi)(E - P) has the centre (r', s) and the radius d' (projected rod). Both by circle_fit.h.
// What was taped of these values, with an error, enters as a normal prior: neither hides the other, and both are
// compared; one that contradicts the ball readings is left out of the fit and named. Values from presets or assumed ones
// are no readings and give way. Ball readings that do not fit are left out and named. Frame T; tolerances are two sigma.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "geometry/circle_fit.h"
#include "geometry/setup.h"

namespace hitchwright {

/// Which ball readings a fit rests on. Kept when readings are moved by their tolerances, so that a band is that of the
/// values used and not of a decision.
struct PinDecision {
    bool use_pivot = false, use_rod = false;
    std::vector<bool> left_out;  ///< one for each ball reading
    /// Taped pivot_x, pivot_z and length that the ball readings contradict, left out of the fit.
    std::array<bool, 3> tape_left_out{};
    bool operator==(const PinDecision&) const = default;
};

/// A taped value against what the ball readings, with the other taped values, say of it.
struct TapedAgainstFit {
    std::string key;          ///< dotted key of the taped reading
    double apart = 0.0;       ///< m, taped less fitted without it
    double allowed = 0.0;     ///< m, 95 % error of that difference, of both together
    bool agrees = true;       ///< false: farther apart than one sound pair in a thousand
    bool operator==(const TapedAgainstFit&) const = default;
};

/// Why the lift rod is not computed.
enum class RodStatus {
    ok,
    not_asked,     ///< no arm angle beside any ball reading
    arm_unknown,   ///< pivot, length or half-spread of the lift arm, or a spread of the lower link, is not given
    pivot_unknown, ///< no pivot to start from
    too_few,       ///< fewer than three arm angles
    too_straight,  ///< rod and link turn too little against each other
    impossible     ///< lengths that no rod can have
};

/// What the ball readings say. Without any, `asked` is false and nothing else holds.
struct HiddenPins {
    bool asked = false;
    CircleFit pivot;                 ///< with the readings left out gone
    std::vector<FitCheck> readings;  ///< each ball reading against the others; of those left out, against the circle of the rest
    bool one_is_wrong = false;       ///< readings contradict each other and too few are there to tell which
    PinDecision decision;
    Reading pivot_x, pivot_z, projected_length;  ///< known when decision.use_pivot; origin computed
    Reading length;                              ///< known when the half-spreads are known besides
    std::vector<TapedAgainstFit> taped;

    RodStatus rod_status = RodStatus::not_asked;
    CircleFit rod;
    Reading rod_length, rod_pin_along, rod_pin_off;  ///< known when decision.use_rod
    int arm_angles = 0;                              ///< how many of the readings have one
};

/// Fits the hidden pins of a tractor. `decided`: take this decision instead of judging the readings anew.
HiddenPins find_hidden_pins(const Tractor& tractor, const PinDecision* decided = nullptr);

/// The tractor with the fitted values in place of what was taped or missing; as it is where nothing could be fitted.
Tractor apply_hidden_pins(const Tractor& tractor, const HiddenPins& pins);

/// Tolerances (two sigma) of the rod's values by moving every reading they rest on, for a report.
void find_rod_errors(const Tractor& tractor, HiddenPins& pins);

/// Ball readings a pivot needs at least.
inline constexpr std::size_t least_ball_readings = 3;

}  // namespace hitchwright
