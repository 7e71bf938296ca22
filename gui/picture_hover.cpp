// See picture_hover.h.
#include "gui/picture_hover.h"

#include <algorithm>

#include "gui/palette.h"
#include "gui/picture_drag.h"
#include "gui/quantity_field.h"
#include "report/measure_hint.h"
#include "report/picture_sizes.h"

namespace hitchwright {
namespace {

constexpr float reach_ems = 0.9F, ring_ems = 0.75F, shape_ems = 0.35F;

void draw_ring(const Screen& screen, ImVec2 at, bool strong) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float radius = ring_ems * screen.em();
    list.AddCircle(at, radius, palette().blue, 0, strong ? 0.22F * screen.em() : 0.1F * screen.em());
    if (!strong) return;
    // A cross as well: the ring alone is lost among circles.
    for (const float side : {-1.0F, 1.0F}) {
        list.AddLine({at.x + side * radius, at.y}, {at.x + side * 1.6F * radius, at.y}, palette().blue, 0.15F * screen.em());
        list.AddLine({at.x, at.y + side * radius}, {at.x, at.y + side * 1.6F * radius}, palette().blue, 0.15F * screen.em());
    }
}

std::string join_words(const PictureWords& words) {
    std::string text = words.title;
    if (!words.place.empty()) text += "\n" + words.place;
    for (const std::string& r : words.readings) text += "\n" + r;
    if (!words.action.empty()) text += "\n" + words.action;
    return text;
}

/// The holes that a pull can end in, and what would be taken.
void draw_pull(const Screen& screen, const PictureCanvas& canvas, const PictureContent& content, const PictureDrag& d) {
    if (d.ditch) return;
    const bool hole = d.what == PointDrag::tractor_hole || d.what == PointDrag::mast_hole || d.what == PointDrag::drawbar_pin;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 now = canvas.to_screen(d.now);
    if (hole) {
        const std::string_view of = std::string_view(d.point.keys.front()).substr(0, d.point.keys.front().find('['));
        for (std::size_t i = 0; i < content.points.size(); ++i) {
            const PicturePoint& p = content.points[i];
            if (p.hole.empty() || p.keys.empty() || !p.keys.front().starts_with(of)) continue;
            draw_ring(screen, canvas.to_screen(p.at), static_cast<int>(i) == d.target);
            if (static_cast<int>(i) == d.target) list.AddLine(now, canvas.to_screen(p.at), palette().blue, 0.15F * screen.em());
        }
    }
    const bool rod = d.what == PointDrag::left_lift_rod || d.what == PointDrag::right_lift_rod;
    if (hole || rod || d.what == PointDrag::readings) {
        list.AddLine(canvas.to_screen(d.point.at), now, palette().quiet, 0.1F * screen.em());
        list.AddCircleFilled(now, 0.4F * screen.em(), palette().blue);
    }
}

void show_said(Screen& screen, const PictureCanvas& canvas) {
    const std::string& text = screen.app.view.act.said;
    if (text.empty()) return;
    const float width = canvas.size.x - screen.em();
    const ImVec2 size = ImGui::CalcTextSize(text.c_str(), nullptr, false, width);
    const ImVec2 at{canvas.corner.x + 0.5F * screen.em(), canvas.corner.y + canvas.size.y - size.y - 0.5F * screen.em()};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled({canvas.corner.x, at.y - 0.3F * screen.em()}, {canvas.corner.x + canvas.size.x, canvas.corner.y + canvas.size.y}, palette().paper);
    list.AddText(screen.fonts.bold.font, screen.fonts.bold.font->FontSize, at, palette().ink, text.c_str(), nullptr, width);
}

/// Unit of bare numbers, label and hint of one reading.
void show_reading_field(Screen& screen, const std::string& key) {
    const std::string hint = find_measure_hint(key, screen.app.now.setup.implement.attachment == Attachment::drawn);
    show_quantity_field(screen, {key.c_str(), key.c_str(), Dimension::length, "not known"}, find_reading(key, screen.app.now.setup));
    if (!hint.empty()) show_quiet_text(hint);
}

}  // namespace

float find_reach(const Screen& screen) { return std::max(reach_ems * screen.em(), 0.5F * find_target(screen)); }

int find_hovered_point(const Screen& screen, const PictureCanvas& canvas, const std::vector<PicturePoint>& points) {
    return find_point_at(points, canvas.to_drawing(ImGui::GetIO().MousePos), canvas.metres(find_reach(screen)));
}

const Shape* find_hovered_shape(const Screen& screen, const PictureCanvas& canvas, const Drawing& drawing) {
    return find_shape_at(drawing, canvas.to_drawing(ImGui::GetIO().MousePos), canvas.metres(shape_ems * screen.em()));
}

void follow_measured(PictureState& act, const std::vector<PicturePoint>& points) {
    for (PicturePoint& m : act.measured) {
        const auto now = std::find_if(points.begin(), points.end(), [&](const PicturePoint& p) { return p.name == m.name; });
        if (now == points.end()) return act.measured.clear();
        m = *now;
    }
}

