// Lines over the travel, or over the turn of a drawn implement: small charts side by side with one cursor. The cursor
// is the position of the machine: a drag in any chart moves the machine, and whatever moves the machine moves the
// cursor.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gui/curve_cursor.h"
#include "gui/key_steps.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {
namespace {

constexpr float least_cell_ems = 20.0F, chart_ems = 9.5F;  // of a chart: width with its words, height without
constexpr float gap_ems = 0.8F;
constexpr double small_share = 1.0 / 200.0, large_share = 1.0 / 20.0;  // of the range, for arrow and Page keys
/// Room is kept for words as long as these, so that charts stand still while the cursor moves.
constexpr const char* usual_words = "28 9/16 in, gap 1 3/16 in, 1 in needed";

/// Panels that are not taken off.
std::vector<std::size_t> list_shown(const CurveState& state) {
    std::vector<std::size_t> shown;
    for (std::size_t i = 0; i < state.panels.size(); ++i) {
        if (state.hidden.count(state.panels[i].kind) == 0) shown.push_back(i);
    }
    return shown;
}

std::size_t count_columns(const Screen& screen, float width, std::size_t charts) {
    const float cell = (least_cell_ems + gap_ems) * screen.em();
    return std::clamp<std::size_t>(static_cast<std::size_t>((width + gap_ems * screen.em()) / cell), 1,
                                   std::max<std::size_t>(charts, 1));
}

/// Check marks for the lines, in a box of their own: they are seldom touched and the charts need the room.
void show_choice(Screen& screen) {
    AppState& app = screen.app;
    if (ImGui::Button("Lines shown")) ImGui::OpenPopup("lines shown");
    remember_place(screen, "Lines shown");
    if (ImGui::IsItemHovered()) show_hint(screen, "Choose which lines are drawn");
    if (!ImGui::BeginPopup("lines shown")) return;
    for (const CurvePanel& panel : app.view.curves.panels) {
        const std::string name(curve_name(panel.kind));
        bool shown = app.view.curves.hidden.count(panel.kind) == 0;
        if (ImGui::Checkbox(name.c_str(), &shown)) {
            if (shown)
                app.view.curves.hidden.erase(panel.kind);
            else
                app.view.curves.hidden.insert(panel.kind);
        }
        remember_place(screen, "line " + name);
    }
    ImGui::EndPopup();
}

const PagePicture& place_chart(Screen& screen, std::size_t index, const PageRect& area) {
    CurveState& state = screen.app.view.curves;
    PlacedCurve& placed = state.placed[index];
    if (placed.area == area) return placed.page;
    placed = {area, {}};
    add_chart(placed.page, state.panels[index].chart, area, state.units, ScreenTextMeasure(screen.fonts),
              ChartWords::brief);
    return placed.page;
}

/// The cursor through a chart, with a ring where it meets each line.
void draw_cursor(Screen& screen, const CurvePanel& panel, const ChartAxes& axes, ImVec2 corner) {
    const AppState& app = screen.app;
    const float ppm = screen.fonts.pixels_per_mm;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto to_screen = [&](PagePoint p) {
        return ImVec2{corner.x + static_cast<float>(p.x) * ppm, corner.y + static_cast<float>(p.y) * ppm};
    };
    const double x = find_curve_cursor(app);
    const double across = axes.to_page({x, 0.0}).x;
    list.AddLine(to_screen({across, axes.plot.top - 1.0}), to_screen({across, axes.plot.bottom}), palette().blue,
                 0.4F * ppm);
    for (const TravelQuantity q : list_quantities(panel.kind)) {
        const std::optional<double> value = find_value_at_cursor(app, q);
        if (!value || *value * axes.y_per_si > axes.y_high || *value * axes.y_per_si < axes.y_low) continue;
        const ImVec2 at = to_screen(axes.to_page({x, *value}));
        list.AddCircleFilled(at, 1.1F * ppm, palette().paper);
        list.AddCircle(at, 1.1F * ppm, palette().blue, 0, 0.4F * ppm);
    }
}

void step_cursor(AppState& app, const KeySteps& steps) {
    if (!steps.any()) return;
    const CurveRange range = *find_curve_range(app);
    const double span = range.high - range.low;
    const StepSizes sizes{range.low, range.high, small_share * span, large_share * span};
    move_curve_cursor(app, step_value(find_curve_cursor(app), steps, sizes));
}

/// Mouse and keys of a chart.
void use_chart(Screen& screen, const ChartAxes& axes, ImVec2 corner) {
    AppState& app = screen.app;
    if (ImGui::IsItemActive() && ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
        const float across = (ImGui::GetIO().MousePos.x - corner.x) / screen.fonts.pixels_per_mm;
        move_curve_cursor(app, axes.to_x(static_cast<double>(across)));
    }
    if (ImGui::GetIO().NavVisible) step_cursor(app, take_focused_key_steps());
    show_focus(0.3F * screen.fonts.pixels_per_mm);
}

/// What the chart says at the cursor; at least `height` of room.
void show_words(Screen& screen, CurveKind kind, float width, float height) {
    const CurveWords words = say_at_cursor(screen.app, kind);
    const float top = ImGui::GetCursorPosY();
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
    ImGui::PushFont(screen.fonts.bold.font);
    std::string name(curve_name(kind));
    name.front() = static_cast<char>(name.front() - 'a' + 'A');
    ImGui::TextUnformatted(name.c_str());
    ImGui::PopFont();
    ImGui::PushStyleColor(ImGuiCol_Text, words.bad ? palette().alarm : palette().ink);
    const std::string text = (words.bad ? "! " : "") + words.text;
    ImGui::TextUnformatted(text.c_str(), text.c_str() + text.size());
    remember_place(screen, "words of " + std::string(curve_name(kind)));
    ImGui::PopStyleColor();
    ImGui::PopTextWrapPos();
    ImGui::SetCursorPosY(std::max(ImGui::GetCursorPosY(), top + height));
}

void show_cell(Screen& screen, std::size_t index, float width, float words_height) {
    const CurvePanel& panel = screen.app.view.curves.panels[index];
    const float ppm = screen.fonts.pixels_per_mm, height = chart_ems * screen.em();
    ImGui::BeginGroup();
    show_words(screen, panel.kind, width, words_height);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const PageRect area{0.0, 0.0, static_cast<double>(width / ppm), static_cast<double>(height / ppm)};
    const std::string name(curve_name(panel.kind));
    ImGui::InvisibleButton(name.c_str(), {width, height});
    remember_place(screen, "curve " + name, FingerMove::across);
    const ChartAxes axes = find_chart_axes(panel.chart, area, screen.app.view.curves.units, ChartWords::brief);
    use_chart(screen, axes, corner);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(corner, {corner.x + width, corner.y + height}, true);
    draw_page(list, place_chart(screen, index, area).shapes, {corner, ppm}, screen.fonts);
    draw_cursor(screen, panel, axes, corner);
    list.PopClipRect();
    ImGui::EndGroup();
}

float find_words_height(const Screen& screen, float width) {
    const ImVec2 size = ImGui::CalcTextSize(usual_words, nullptr, false, width);
    return size.y + ImGui::GetTextLineHeight() + 2.0F * ImGui::GetStyle().ItemSpacing.y + 0.1F * screen.em();
}

/// The cursor in words, and the keys that move it; those only where there is room.
void show_readout(Screen& screen) {
    AppState& app = screen.app;
    const std::string at = "At " + say_cursor(app);
    ImGui::AlignTextToFramePadding();
    const std::string keys = at + ". Drag in a chart; arrow and Page keys step, Home and End go to the ends.";
    const bool roomy = ImGui::CalcTextSize(keys.c_str()).x <= ImGui::GetContentRegionAvail().x;
    show_text(roomy ? keys : at);
    remember_place(screen, "curve readout");
}

}  // namespace

