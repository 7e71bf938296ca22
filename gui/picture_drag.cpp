// See picture_drag.h.
#include "gui/picture_drag.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/drawn_model.h"
#include "gui/rod_edits.h"
#include "gui/screen.h"
#include "report/picture_sizes.h"

namespace hitchwright {
namespace {

constexpr std::string_view pulled_origin = "assumed";  // nobody measured where the mouse was

Point to_point(DrawingPoint p) { return {p.x, p.z}; }

PictureDrag& begin(AppState& app, PointDrag what, DrawingPoint place) {
    PictureDrag drag;
    drag.what = what;
    drag.now = place;
    drag.height = app.view.ball_height;
    drag.attitude = app.view.attitude;
    drag.sway = app.view.act.sway;
    app.view.act.drag = drag;
    app.view.act.stepped = -1;
    return *app.view.act.drag;
}

bool is_hole_of(const PicturePoint& point, PointDrag what) {
    if (point.hole.empty()) return false;
    const std::string_view list = what == PointDrag::tractor_hole ? "tractor.upper_link_pin[" : what == PointDrag::mast_hole ? "implement.mast_pin[" : "tractor.drawbar_pin[";
    return !point.keys.empty() && point.keys.front().starts_with(list);
}

void pull_hole(PictureState& act, const std::vector<PicturePoint>& points) {
    PictureDrag& d = *act.drag;
    double least = farthest_drawn;
    d.target = -1;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!is_hole_of(points[i], d.what)) continue;
        const double off = find_distance(points[i].at, d.now).straight;
        if (off < least) least = off, d.target = static_cast<int>(i);
    }
    if (d.target >= 0) act.said = points[static_cast<std::size_t>(d.target)].name + (points[static_cast<std::size_t>(d.target)].chosen ? ", in use: let go to stay" : ": let go to take it");
}

void pull_readings(AppState& app) {
    PictureDrag& d = *app.view.act.drag;
    const double step = drag_step(app.view.units);
    DrawingPoint r = find_readings_at(d.point, d.now);
    r = {make_length_text(r.x, app.view.units, step).second, make_length_text(r.z, app.view.units, step).second};
    d.now = find_place_of(d.point, r);
    const auto last = [](const std::string& key) { return key.substr(key.rfind('.') + 1); };
    app.view.act.said = fmt::format("{}: {} {}, {} {}", d.point.name, last(d.point.x_key), format_length(r.x, app.view.units), last(d.point.z_key),
                                    format_length(r.z, app.view.units));
}

/// Which rod a pull at a ball is about.
TractorSide side_of(PointDrag what) { return what == PointDrag::right_lift_rod ? TractorSide::right : TractorSide::left; }

bool is_rod(PointDrag what) { return what == PointDrag::right_lift_rod || what == PointDrag::left_lift_rod; }

/// The rod that puts its ball there, the arms staying; the ball follows what the length is rounded to.
void pull_rod(AppState& app) {
    PictureDrag& d = *app.view.act.drag;
    d.rod.reset();
    if (!app.results.analysis.linkage) return;
    const MountedModel& m = app.results.analysis.linkage->model;
    const TractorSide side = side_of(d.what);
    const std::optional<double> length = find_rod_for_ball(m, find_space_pose(m, shown_place(app)), side, d.now.z);
    if (length) d.rod = make_length_text(*length, app.view.units, drag_step(app.view.units)).second;
    app.view.act.said = say_rod_length(app, side, d.rod);
}

void pull_sway(AppState& app) {
    const PictureDrag& d = *app.view.act.drag;
    app.view.act.sway = d.now.x;
    app.view.act.sway = shown_place(app).sway;
    app.view.act.said = say_sway(app);
}

void pull_height(AppState& app, DrawingPoint place) {
    const PictureDrag& d = *app.view.act.drag;
    if (!app.results.analysis.linkage) return;
    const HeightRange& travel = app.results.analysis.linkage->model.travel;
    app.view.ball_height = std::clamp(d.grip.z + place.z, travel.low, travel.high);
}

void pull_turn(AppState& app, DrawingPoint place, DrawingPoint hitch) {
    const auto& drawn = app.results.analysis.drawn;
    if (!drawn) return;
    const PictureDrag& d = *app.view.act.drag;
    const DrawnModel& m = drawn->model;
    const auto angle = [&](DrawingPoint p) { return std::atan2(p.z - hitch.z, p.x - hitch.x); };
    Attitude a = d.attitude.value_or(Attitude{m.level_pitch, 0.0, 0.0});
    const bool above = app.view.drawn_picture == DrawnPicture::plan;
    const AngleRange& range = above ? m.box.yaw : m.box.pitch;
    double& turned = above ? a.yaw : a.pitch;
    turned = std::clamp(turned + std::remainder(angle(place) - angle(d.point.at), 2.0 * 3.14159265358979323846), range.low, range.high);
    app.view.attitude = a;
}

bool report_refusal(AppState& app, const std::vector<Problem>& problems) {
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
    return problems.empty();
}

void change_ditch(AppState& app, const PictureDrag& d) {
    const std::string before = ditch_value(app.now.setup.choices.drawn.ditch, *d.ditch, app.view.units), value = ditch_value(d.ditch_now, *d.ditch, app.view.units);
    if (before != value) report_refusal(app, change_edits(app, with_field(app.now.edits, ditch_key(*d.ditch), value, pulled_origin)));
}

}  // namespace

