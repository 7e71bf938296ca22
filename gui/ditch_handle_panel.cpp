// See ditch_handle_panel.h.
#include "gui/ditch_handle_panel.h"

#include <imgui_internal.h>

#include <cmath>

#include "gui/palette.h"
#include "gui/picture_drag.h"

namespace hitchwright {
namespace {

constexpr float half_ems = 0.85F, dial_ems = 2.6F;
constexpr float least_dial_panel_ems = 16.0F;  // height of a panel that has room for the dial

const char* name_of(DitchMeasure measure) {
    switch (measure) {
        case DitchMeasure::depth: return "handle of the depth";
        case DitchMeasure::bottom_width: return "handle of the bottom";
        case DitchMeasure::side_slope: return "handle of the slope";
        case DitchMeasure::crossing_angle: return "dial of the crossing";
    }
    return "";
}

const DitchReadings& shown_ditch(const AppState& app) {
    const auto& drag = app.view.act.drag;
    return drag && drag->ditch ? drag->ditch_now : app.now.setup.choices.drawn.ditch;
}

ImVec2 dial_middle(const Screen& screen, const PictureCanvas& canvas) {
    const float off = (dial_ems + 1.6F) * screen.em();
    return {canvas.corner.x + off, canvas.corner.y + canvas.size.y - off};
}

/// Place of the cursor as the handle sees it: in the drawing, or on the dial.
DrawingPoint find_pull(const Screen& screen, const PictureCanvas& canvas, DitchMeasure measure) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    if (measure != DitchMeasure::crossing_angle) return canvas.to_drawing(mouse);
    const ImVec2 middle = dial_middle(screen, canvas);
    return {static_cast<double>(mouse.x - middle.x), static_cast<double>(middle.y - mouse.y)};
}

void step_with_keys(AppState& app, DitchMeasure measure) {
    if (!ImGui::GetIO().NavVisible) return;
    int steps = 0;
    if (is_struck(ImGuiKey_UpArrow) || is_struck(ImGuiKey_RightArrow)) ++steps;
    if (is_struck(ImGuiKey_DownArrow) || is_struck(ImGuiKey_LeftArrow)) --steps;
    if (steps == 0) return;
    ImGui::NavMoveRequestCancel();
    grab_ditch(app, measure);
    app.view.act.drag->ditch_now = step_handle(app.now.setup.choices.drawn.ditch, measure, steps, app.view.units);
    let_go(app, {});
}

/// The control of one handle at a place of the screen.
void show_handle(Screen& screen, const PictureCanvas& canvas, DitchMeasure measure, ImVec2 at) {
    AppState& app = screen.app;
    PictureState& act = app.view.act;
    const float half = std::max(half_ems * screen.em(), 0.5F * find_target(screen));
    ImGui::SetCursorScreenPos({at.x - half, at.y - half});
    ImGui::InvisibleButton(name_of(measure), {2.0F * half, 2.0F * half});
    remember_place(screen, name_of(measure), FingerMove::drags);
    const bool hovered = ImGui::IsItemHovered();
    if (ImGui::IsItemActivated() && ImGui::IsMouseClicked(0)) grab_ditch(app, measure);
    const bool pulled = act.drag && act.drag->ditch == measure;
    if (pulled && ImGui::IsMouseDown(0) && (ImGui::GetIO().MouseDelta.x != 0.0F || ImGui::GetIO().MouseDelta.y != 0.0F))
        pull_to(app, {}, find_pull(screen, canvas, measure), {});
    if (pulled && is_struck(ImGuiKey_Escape)) cancel_pull(app);
    else if (pulled && !ImGui::IsMouseDown(0)) let_go(app, {});
    else if (ImGui::IsItemFocused()) step_with_keys(app, measure);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float small = 0.55F * half;
    list.AddRectFilled({at.x - small, at.y - small}, {at.x + small, at.y + small}, pulled || hovered ? palette().blue : palette().paper);
    list.AddRect({at.x - small, at.y - small}, {at.x + small, at.y + small}, palette().blue, 0.0F, 0, 0.18F * screen.em());
    if (hovered && !act.drag) draw_tag(screen, canvas, at, say_ditch_measure(app.now.setup.choices.drawn.ditch, measure, app.view.units) + "\nPull it, or walk to it with the keyboard and use the arrow keys.");
}

/// Way and ditch from above: the way goes from right to left, as in the picture.
void show_dial(Screen& screen, const PictureCanvas& canvas, DrawingPoint direction) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 middle = dial_middle(screen, canvas);
    const float r = dial_ems * screen.em(), x = static_cast<float>(direction.x) * r, y = static_cast<float>(direction.z) * r;
    list.AddCircleFilled(middle, r + 0.3F * screen.em(), palette().paper);
    list.AddCircle(middle, r, palette().quiet);
    list.AddLine({middle.x - r, middle.y}, {middle.x + r, middle.y}, palette().quiet, 0.12F * screen.em());
    list.AddTriangleFilled({middle.x - r, middle.y}, {middle.x - r + 0.6F * screen.em(), middle.y - 0.3F * screen.em()}, {middle.x - r + 0.6F * screen.em(), middle.y + 0.3F * screen.em()}, palette().quiet);
    list.AddLine({middle.x - x, middle.y + y}, {middle.x + x, middle.y - y}, palette().ink, 0.25F * screen.em());
    const std::string words = say_ditch_measure(shown_ditch(screen.app), DitchMeasure::crossing_angle, screen.app.view.units);
    list.AddText({canvas.corner.x + 0.5F * screen.em(), middle.y + r + 0.25F * screen.em()}, palette().ink, words.c_str());
    show_handle(screen, canvas, DitchMeasure::crossing_angle, {middle.x + x, middle.y - y});
}

