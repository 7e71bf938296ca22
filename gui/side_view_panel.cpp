// The side view at the height of the slider. Wheel: zoom about the cursor; drag: pan; button: fit to the window.
#include <cmath>

#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/side_camera.h"
#include "report/page_blocks.h"
#include "report/side_view_scene.h"

namespace hitchwright {
namespace {

constexpr double zoom_per_notch = 1.15;
constexpr double least_panel_mm = 15.0;
constexpr double button_strip_mm = 6.5;  // kept free of words
constexpr double narrow_panel_mm = 110.0;
constexpr int last_rank_of_numbers = 4;  // ranks of side_view_drawing.cpp: names of parts come after

bool inside(const PageRect& r, PagePoint p) {
    return p.x >= r.left && p.x <= r.right && p.y >= r.top && p.y <= r.bottom;
}

/// Words for what lies outside the panel would only point past its edge; in a small panel names of parts would bury the
/// parts, and the numbers of the position come first.
Drawing with_fitting_words(Drawing drawing, const Placement& placement, const PageRect& area) {
    const int most_rank = area.width() < narrow_panel_mm ? last_rank_of_numbers : 100;
    std::erase_if(drawing.labels,
                  [&](const Label& l) { return l.rank > most_rank || !inside(area, placement.to_page(l.at)); });
    std::erase_if(drawing.dimensions, [&](const DimensionMark& d) {
        return !inside(area, placement.to_page(d.from)) || !inside(area, placement.to_page(d.to));
    });
    return drawing;
}

/// Places the picture anew when something it depends on has changed.
const PlacedPicture& place_picture(Screen& screen, const PageRect& area, const Placement& placement) {
    AppState& app = screen.app;
    PlacedPicture& p = app.view.picture;
    const double height = shown_ball_height(app);
    const bool same = p.revision == app.results.revision && p.ball_height == height && p.camera == app.view.camera &&
                      p.area == area && p.units == app.view.units;
    if (same) return p;
    p = {app.results.revision, height, app.view.camera, area, app.view.units, {}, {}};
    const SideViewScene scene = make_pose_scene(app.now.setup, app.results.analysis, height, app.view.units);
    const Drawing drawing = with_fitting_words(draw_side_view(scene), placement, area);
    const ScreenTextMeasure measure(screen.fonts);
    const PageRect bar = add_scale_bar(p.page, placement.scale_denominator, app.view.units,
                                       {area.right - 2.0, area.bottom - 1.5}, measure);
    const PageRect buttons{area.left, area.top, area.right, area.top + button_strip_mm};
    p.unplaced = add_drawing(p.page, drawing, placement, area, {grown(bar, 0.5), buttons}, measure);
    return p;
}

/// Wheel and drag over the panel; `corner` is the panel's upper left corner on the screen.
void move_camera(AppState& app, const Placement& placement, const PageRect& area, ImVec2 corner, float ppm) {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemHovered() && io.MouseWheel != 0.0F) {
        const PagePoint at{static_cast<double>((io.MousePos.x - corner.x) / ppm),
                           static_cast<double>((io.MousePos.y - corner.y) / ppm)};
        app.view.camera =
            zoom_about(placement, area, at, std::pow(zoom_per_notch, static_cast<double>(io.MouseWheel)));
    }
    const bool dragged = ImGui::IsItemActive() && (io.MouseDelta.x != 0.0F || io.MouseDelta.y != 0.0F);
    if (dragged)
        app.view.camera = pan_by(placement, area, {static_cast<double>(io.MouseDelta.x / ppm),
                                                   static_cast<double>(io.MouseDelta.y / ppm)});
}

void show_view_buttons(Screen& screen, ImVec2 corner) {
    ImGui::SetCursorScreenPos({corner.x + 0.5F * screen.em(), corner.y + 0.5F * screen.em()});
    if (ImGui::Button("Fit to window")) screen.app.view.camera.fitted = true;
    remember_place(screen, "Fit to window");
    ImGui::SameLine();
    if (ImGui::Button("At work")) screen.app.view.ball_height.reset();
    remember_place(screen, "At work");
}

/// Words for which the picture has no room go under it: nothing that was to be said is dropped.
void show_unplaced(const PlacedPicture& picture, ImVec2 corner, ImVec2 room) {
    if (picture.unplaced.empty()) return;
    std::string text = "No room in the picture for: ";
    for (const std::string& words : picture.unplaced) text += (&words == &picture.unplaced.front() ? "" : "; ") + words;
    const ImVec2 size = ImGui::CalcTextSize(text.c_str(), nullptr, false, room.x);
    const ImVec2 at{corner.x + 2.0F, corner.y + room.y - size.y};
    ImGui::GetWindowDrawList()->AddRectFilled(at, {corner.x + room.x, corner.y + room.y}, palette().paper);
    ImGui::SetCursorScreenPos(at);
    show_quiet_text(text);
}

void show_no_picture(Screen& screen, ImVec2 corner) {
    ImGui::SetCursorScreenPos({corner.x + screen.em(), corner.y + screen.em()});
    ImGui::BeginGroup();
    show_text("No picture", screen.fonts.large, palette().alarm);
    const bool drawn = screen.app.now.setup.implement.attachment == Attachment::drawn;
    show_text(drawn ? "A reading of the hitch is missing. The findings name it."
                    : "A reading of the linkage is missing, or the linkage cannot close. The findings name it.");
    ImGui::EndGroup();
    remember_place(screen, "no picture");
}

}  // namespace

void show_side_view(Screen& screen) {
    AppState& app = screen.app;
    const float ppm = screen.fonts.pixels_per_mm;
    const ImVec2 corner = ImGui::GetCursorScreenPos(), room = ImGui::GetContentRegionAvail();
    const PageRect area{0.0, 0.0, static_cast<double>(room.x / ppm), static_cast<double>(room.y / ppm)};
    if (area.width() < least_panel_mm || area.height() < least_panel_mm) return;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(corner, {corner.x + room.x, corner.y + room.y}, palette().paper);
    if (!app.results.drawn) return show_no_picture(screen, corner);
    ImGui::SetItemAllowOverlap();
    ImGui::InvisibleButton("side view", room);
    ImGui::SetItemAllowOverlap();
    remember_place(screen, "side view");
    move_camera(app, find_placement(app.view.camera, *app.results.drawn, area), area, corner, ppm);
    const Placement placement = find_placement(app.view.camera, *app.results.drawn, area);
    const PlacedPicture& picture = place_picture(screen, area, placement);
    list.PushClipRect(corner, {corner.x + room.x, corner.y + room.y}, true);
    draw_page(list, picture.page.shapes, {corner, ppm}, screen.fonts);
    list.PopClipRect();
    show_unplaced(picture, corner, room);
    show_view_buttons(screen, corner);
    if (app.results.analysis.linkage) return;
    ImGui::SameLine();
    show_text("The linkage does not close here", screen.fonts.bold, palette().alarm);
    remember_place(screen, "does not close");
}

}  // namespace hitchwright
