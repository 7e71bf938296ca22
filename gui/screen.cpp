#include "gui/screen.h"

#include <imgui_internal.h>

#include <algorithm>

#include "gui/palette.h"
#include "report/text_clean.h"

namespace hitchwright {

namespace {

constexpr float target_points = 40.0F;    // 10.6 mm where a point is 1/96 in
constexpr float scroll_to_share = 0.3F;  // of what is seen

/// Where a hint stands beside a finger, which would cover it below: above it, or below where there is no room.
void place_hint() {
    const ImGuiIO& io = ImGui::GetIO();
    const float away = 3.0F * ImGui::GetFontSize(), x = io.MousePos.x / std::max(io.DisplaySize.x, 1.0F);
    const bool above = io.MousePos.y > 0.4F * io.DisplaySize.y;
    ImGui::SetNextWindowPos({io.MousePos.x, io.MousePos.y + (above ? -away : away)}, ImGuiCond_Always, {x, above ? 1.0F : 0.0F});
}

}  // namespace

float find_target(const Screen& screen) {
    return screen.app.view.touch.coarse ? target_points * screen.fonts.scale / screen.app.view.scale : 0.0F;
}

float make_target(const Screen& screen, float pixels) { return std::max(pixels, find_target(screen)); }

bool show_line_of_list(Screen& screen, const char* words, bool chosen) {
    const float height = make_target(screen, ImGui::GetTextLineHeight());
    ImGui::PushStyleVar(ImGuiStyleVar_SelectableTextAlign, {0.0F, 0.5F});
    const bool pressed = ImGui::Selectable(words, chosen, ImGuiSelectableFlags_None, {0.0F, height});
    ImGui::PopStyleVar();
    return pressed;
}

bool show_fold_heading(Screen& screen, const char* words) {
    const ImGuiTreeNodeFlags tall = screen.app.view.touch.coarse ? ImGuiTreeNodeFlags_FramePadding : ImGuiTreeNodeFlags_None;
    return ImGui::TreeNodeEx(words, ImGuiTreeNodeFlags_NoTreePushOnOpen | ImGuiTreeNodeFlags_SpanAvailWidth | tall);
}

void scroll_here(Screen& screen) {
    if (!screen.app.view.column.on) return ImGui::SetScrollHereY(scroll_to_share);
    ImGuiWindow* column = ImGui::GetCurrentWindow();
    const auto scrolls = [](const ImGuiWindow* w) { return w->ScrollMax.y > 0.0F && (w->Flags & ImGuiWindowFlags_NoScrollWithMouse) == 0; };
    while (column->ParentWindow != nullptr && !scrolls(column)) column = column->ParentWindow;
    const float from_top = ImGui::GetCursorScreenPos().y - column->Pos.y;
    ImGui::SetScrollY(column, std::max(column->Scroll.y + from_top - scroll_to_share * column->Size.y, 0.0F));
}

void remember_place(Screen& screen, const std::string& name, FingerMove move) {
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    const float left = ImGui::GetWindowPos().x, right = left + ImGui::GetWindowSize().x;
    const bool cut = least.x < left - 1.0F || most.x > right + 1.0F;
    screen.app.view.places[name] = {least.x, least.y, most.x, most.y, cut, ImGui::GetFrameCount(), ImGui::GetItemID() != 0};
    TouchState& touch = screen.app.view.touch;
    if (ImGui::IsItemHovered()) touch.under = move;
    if (ImGui::IsItemActive() || ImGui::IsItemFocused()) screen.app.view.focus = name;
}

bool use_area(Screen& screen, std::string_view name) {
    if (screen.app.view.go_to_area != name) return false;
    screen.app.view.go_to_area.clear();
    ImGui::SetWindowFocus();
    ImGui::SetKeyboardFocusHere();
    return true;
}

void start_in_row(const char* words, float extra) {
    const float width = ImGui::CalcTextSize(words).x + 2.0F * ImGui::GetStyle().FramePadding.x + extra;
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    const float left = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMin().x;
    const bool first = ImGui::GetCursorScreenPos().x <= left + 1.0F;
    if (!first && ImGui::GetCursorScreenPos().x + width > right) ImGui::NewLine();
}

void show_text(std::string_view text) {
    const std::string clean = clean_text(text);
    ImGui::PushTextWrapPos(0.0F);
    ImGui::TextUnformatted(clean.data(), clean.data() + clean.size());
    ImGui::PopTextWrapPos();
}

void show_text(std::string_view text, const ScreenFont& font, ImU32 colour) {
    ImGui::PushFont(font.font);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    show_text(text);
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

void show_quiet_text(std::string_view text) {
    ImGui::PushStyleColor(ImGuiCol_Text, palette().quiet);
    show_text(text);
    ImGui::PopStyleColor();
}

void show_warning(std::string_view text) {
    ImGui::PushStyleColor(ImGuiCol_Text, palette().alarm);
    ImGui::TextUnformatted("!");
    ImGui::SameLine(0.0F, ImGui::GetFontSize() * 0.35F);
    show_text(text);
    ImGui::PopStyleColor();
}

float find_hint_width() {
    constexpr float width_ems = 36.0F, most_share = 0.9F;
    return std::min(width_ems * ImGui::GetFontSize(), most_share * ImGui::GetIO().DisplaySize.x);
}

bool begin_hint(Screen& screen) {
    const TouchState& touch = screen.app.view.touch;
    if (touch.hides_hints()) return false;
    if (touch.by_finger) place_hint();
    ImGui::BeginTooltip();
    return true;
}

void show_hint(Screen& screen, std::string_view text) {
    if (!begin_hint(screen)) return;
    screen.app.view.hint = text;
    ImGui::PushTextWrapPos(find_hint_width());
    while (!text.empty()) {
        const std::string line = clean_text(text.substr(0, text.find('\n')));
        ImGui::TextUnformatted(line.data(), line.data() + line.size());
        text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
    }
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
}

void show_heading(Screen& screen, std::string_view text) {
    show_text(text, screen.fonts.bold, palette().blue);
}

std::string say_problem(const std::vector<Problem>& problems) {
    if (problems.empty()) return {};
    const Problem& p = problems.front();
    std::string text = escape_text(p.message, 400);
    if (!p.allowed.empty()) text += "; allowed: " + escape_text(p.allowed, 200);
    return text + ".";
}

}  // namespace hitchwright
