// See rod_edits.h.
#include "gui/rod_edits.h"

#include <fmt/format.h>

#include <cmath>

#include "report/picture_points.h"
#include "report/safe_words.h"
#include "report/space_text.h"

namespace hitchwright {
namespace {

constexpr double same_length = 1e-7;  // m

bool has_screw(LevellingRod rod, TractorSide side) { return rod == LevellingRod::both || (rod == LevellingRod::left) == (side == TractorSide::left); }

/// Turns of a screw are no whole marks: more digits than a tape has.
std::string exact_length(double metres, UnitSystem units) {
    return units == UnitSystem::millimetre ? fmt::format("{:.9g} mm", metres * 1000.0) : fmt::format("{:.9g} in", metres / metres_per_inch);
}

}  // namespace

const char* rod_key(TractorSide side) { return side == TractorSide::right ? "choices.right_lift_rod_length" : "choices.left_lift_rod_length"; }

std::optional<double> find_rod_as_set(const AppState& app, TractorSide side) {
    if (!app.results.analysis.linkage || !app.results.analysis.linkage->model.space.has_rods) return std::nullopt;
    const LiftRods& rods = app.results.analysis.linkage->model.space.rods;
    return side == TractorSide::right ? rods.right_length : rods.left_length;
}

RodStep find_rod_step(const AppState& app, TractorSide side) {
    const LiftRodReadings& r = app.now.setup.tractor.lift_rod;
    if (has_screw(r.levelling, side) && r.advance_per_turn.known) return {r.advance_per_turn.value, true};
    return {drag_step(app.view.units), false};
}

std::vector<Problem> change_rod(AppState& app, TractorSide side, double length, std::string_view origin) {
    const std::optional<double> now = find_rod_as_set(app, side);
    if (now && std::fabs(*now - length) < same_length) return {};
    return change_edits(app, with_field(app.now.edits, rod_key(side), exact_length(length, app.view.units), origin));
}

std::vector<Problem> turn_rod(AppState& app, TractorSide side, int steps) {
    const std::optional<double> now = find_rod_as_set(app, side);
    if (!now) {
        Problem none;
        none.message = "lift arm and lift rods are not known in full";
        return {none};
    }
    return change_rod(app, side, *now + steps * find_rod_step(app, side).length);
}

std::string say_rod_length(const AppState& app, TractorSide side, std::optional<double> length) {
    const char* const word = side == TractorSide::right ? "Right" : "Left";
    if (!length) return fmt::format("{} lift rod: no length puts the ball there", word);
    std::string text = fmt::format("{} lift rod {}", word, format_length(*length, app.view.units));
    const std::optional<double> now = find_rod_as_set(app, side);
    const RodStep step = find_rod_step(app, side);
    if (now && step.turn) text += ", " + format_rod_turns((*length - *now) / step.length);
    return text;
}

std::string say_sway(const AppState& app) {
    const SafeWords w{app.view.units};
    const double sway = shown_place(app).sway;
    if (w.place(std::fabs(sway)) == w.place(0.0)) return "Hitch centred";
    return fmt::format("Balls {} to the {} of the middle", w.place(std::fabs(sway)), sway > 0.0 ? "right" : "left");
}

}  // namespace hitchwright
