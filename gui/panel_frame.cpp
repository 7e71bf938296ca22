#include "gui/panel_frame.h"

#include <algorithm>

namespace hitchwright {

bool begin_on_desk(const char* name, ImVec2 size, bool border, ImGuiWindowFlags flags) {
    ImGui::PushStyleColor(ImGuiCol_ChildBg, 0);
    const bool shown = ImGui::BeginChild(name, {std::max(size.x, 4.0F), std::max(size.y, 4.0F)}, border, flags);
    ImGui::PopStyleColor();
    return shown;
}

void show_panel(Screen& screen, const char* name, ImVec2 size, void (*show)(Screen&), ImGuiWindowFlags flags) {
    if (begin_on_desk(name, size, true, flags)) {
        if (std::string_view(name) == "picture") use_area(screen, name);
        show(screen);
    }
    ImGui::EndChild();
}

void show_whole_panel(Screen& screen, const char* name, void (*show)(Screen&)) {
    constexpr float first_ems = 20.0F;
    float& height = screen.app.view.column.heights.try_emplace(name, first_ems * screen.em()).first->second;
    if (begin_on_desk(name, {ImGui::GetContentRegionAvail().x, height}, true, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse)) {
        show(screen);
        const ImGuiStyle& style = ImGui::GetStyle();
        height = ImGui::GetCursorPosY() - style.ItemSpacing.y + style.WindowPadding.y + 1.0F;
    }
    ImGui::EndChild();
}

void show_fitting_panel(Screen& screen, const char* name, ImVec2 size, void (*show)(Screen&)) {
    if (screen.app.view.column.on) return show_whole_panel(screen, name, show);
    show_panel(screen, name, size, show);
}

}  // namespace hitchwright
