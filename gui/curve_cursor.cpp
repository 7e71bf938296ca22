// See curve_cursor.h.
#include "gui/curve_cursor.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/drawn_ghost.h"

namespace hitchwright {
namespace {

PoseReport shown_pose(const AppState& app) {
    return make_pose_report(app.now.setup, app.results.analysis.linkage->model, shown_ball_height(app));
}

bool is_current(const CurveState& c, const AppState& app, double pitch, double roll) {
    return c.revision == app.results.revision && c.units == app.view.units && c.pitch == pitch && c.roll == roll;
}

}  // namespace

std::optional<CurveRange> find_curve_range(const AppState& app) {
    const Analysis& a = app.results.analysis;
    if (a.drawn && a.drawn->model.has_shaft) return CurveRange{a.drawn->model.box.yaw.low, a.drawn->model.box.yaw.high};
    if (a.linkage) return CurveRange{a.linkage->model.travel.low, a.linkage->model.travel.high};
    return std::nullopt;
}

double find_curve_cursor(const AppState& app) {
    return app.results.analysis.drawn ? find_shown_attitude(app).yaw : shown_ball_height(app);
}

void move_curve_cursor(AppState& app, double to) {
    const std::optional<CurveRange> range = find_curve_range(app);
    if (!range) return;
    const double inside = std::clamp(to, range->low, range->high);
    if (!app.results.analysis.drawn) {
        app.view.ball_height = inside;
        return;
    }
    Attitude a = find_shown_attitude(app);
    a.yaw = inside;
    app.view.attitude = a;
}

const std::vector<CurvePanel>& list_curves(AppState& app, bool in_haste) {
    const Analysis& analysis = app.results.analysis;
    CurveState& c = app.view.curves;
    const Attitude a = analysis.drawn ? find_shown_attitude(app) : Attitude{};
    const bool lacks_bands = analysis.linkage && !c.has_bands && !in_haste;
    if (is_current(c, app, a.pitch, a.roll) && !lacks_bands) return c.panels;
    c.revision = app.results.revision;
    c.units = app.view.units;
    c.pitch = a.pitch;
    c.roll = a.roll;
    c.has_bands = analysis.linkage && !in_haste;
    const CurveBands bands = c.has_bands ? find_curve_bands(app.now.setup, analysis) : CurveBands{};
    c.panels = analysis.drawn ? make_turn_panels(app.now.setup, *analysis.drawn, a.pitch, a.roll, c.units)
                              : make_travel_panels(app.now.setup, analysis, c.units, c.has_bands ? &bands : nullptr);
    c.placed.assign(c.panels.size(), {});
    return c.panels;
}

CurveWords say_at_cursor(const AppState& app, CurveKind kind) {
    const Analysis& analysis = app.results.analysis;
    if (analysis.drawn)
        return say_turn_curve(kind, app.now.setup, *analysis.drawn, find_shown_attitude(app), app.view.units);
    return say_curve(kind, app.now.setup, analysis, shown_pose(app), app.view.units, app.results.bands ? &*app.results.bands : nullptr);
}

std::optional<double> find_value_at_cursor(const AppState& app, TravelQuantity quantity) {
    const Analysis& analysis = app.results.analysis;
    if (analysis.drawn) return find_turn_quantity(*analysis.drawn, find_shown_attitude(app), quantity);
    return find_travel_quantity(app.now.setup, analysis, shown_pose(app), quantity);
}

std::vector<TravelQuantity> list_quantities(CurveKind kind) {
    switch (kind) {
        case CurveKind::pitch:
            return {TravelQuantity::pitch};
        case CurveKind::tail_height:
            return {TravelQuantity::tail_height, TravelQuantity::lowest_height};
        case CurveKind::shaft_length:
            return {TravelQuantity::shaft_length};
        case CurveKind::joint_angles:
            return {TravelQuantity::tractor_joint, TravelQuantity::implement_joint};
        case CurveKind::overlap:
            return {TravelQuantity::overlap};
        case CurveKind::lift:
            return {TravelQuantity::capacity};
    }
    return {};
}

std::string say_cursor(const AppState& app) {
    const double at = find_curve_cursor(app);
    if (!app.results.analysis.drawn) return "ball height " + format_length(at, app.view.units);
    const std::string angle = format_angle(std::fabs(at));
    if (angle == format_angle(0.0)) return "turn 0.0 deg, straight";
    return fmt::format("turn {} to the {}", angle, at > 0.0 ? "right" : "left");
}

}  // namespace hitchwright
