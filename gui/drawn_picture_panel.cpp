// A drawn implement from above, from the side, in the ditch, or its envelope. Pulling the implement turns it about the hitch,
// pulling the drawbar's pin takes another position; the rest pans. Wheel: zoom about the cursor. A press into the chart puts
// the implement at that turn and pitch.
#include <algorithm>
#include <cmath>

#include "gui/ditch_handle_panel.h"
#include "gui/ditch_march.h"
#include "gui/ditch_place.h"
#include "gui/drawn_ghost.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/picture_buttons.h"
#include "gui/picture_drag.h"
#include "gui/picture_hover.h"
#include "gui/word_room.h"
#include "report/ditch_view.h"
#include "report/drawn_view.h"
#include "report/envelope_chart.h"
#include "report/page_blocks.h"
#include "report/picture_sizes.h"

namespace hitchwright {
namespace {

constexpr double least_panel_mm = 15.0, chart_margin_mm = 3.0;

Drawing draw_attitude(const AppState& app, const Attitude& a) {
    const DrawnAnalysis& d = *app.results.analysis.drawn;
    const std::optional<DrawnGhost> ghost = find_drawn_ghost(app, a);
    const DrawnGhost* const other = ghost ? &*ghost : nullptr;
    return app.view.drawn_picture == DrawnPicture::plan ? draw_plan_view(app.now.setup, d, a, app.view.units, other)
                                                        : draw_drawn_side_view(app.now.setup, d, a, app.view.units, other);
}

Drawing make_drawing(const AppState& app) {
    if (app.view.drawn_picture != DrawnPicture::ditch) return draw_attitude(app, find_shown_attitude(app));
    const DitchStation* station = find_shown_station(app);
    if (!station) return {};
    const std::optional<DitchGhost> ghost = find_ditch_ghost(app, *station);
    return draw_ditch_view(app.now.setup, *app.results.analysis.drawn, *station, find_shown_heading(app), app.view.units, ghost ? &*ghost : nullptr);
}

std::vector<PicturePoint> list_points(const AppState& app) {
    const DrawnAnalysis& d = *app.results.analysis.drawn;
    if (app.view.drawn_picture == DrawnPicture::plan) return list_drawn_points(app.now.setup, d, find_shown_attitude(app), PictureFrame::plan);
    if (app.view.drawn_picture == DrawnPicture::side) return list_drawn_points(app.now.setup, d, find_shown_attitude(app), PictureFrame::side);
    const DitchStation* station = find_shown_station(app);
    return station ? list_ditch_points(app.now.setup, d, *station) : std::vector<PicturePoint>{};
}

PictureFrame frame_of(const AppState& app) {
    if (app.view.drawn_picture == DrawnPicture::ditch) return PictureFrame::ditch;
    return app.view.drawn_picture == DrawnPicture::plan ? PictureFrame::plan : PictureFrame::side;
}

/// Both ends of what the picture can show, so that it does not move under the cursor while the machine does.
std::vector<Drawing> draw_ends(const AppState& app) {
    const DrawnAnalysis& d = *app.results.analysis.drawn;
    const AttitudeBox& box = d.model.box;
    switch (app.view.drawn_picture) {
        case DrawnPicture::plan: return {draw_attitude(app, {d.model.level_pitch, 0.0, box.yaw.low}), draw_attitude(app, {d.model.level_pitch, 0.0, box.yaw.high})};
        case DrawnPicture::side: return {draw_attitude(app, {box.pitch.low, 0.0, 0.0}), draw_attitude(app, {box.pitch.high, 0.0, 0.0})};
        // Here the picture goes along: the whole way would leave the machine a dot.
        case DrawnPicture::ditch: return {make_drawing(app)};
        case DrawnPicture::chart: break;
    }
    return {};
}

const std::optional<DrawingBox>& find_box(AppState& app) {
    FittedBox& f = app.view.fitted_box;
    const double place = app.view.drawn_picture == DrawnPicture::ditch ? find_shown_place(app) : 0.0;
    if (f.revision == app.results.revision && f.kind == app.view.drawn_picture && f.units == app.view.units && f.ditch_place == place && f.ghost == find_ghost_key(app)) return f.box;
    f = {app.results.revision, app.view.drawn_picture, place, app.view.units, find_ghost_key(app), std::nullopt};
    for (const Drawing& d : draw_ends(app)) {
        const std::optional<DrawingBox> box = find_bounding_box(d);
        if (!box) continue;
        if (!f.box) f.box = box;
        f.box->least = {std::min(f.box->least.x, box->least.x), std::min(f.box->least.z, box->least.z)};
        f.box->most = {std::max(f.box->most.x, box->most.x), std::max(f.box->most.z, box->most.z)};
    }
    return f.box;
}

PageRect chart_area(const PictureCanvas& canvas, double strip) {
    return {chart_margin_mm, strip + 3.0, canvas.panel.right - chart_margin_mm, canvas.panel.bottom - chart_margin_mm};
}

std::vector<DrawingPoint> measured_places(const AppState& app) {
    std::vector<DrawingPoint> places;
    for (const PicturePoint& p : app.view.act.measured) places.push_back(p.at);
    return places;
}

/// The chart does not move with the attitude: only its mark is drawn anew.
bool is_same(const PlacedDrawn& p, const AppState& app, const PageRect& area) {
    const bool chart = app.view.drawn_picture == DrawnPicture::chart;
    return p.revision == app.results.revision && p.kind == app.view.drawn_picture && (chart || p.attitude == find_shown_attitude(app)) &&
           (p.kind != DrawnPicture::ditch || p.ditch_place == find_shown_place(app)) &&
           p.camera == app.view.camera && p.area == area && p.units == app.view.units && p.measured == measured_places(app) && p.ghost == find_ghost_key(app);
}

const PlacedDrawn& place(Screen& screen, const PictureCanvas& canvas, double strip) {
    AppState& app = screen.app;
    PlacedDrawn& p = app.view.placed_drawn;
    if (is_same(p, app, canvas.area)) return p;
    WordPlaces places = std::move(p.places);
    p = {app.results.revision, app.view.drawn_picture, find_shown_attitude(app), find_shown_place(app), app.view.camera, canvas.area, app.view.units, measured_places(app), find_ghost_key(app), {}, {}, {}, {}, std::move(places)};
    if (p.kind == DrawnPicture::chart) {
        const ScreenTextMeasure measure(screen.fonts);
        const DrawnAnalysis& d = *app.results.analysis.drawn;
        if (d.model.has_shaft) add_envelope(p.page, app.now.setup, d, chart_area(canvas, strip), measure);
        return p;
    }
    p.drawing = make_drawing(app);
    p.points = list_points(app);
    follow_measured(app.view.act, p.points);
    p.measured = measured_places(app);
    Drawing drawing = p.drawing;
    if (p.measured.size() == 2) {
        const std::vector<DimensionMark> marks = measure_between(p.measured[0], p.measured[1], app.view.units);
        drawing.dimensions.insert(drawing.dimensions.begin(), marks.begin(), marks.end());
    }
    place_words(screen, canvas, drawing, strip, p.page, p.unplaced, p.places);
    return p;
}

/// The attitude shown, marked in the chart; a press puts it where the cursor is.
void use_chart(AppState& app, const PictureCanvas& canvas, double strip, bool pressed) {
    const ImVec2 corner = canvas.corner;
    const float ppm = canvas.ppm;
    const DrawnModel& m = app.results.analysis.drawn->model;
    if (!m.has_shaft) return;
    const EnvelopeAxes axes = find_envelope_axes(m, chart_area(canvas, strip));
    const ImGuiIO& io = ImGui::GetIO();
    if (pressed)
        app.view.attitude = axes.to_attitude({static_cast<double>((io.MousePos.x - corner.x) / ppm), static_cast<double>((io.MousePos.y - corner.y) / ppm)});
    const Attitude a = find_shown_attitude(app);
    const PagePoint p = axes.to_page(a.yaw, a.pitch);
    const ImVec2 at{corner.x + static_cast<float>(p.x) * ppm, corner.y + static_cast<float>(p.y) * ppm};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddCircle(at, 2.0F * ppm, palette().blue, 0, 0.5F * ppm);
    list.AddLine({at.x - 3.0F * ppm, at.y}, {at.x + 3.0F * ppm, at.y}, palette().blue, 0.3F * ppm);
    list.AddLine({at.x, at.y - 3.0F * ppm}, {at.x, at.y + 3.0F * ppm}, palette().blue, 0.3F * ppm);
}

/// Nothing that was pulled or picked belongs to the next picture.
void leave_picture(AppState& app) {
    app.view.camera.fitted = true;
    app.view.act.stepped = -1;
    app.view.act.measured.clear();
    app.view.act.drag.reset();
}

void choose(AppState& app, DrawnPicture kind) {
    app.view.drawn_picture = kind;
    leave_picture(app);
}

/// Returns the height the buttons take, pixels.
float show_picture_buttons(Screen& screen, ImVec2 corner, float width) {
    AppState& app = screen.app;
    ButtonRows rows(screen, corner, width);
    if (app.view.column.on) rows.keep_folded(app.view.column.more_picture);
    const auto offer = [&](const char* label, const char* hint, DrawnPicture kind) {
        if (rows.choice(label, hint, app.view.drawn_picture == kind)) choose(app, kind);
    };
    offer("From above", "The machine from above, with the turn that stops first on each side", DrawnPicture::plan);
    offer("From the side", "The machine from its left side, with the pitches that are judged", DrawnPicture::side);
    offer("Turn and dip", "Turn against dip, with the limits hatched", DrawnPicture::chart);
    if (find_shown_station(app)) offer("In the ditch", "The machine on its way through the ditch; pull the ditch's handles", DrawnPicture::ditch);
    const bool ditch = app.view.drawn_picture == DrawnPicture::ditch;
    const char* const hint = ditch ? "Shows the worst place on the way" : "Puts the implement straight behind the tractor, on level ground";
    if (rows.button(ditch ? "Worst place" : "Straight and level", hint)) {
        if (ditch && app.view.act.march.plays) toggle_march(app);
        ditch ? app.view.ditch_place.reset() : app.view.attitude.reset();
    }
    if (rows.button("Fit to window", "Shows all of the machine. Key: 0")) app.view.camera.fitted = true;
    if (app.view.drawn_picture == DrawnPicture::chart) return rows.bottom();
    rows.toggle("Measure", "Click two points: their distance, straight, level and plumb. Escape ends it", app.view.act.measures);
    if (!app.view.act.measures) app.view.act.measured.clear();
    return rows.bottom();
}

DrawingPoint find_hitch(const AppState& app) {
    const Vec3<double>& pin = app.results.analysis.drawn->model.driveline.pin;
    return {pin.x, app.view.drawn_picture == DrawnPicture::plan ? pin.y : pin.z};
}

void begin_press(Screen& screen, const PictureCanvas& canvas) {
    AppState& app = screen.app;
    const PlacedDrawn& p = app.view.placed_drawn;
    const DrawingPoint at = canvas.to_drawing(ImGui::GetIO().MousePos);
    const int under = find_hovered_point(screen, canvas, p.points);
    if (under >= 0) {
        const PicturePoint point = p.points[static_cast<std::size_t>(under)];
        if (app.view.act.measures) return pick_point(app, point);
        if (ImGui::IsMouseDoubleClicked(0)) return open_point_field(app, point);
        if (grab_point(app, point, at)) return;
    }
    if (app.view.act.measures || app.view.drawn_picture == DrawnPicture::ditch) return;
    const Shape* shape = find_hovered_shape(screen, canvas, p.drawing);
    if (shape && (shape->role == Role::implement_outline || shape->role == Role::ground_contact)) grab_turn(app, at);
}

/// Mouse and keys on the picture, which is the item shown last.
void use_picture(Screen& screen, const PictureCanvas& canvas) {
    AppState& app = screen.app;
    PictureState& act = app.view.act;
    const bool handle = act.drag && act.drag->ditch;  // pulled by its own control
    if (ImGui::IsItemActivated() && ImGui::IsMouseClicked(0)) {
        act.cancelled = false;
        begin_press(screen, canvas);
    }
    const std::vector<PicturePoint> points = app.view.placed_drawn.points;
    if (act.drag && !handle) {
        if (ImGui::IsMouseDown(0) && (ImGui::GetIO().MouseDelta.x != 0.0F || ImGui::GetIO().MouseDelta.y != 0.0F))
            pull_to(app, points, canvas.to_drawing(ImGui::GetIO().MousePos), find_hitch(app));
        if (!ImGui::IsMouseDown(0) && !is_escaped(app)) let_go(app, points);
    }
    if (!handle) use_escape(app);
    move_camera(app.view, canvas, !act.drag && !act.cancelled && !act.measures);
    if (!takes_picture_keys(app)) return;
    move_camera_with_keys(app.view.camera, canvas);
    if (is_typed(' ') && app.view.drawn_picture == DrawnPicture::ditch) toggle_march(app);
    use_point_keys(screen, {app.view.placed_drawn.drawing, app.view.placed_drawn.points, frame_of(app)});
}

}  // namespace

void show_drawn_picture(Screen& screen) {
    AppState& app = screen.app;
    if (app.view.drawn_picture == DrawnPicture::ditch && !find_shown_station(app)) choose(app, DrawnPicture::side);
    if (app.view.placed_drawn.kind != app.view.drawn_picture) leave_picture(app);  // however another one was chosen
    advance_march(app, static_cast<double>(ImGui::GetIO().DeltaTime));
    PictureCanvas canvas = make_canvas(screen, app.view.act.strip);
    if (canvas.panel.width() < least_panel_mm || canvas.panel.height() < least_panel_mm) return;
    const ImVec2 end{canvas.corner.x + canvas.size.x, canvas.corner.y + canvas.size.y};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(canvas.corner, end, palette().paper);
    ImGui::SetItemAllowOverlap();
    ImGui::InvisibleButton("drawn picture", canvas.size);
    ImGui::SetItemAllowOverlap();
    remember_place(screen, "drawn picture", app.view.column.on ? FingerMove::held : FingerMove::drags);
    const bool hovered = ImGui::IsItemHovered(), pressed = ImGui::IsItemActive();
    const bool chart = app.view.drawn_picture == DrawnPicture::chart;
    if (const auto& box = find_box(app); box && !chart) {
        canvas.placement = find_placement(app.view.camera, *box, canvas.area);
        use_picture(screen, canvas);
    }
    list.ChannelsSplit(2);
    list.ChannelsSetCurrent(1);
    const float strip = app.view.act.strip = show_picture_buttons(screen, canvas.corner, canvas.size.x);
    list.ChannelsSetCurrent(0);
    if (const auto& box = find_box(app)) canvas.placement = find_placement(app.view.camera, *box, canvas.area);
    list.PushClipRect(canvas.corner, end, true);
    const PlacedDrawn& picture = place(screen, canvas, static_cast<double>(strip / canvas.ppm));
    draw_page(list, picture.page.shapes, {canvas.corner, canvas.ppm}, screen.fonts);
    if (app.view.drawn_picture == DrawnPicture::chart) use_chart(app, canvas, static_cast<double>(strip / canvas.ppm), pressed);
    list.PopClipRect();
    list.ChannelsMerge();
    if (app.view.drawn_picture == DrawnPicture::chart) return;
    show_unplaced(screen, picture.unplaced, canvas.corner, canvas.size);
    if (app.view.drawn_picture == DrawnPicture::ditch) show_ditch_handles(screen, canvas);
    show_picture_words(screen, canvas, {picture.drawing, picture.points, frame_of(app)}, hovered);
    show_point_field(screen, canvas);
}

}  // namespace hitchwright