void pick_point(AppState& app, const PicturePoint& point) {
    PictureState& act = app.view.act;
    if (act.measured.size() > 1) act.measured.clear();
    act.measured.push_back(point);
}

void open_point_field(AppState& app, const PicturePoint& point) {
    if (point.x_key.empty() && point.hole.empty()) return;
    app.view.act.typed = point;
    app.view.act.drag.reset();
}

void use_point_keys(Screen& screen, const PictureContent& content) {
    PictureState& act = screen.app.view.act;
    const int count = static_cast<int>(content.points.size());
    if (count > 0 && is_typed('n')) act.stepped = (act.stepped + 1) % count;
    if (count > 0 && (is_typed('p') || is_typed('N'))) act.stepped = (std::max(act.stepped, 0) + count - 1) % count;
    act.stepped = std::min(act.stepped, count - 1);
    if (act.stepped >= 0) {
        const PicturePoint& p = content.points[static_cast<std::size_t>(act.stepped)];
        if (is_typed('m')) {
            act.measures = true;
            pick_point(screen.app, p);
        }
        if (is_struck(ImGuiKey_Enter) && !act.typed) open_point_field(screen.app, p);
    }
}

void use_escape(AppState& app) {
    PictureState& act = app.view.act;
    if (!is_escaped(app)) return;
    if (act.drag) return cancel_pull(app);
    act.stepped = -1;
    act.measures = false;
    act.measured.clear();
}

void show_picture_words(Screen& screen, const PictureCanvas& canvas, const PictureContent& content, bool hovered) {
    AppState& app = screen.app;
    PictureState& act = app.view.act;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(canvas.corner, {canvas.corner.x + canvas.size.x, canvas.corner.y + canvas.size.y}, true);
    for (const PicturePoint& p : act.measured) draw_ring(screen, canvas.to_screen(p.at), true);
    act.words = {};
    if (act.drag) {
        draw_pull(screen, canvas, content, *act.drag);
    } else if (!act.typed) {
        if (act.measured.size() == 2) act.said = say_distance(act.measured[0], act.measured[1], content.frame, app.view.units);
        else if (act.measures) act.said = act.measured.empty() ? "Measure: click the first point, or step to it with N and press M." : "Measure: now the second point. Escape ends it.";
        else act.said.clear();
        const bool mouse_rests = hovered && !ImGui::IsMouseDown(0) && !ImGui::IsMouseDown(1) && !ImGui::IsMouseDown(2);
        const int under = mouse_rests ? find_hovered_point(screen, canvas, content.points) : -1;
        const int shown = under >= 0 ? under : act.stepped;
        ImVec2 at = ImGui::GetIO().MousePos;
        if (shown >= 0 && shown < static_cast<int>(content.points.size())) {
            const PicturePoint& p = content.points[static_cast<std::size_t>(shown)];
            act.words = say_point(p, app.now.setup, content.frame, app.view.units);
            at = canvas.to_screen(p.at);
            draw_ring(screen, at, shown == act.stepped);
        } else if (mouse_rests) {
            const Shape* shape = find_hovered_shape(screen, canvas, content.drawing);
            const std::optional<PicturePart> part = shape ? find_part(*shape, app.now.setup) : std::nullopt;
            if (part) act.words = say_part(*part, app.now.setup, app.view.units);
        }
        if (!act.words.title.empty()) draw_tag(screen, canvas, at, join_words(act.words));
    }
    show_said(screen, canvas);
    list.PopClipRect();
}

void show_point_field(Screen& screen, const PictureCanvas& canvas) {
    AppState& app = screen.app;
    PictureState& act = app.view.act;
    if (!act.typed) return;
    const PicturePoint point = *act.typed;
    const char* const id = "readings of a point";
    if (!ImGui::IsPopupOpen(id)) ImGui::OpenPopup(id);
    const ImVec2 at = canvas.to_screen(point.at);
    ImGui::SetNextWindowPos({at.x + screen.em(), at.y + screen.em()}, ImGuiCond_Appearing);
    ImGui::SetNextWindowSize({std::min(24.0F * screen.em(), ImGui::GetIO().DisplaySize.x), 0.0F});
    if (!ImGui::BeginPopup(id)) {
        act.typed.reset();
        return;
    }
    show_heading(screen, point.name);
    bool closes = false;
    if (!point.hole.empty() && !point.chosen) {
        if (ImGui::Button("Take this hole")) closes = take_hole(app, point);
        remember_place(screen, "Take this hole");
    }
    if (!point.x_key.empty()) {
        show_reading_field(screen, point.x_key);
        show_reading_field(screen, point.z_key);
    } else {
        show_quiet_text("Its readings are on the left.");
    }
    if (ImGui::Button("Done")) closes = true;
    remember_place(screen, "Done");
    if (closes) {
        ImGui::CloseCurrentPopup();
        act.typed.reset();
    }
    ImGui::EndPopup();
}

}  // namespace hitchwright
