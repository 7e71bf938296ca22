// A drawn implement from above, from the side, in the ditch, or its envelope. Wheel: zoom about the cursor; drag: pan; a click into the chart
// puts the implement at that turn and pitch.
#include <cmath>

#include "gui/ditch_place.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/side_camera.h"
#include "report/ditch_view.h"
#include "report/drawn_view.h"
#include "report/envelope_chart.h"
#include "report/page_blocks.h"

namespace hitchwright {
namespace {

constexpr double zoom_per_notch = 1.15, least_panel_mm = 15.0, button_strip_mm = 13.0, chart_margin_mm = 3.0;

Attitude shown_attitude(const AppState& app) {
    if (app.view.attitude) return *app.view.attitude;
    return {app.results.analysis.drawn->model.level_pitch, 0.0, 0.0};
}

Drawing make_drawing(const AppState& app) {
    const DrawnAnalysis& d = *app.results.analysis.drawn;
    if (app.view.drawn_picture == DrawnPicture::ditch) {
        const DitchStation* station = find_shown_station(app);
        return station ? draw_ditch_view(app.now.setup, d, *station, find_shown_heading(app), app.view.units) : Drawing{};
    }
    return app.view.drawn_picture == DrawnPicture::plan ? draw_plan_view(app.now.setup, d, shown_attitude(app), app.view.units)
                                                       : draw_drawn_side_view(app.now.setup, d, shown_attitude(app), app.view.units);
}

PageRect chart_area(const PageRect& area) {
    return {area.left + chart_margin_mm, area.top + button_strip_mm + 3.0, area.right - chart_margin_mm, area.bottom - chart_margin_mm};
}

/// The chart does not move with the attitude: only its mark is drawn anew.
bool is_same(const PlacedDrawn& p, const AppState& app, const PageRect& area) {
    const bool chart = app.view.drawn_picture == DrawnPicture::chart;
    return p.revision == app.results.revision && p.kind == app.view.drawn_picture && (chart || p.attitude == shown_attitude(app)) &&
           (p.kind != DrawnPicture::ditch || p.ditch_place == find_shown_place(app)) &&
           p.camera == app.view.camera && p.area == area && p.units == app.view.units;
}

const PlacedDrawn& place(Screen& screen, const PageRect& area) {
    AppState& app = screen.app;
    PlacedDrawn& p = app.view.placed_drawn;
    if (is_same(p, app, area)) return p;
    p = {app.results.revision, app.view.drawn_picture, shown_attitude(app), find_shown_place(app), app.view.camera, area, app.view.units, {}};
    const ScreenTextMeasure measure(screen.fonts);
    const DrawnAnalysis& d = *app.results.analysis.drawn;
    if (p.kind == DrawnPicture::chart) {
        if (d.model.has_shaft) add_envelope(p.page, app.now.setup, d, chart_area(area), measure);
        return p;
    }
    const Drawing drawing = make_drawing(app);
    const std::optional<DrawingBox> box = find_bounding_box(drawing);
    if (!box) return p;
    const Placement placement = find_placement(app.view.camera, *box, area);
    const PageRect bar = add_scale_bar(p.page, placement.scale_denominator, app.view.units, {area.right - 2.0, area.bottom - 1.5}, measure);
    const PageRect buttons{area.left, area.top, area.right, area.top + button_strip_mm};
    add_drawing(p.page, drawing, placement, area, {grown(bar, 0.5), buttons}, measure);
    return p;
}

void move_camera(AppState& app, const PageRect& area, ImVec2 corner, float ppm) {
    const std::optional<DrawingBox> box = find_bounding_box(make_drawing(app));
    if (!box) return;
    const Placement placement = find_placement(app.view.camera, *box, area);
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemHovered() && io.MouseWheel != 0.0F) {
        const PagePoint at{static_cast<double>((io.MousePos.x - corner.x) / ppm), static_cast<double>((io.MousePos.y - corner.y) / ppm)};
        app.view.camera = zoom_about(placement, area, at, std::pow(zoom_per_notch, static_cast<double>(io.MouseWheel)));
    }
    if (ImGui::IsItemActive() && (io.MouseDelta.x != 0.0F || io.MouseDelta.y != 0.0F))
        app.view.camera = pan_by(placement, area, {static_cast<double>(io.MouseDelta.x / ppm), static_cast<double>(io.MouseDelta.y / ppm)});
}

/// The attitude shown, marked in the chart; a press puts it where the cursor is.
void use_chart(AppState& app, const PageRect& area, ImVec2 corner, float ppm) {
    const DrawnModel& m = app.results.analysis.drawn->model;
    if (!m.has_shaft) return;
    const EnvelopeAxes axes = find_envelope_axes(m, chart_area(area));
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActive())
        app.view.attitude = axes.to_attitude({static_cast<double>((io.MousePos.x - corner.x) / ppm), static_cast<double>((io.MousePos.y - corner.y) / ppm)});
    const Attitude a = shown_attitude(app);
    const PagePoint p = axes.to_page(a.yaw, a.pitch);
    const ImVec2 at{corner.x + static_cast<float>(p.x) * ppm, corner.y + static_cast<float>(p.y) * ppm};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddCircle(at, 2.0F * ppm, palette().blue, 0, 0.5F * ppm);
    list.AddLine({at.x - 3.0F * ppm, at.y}, {at.x + 3.0F * ppm, at.y}, palette().blue, 0.3F * ppm);
    list.AddLine({at.x, at.y - 3.0F * ppm}, {at.x, at.y + 3.0F * ppm}, palette().blue, 0.3F * ppm);
}

