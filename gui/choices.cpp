#include "gui/choices.h"

namespace hitchwright {

bool show_choice(Screen& screen, const std::string& label, bool chosen, const std::string& place) {
    start_in_row(label.c_str(), ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x - 2.0F * ImGui::GetStyle().FramePadding.x);
    const bool pressed = ImGui::RadioButton((label + "##" + place).c_str(), chosen);
    remember_place(screen, place);
    ImGui::SameLine(0.0F, screen.em());
    return pressed && !chosen;
}

void end_choices() { ImGui::NewLine(); }

}  // namespace hitchwright