bool grab_point(AppState& app, const PicturePoint& point, DrawingPoint place) {
    if (point.drag == PointDrag::none) return false;
    if (point.drag == PointDrag::lift) grab_lift(app, Carrier::lower_link, place);
    else if (point.drag == PointDrag::turn) grab_turn(app, place);
    else {
        PictureDrag& d = begin(app, point.drag, point.at);
        d.point = point;
        d.grip = {point.at.x - place.x, point.at.z - place.z};
    }
    return true;
}

void grab_lift(AppState& app, Carrier carrier, DrawingPoint place) {
    if (!app.results.analysis.linkage) return;
    PictureDrag& d = begin(app, PointDrag::lift, place);
    d.held = hold_point(app.now.setup, app.results.analysis.linkage->model, shown_ball_height(app), to_point(place), carrier);
}

void grab_height(AppState& app, DrawingPoint place) {
    if (!app.results.analysis.linkage) return;
    begin(app, PointDrag::lift, place).grip = {0.0, shown_ball_height(app) - place.z};
}

void grab_turn(AppState& app, DrawingPoint place) { begin(app, PointDrag::turn, place).point.at = place; }

void grab_ditch(AppState& app, DitchMeasure measure) {
    PictureDrag& d = begin(app, PointDrag::readings, {});
    d.ditch = measure;
    d.ditch_now = app.now.setup.choices.drawn.ditch;
}

void pull_to(AppState& app, const std::vector<PicturePoint>& points, DrawingPoint place, DrawingPoint hitch) {
    PictureState& act = app.view.act;
    if (!act.drag) return;
    PictureDrag& d = *act.drag;
    if (d.ditch) {
        d.ditch_now = pull_handle(app.now.setup.choices.drawn.ditch, *d.ditch, place, app.view.units);
        act.said = say_ditch_measure(d.ditch_now, *d.ditch, app.view.units);
        return;
    }
    d.now = {place.x + d.grip.x, place.z + d.grip.z};
    switch (d.what) {
        case PointDrag::lift:
            if (app.view.act.switches.mounted == MountedPicture::rear) pull_height(app, place);
            else if (app.results.analysis.linkage)
                app.view.ball_height = find_nearest_height(app.now.setup, app.results.analysis.linkage->model, d.held, to_point(place));
            break;
        case PointDrag::turn: pull_turn(app, place, hitch); break;
        case PointDrag::tractor_hole:
        case PointDrag::mast_hole:
        case PointDrag::drawbar_pin: pull_hole(act, points); break;
        case PointDrag::left_lift_rod:
        case PointDrag::right_lift_rod: pull_rod(app); break;
        case PointDrag::sway: pull_sway(app); break;
        case PointDrag::readings: pull_readings(app); break;
        case PointDrag::none: break;
    }
}

void let_go(AppState& app, const std::vector<PicturePoint>& points) {
    PictureState& act = app.view.act;
    if (!act.drag) return;
    const PictureDrag d = *std::exchange(act.drag, std::nullopt);
    act.said.clear();
    if (d.ditch) return change_ditch(app, d);
    const bool hole = d.what == PointDrag::tractor_hole || d.what == PointDrag::mast_hole || d.what == PointDrag::drawbar_pin;
    if (hole && d.target >= 0 && static_cast<std::size_t>(d.target) < points.size()) take_hole(app, PicturePoint(points[static_cast<std::size_t>(d.target)]));
    if (is_rod(d.what) && d.rod) report_refusal(app, change_rod(app, side_of(d.what), *d.rod, pulled_origin));
    if (d.what == PointDrag::readings && !(d.now == d.point.at)) change_readings(app, d.point, d.now);
}

void cancel_pull(AppState& app) {
    PictureState& act = app.view.act;
    if (!act.drag) return;
    if (act.drag->what == PointDrag::lift) app.view.ball_height = act.drag->height;
    if (act.drag->what == PointDrag::sway) act.sway = act.drag->sway;
    if (act.drag->what == PointDrag::turn) app.view.attitude = act.drag->attitude;
    act.drag.reset();
    act.said.clear();
    act.cancelled = true;
}

bool take_hole(AppState& app, const PicturePoint& hole) {
    if (hole.chosen) return true;
    if (is_hole_of(hole, PointDrag::drawbar_pin)) return report_refusal(app, change_value(app, "choices.drawbar_pin", hole.hole));
    if (!app.results.analysis.linkage) return false;
    const MountedModel& m = app.results.analysis.linkage->model;
    HoleCombination wanted{m.tractor_pin, m.mast_pin, 0};
    const std::vector<LiftRodHole>& rods = app.now.setup.tractor.lift_rod_holes;
    for (std::size_t i = 0; i < rods.size(); ++i) {
        if (rods[i].name == m.rod_hole) wanted.rod_hole = i;
    }
    (is_hole_of(hole, PointDrag::tractor_hole) ? wanted.tractor_pin : wanted.mast_pin) = hole.hole_index;
    return report_refusal(app, change_holes(app, wanted));
}

bool change_readings(AppState& app, const PicturePoint& point, DrawingPoint place) {
    const double step = drag_step(app.view.units);
    const DrawingPoint wanted = find_readings_at(point, place), before = find_readings_at(point, point.at);
    Edits edits = app.now.edits;
    const auto put = [&](const std::string& key, double value, double old) {
        const auto [text, rounded] = make_length_text(value, app.view.units, step);
        if (std::fabs(rounded - old) > 0.5 * step) edits = with_field(std::move(edits), key, text, pulled_origin);
    };
    put(point.x_key, wanted.x, before.x);
    put(point.z_key, wanted.z, before.z);
    return edits == app.now.edits || report_refusal(app, change_edits(app, std::move(edits)));
}

}  // namespace hitchwright