void show_picture_buttons(Screen& screen, ImVec2 corner) {
    AppState& app = screen.app;
    ImGui::SetCursorScreenPos({corner.x + 0.5F * screen.em(), corner.y + 0.5F * screen.em()});
    const float indent = 0.5F * screen.em();
    const auto place_next = [&](const char* label, float extra) {
        start_in_row(label, extra);
        if (ImGui::GetCursorScreenPos().x < corner.x + indent) ImGui::SetCursorScreenPos({corner.x + indent, ImGui::GetCursorScreenPos().y});
    };
    const auto choose = [&](const char* label, DrawnPicture kind) {
        place_next(label, ImGui::GetFrameHeight());
        if (ImGui::RadioButton(label, app.view.drawn_picture == kind)) {
            app.view.drawn_picture = kind;
            app.view.camera.fitted = true;
        }
        remember_place(screen, label);
        ImGui::SameLine();
    };
    choose("From above", DrawnPicture::plan);
    choose("From the side", DrawnPicture::side);
    choose("Turn and dip", DrawnPicture::chart);
    if (find_shown_station(app)) choose("In the ditch", DrawnPicture::ditch);
    const bool ditch = app.view.drawn_picture == DrawnPicture::ditch;
    const char* const back = ditch ? "Worst place" : "Straight and level";
    place_next(back, 0.0F);
    if (ImGui::Button(back)) ditch ? app.view.ditch_place.reset() : app.view.attitude.reset();
    remember_place(screen, back);
    ImGui::SameLine();
    place_next("Fit to window", 0.0F);
    if (ImGui::Button("Fit to window")) app.view.camera.fitted = true;
    remember_place(screen, "Fit to window");
}

}  // namespace

void show_drawn_picture(Screen& screen) {
    AppState& app = screen.app;
    if (app.view.drawn_picture == DrawnPicture::ditch && !find_shown_station(app)) app.view.drawn_picture = DrawnPicture::side;
    const float ppm = screen.fonts.pixels_per_mm;
    const ImVec2 corner = ImGui::GetCursorScreenPos(), room = ImGui::GetContentRegionAvail();
    const PageRect area{0.0, 0.0, static_cast<double>(room.x / ppm), static_cast<double>(room.y / ppm)};
    if (area.width() < least_panel_mm || area.height() < least_panel_mm) return;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(corner, {corner.x + room.x, corner.y + room.y}, palette().paper);
    ImGui::SetItemAllowOverlap();
    ImGui::InvisibleButton("drawn picture", room);
    ImGui::SetItemAllowOverlap();
    remember_place(screen, "drawn picture");
    if (app.view.drawn_picture != DrawnPicture::chart) move_camera(app, area, corner, ppm);
    list.PushClipRect(corner, {corner.x + room.x, corner.y + room.y}, true);
    draw_page(list, place(screen, area).page.shapes, {corner, ppm}, screen.fonts);
    if (app.view.drawn_picture == DrawnPicture::chart) use_chart(app, area, corner, ppm);
    list.PopClipRect();
    show_picture_buttons(screen, corner);
}

}  // namespace hitchwright