void draw_pulled_ground(const Screen& screen, const PictureCanvas& canvas) {
    const auto& drag = screen.app.view.act.drag;
    if (!drag || !drag->ditch) return;
    const DrawingPoint left = canvas.to_drawing(canvas.corner), right = canvas.to_drawing({canvas.corner.x + canvas.size.x, canvas.corner.y});
    std::vector<ImVec2> points;
    for (const DrawingPoint& p : draw_ditch_ground(drag->ditch_now, left.x, right.x).points) points.push_back(canvas.to_screen(p));
    if (points.size() > 1) ImGui::GetWindowDrawList()->AddPolyline(points.data(), static_cast<int>(points.size()), palette().blue, 0, 0.25F * screen.em());
}

}  // namespace

void show_ditch_handles(Screen& screen, const PictureCanvas& canvas) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(canvas.corner, {canvas.corner.x + canvas.size.x, canvas.corner.y + canvas.size.y}, true);
    draw_pulled_ground(screen, canvas);
    const std::vector<DitchHandle> handles = list_ditch_handles(shown_ditch(screen.app));
    const bool dial = canvas.size.y > least_dial_panel_ems * screen.em();
    for (const DitchHandle& h : handles) {
        if (h.measure == DitchMeasure::crossing_angle) {
            if (dial) show_dial(screen, canvas, h.at);
            continue;
        }
        const ImVec2 at = canvas.to_screen(h.at);
        const bool inside = at.x > canvas.corner.x && at.x < canvas.corner.x + canvas.size.x && at.y > canvas.corner.y + screen.app.view.act.strip && at.y < canvas.corner.y + canvas.size.y;
        if (inside || (screen.app.view.act.drag && screen.app.view.act.drag->ditch == h.measure)) show_handle(screen, canvas, h.measure, at);
    }
    if (handles.empty() && screen.app.view.act.said.empty()) {
        ImGui::SetCursorScreenPos({canvas.corner.x + 0.5F * screen.em(), canvas.corner.y + canvas.size.y - 1.6F * screen.em()});
        show_quiet_text("The ground is given by points: change them in the file, there is nothing to pull.");
    }
    list.PopClipRect();
}

}  // namespace hitchwright
