// The cursor that all lines share: a ball height of a mounted set-up, a turn of a drawn one. It is the position of the
// machine itself, so that charts, picture and slider always show the same.
#pragma once

#include <optional>
#include <string>

#include "geometry/travel_quantity.h"
#include "gui/app_state.h"
#include "report/curve_words.h"

namespace hitchwright {

/// Where the cursor can be.
struct CurveRange {
    double low = 0.0, high = 0.0;  ///< m of ball height, or rad of turn
    bool operator==(const CurveRange&) const = default;
};

/// The range; nothing where there are no lines.
std::optional<CurveRange> find_curve_range(const AppState& app);

/// Place of the cursor: of the machine as shown.
double find_curve_cursor(const AppState& app);

/// Moves the machine there, inside the range.
void move_curve_cursor(AppState& app, double to);

/// The panels of the set-up as it is now; made once for a state of it. `in_haste`: without the bands, while every frame has
/// another set-up.
const std::vector<CurvePanel>& list_curves(AppState& app, bool in_haste = false);

/// What a panel says at the cursor, and the value of one of its quantities there: from the pose, not from the line.
CurveWords say_at_cursor(const AppState& app, CurveKind kind);
std::optional<double> find_value_at_cursor(const AppState& app, TravelQuantity quantity);

/// The quantities a panel draws, in the order of its lines.
std::vector<TravelQuantity> list_quantities(CurveKind kind);

/// "ball height 15 in", "turn 12.0 deg to the right".
std::string say_cursor(const AppState& app);

}  // namespace hitchwright
