#include "gui/choices.h"

namespace hitchwright {

bool show_choice(Screen& screen, const std::string& label, bool chosen, const std::string& place) {
    const ImGuiStyle& style = ImGui::GetStyle();
    const float width = ImGui::CalcTextSize(label.c_str()).x + ImGui::GetFrameHeight() + style.ItemInnerSpacing.x;
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    const bool first = ImGui::GetCursorPosX() <= ImGui::GetCursorStartPos().x + 1.0F;
    if (!first && ImGui::GetCursorScreenPos().x + width > right) ImGui::NewLine();
    const bool pressed = ImGui::RadioButton((label + "##" + place).c_str(), chosen);
    remember_place(screen, place);
    ImGui::SameLine(0.0F, screen.em());
    return pressed && !chosen;
}

void end_choices() { ImGui::NewLine(); }

}  // namespace hitchwright
