#include "gui/screen.h"

#include <algorithm>

#include "gui/palette.h"
#include "report/text_clean.h"

namespace hitchwright {

void remember_place(Screen& screen, const std::string& name) {
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    const float left = ImGui::GetWindowPos().x, right = left + ImGui::GetWindowSize().x;
    const bool cut = least.x < left - 1.0F || most.x > right + 1.0F;
    screen.app.view.places[name] = {least.x, least.y, most.x, most.y, cut, ImGui::GetFrameCount()};
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

void show_hint(std::string_view text) {
    ImGui::BeginTooltip();
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