bool has_curves(const AppState& app) { return find_curve_range(app).has_value(); }

float find_curve_height(const Screen& screen) {
    const float rows = 2.0F;
    return rows * ((chart_ems + 1.0F) * screen.em() + 2.0F * ImGui::GetTextLineHeightWithSpacing()) +
           ImGui::GetFrameHeightWithSpacing() + 2.0F * ImGui::GetStyle().WindowPadding.y;
}

void show_curves(Screen& screen) {
    AppState& app = screen.app;
    if (!find_curve_range(app))
        return show_quiet_text("No lines: a reading is missing, or the linkage cannot close. The findings name it.");
    list_curves(app, ImGui::IsMouseDown(ImGuiMouseButton_Left));
    step_cursor(app, take_key_steps());
    show_choice(screen);
    ImGui::SameLine();
    show_readout(screen);
    const std::vector<std::size_t> shown = list_shown(app.view.curves);
    if (shown.empty()) return show_quiet_text("No line is chosen.");
    const float room = ImGui::GetContentRegionAvail().x, gap = gap_ems * screen.em();
    const std::size_t columns = count_columns(screen, room, shown.size());
    const float width = std::max(
        std::floor((room - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns)), 6.0F * screen.em());
    const float words = find_words_height(screen, width);
    for (std::size_t i = 0; i < shown.size(); ++i) {
        if (i % columns != 0) ImGui::SameLine(0.0F, gap);
        show_cell(screen, shown[i], width, words);
    }
}

}  // namespace hitchwright
