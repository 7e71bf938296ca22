// The layout: tools and verdict on top, inputs on the left, picture and lift in the middle, findings and holes on the
// right, cautions at the bottom.
#include <algorithm>

#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {
namespace {

constexpr float input_ems = 17.0F, input_share = 0.2F;
constexpr float finding_ems = 33.0F, finding_share = 0.31F;

/// A panel with its border. The name is also its place.
template <class Show>
void show_panel(Screen& screen, const char* name, ImVec2 size, const Show& show, ImGuiWindowFlags flags = 0) {
    size = {std::max(size.x, 4.0F), std::max(size.y, 4.0F)};
    if (ImGui::BeginChild(name, size, true, flags)) show(screen);
    ImGui::EndChild();
}

void show_middle(Screen& screen, ImVec2 size) {
    const bool drawn = screen.app.results.analysis.drawn.has_value();
    const float travel = std::min(drawn ? find_attitude_height(screen) : find_travel_height(screen), 0.55F * size.y);
    const float gap = ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginGroup();
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {1.0F, 1.0F});
    show_panel(screen, "picture", {size.x, size.y - travel - gap}, drawn ? show_drawn_picture : show_side_view,
               ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar();
    show_panel(screen, "travel", {size.x, travel}, drawn ? show_attitude : show_travel);
    ImGui::EndGroup();
}

void show_right(Screen& screen, ImVec2 size) {
    const bool drawn = screen.app.results.analysis.drawn.has_value();
    const float holes = std::min(drawn ? find_position_height(screen) : find_hole_height(screen), 0.5F * size.y);
    const float gap = ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginGroup();
    show_panel(screen, "findings", {size.x, size.y - holes - gap}, show_findings);
    show_panel(screen, "hole table", {size.x, holes}, drawn ? show_positions : show_holes);
    ImGui::EndGroup();
}

void show_columns(Screen& screen, float height) {
    const float width = ImGui::GetContentRegionAvail().x, gap = ImGui::GetStyle().ItemSpacing.x;
    const float left = std::min(input_ems * screen.em(), input_share * width);
    const float right = std::min(finding_ems * screen.em(), finding_share * width);
    show_panel(screen, "inputs", {left, height}, show_inputs);
    ImGui::SameLine();
    show_middle(screen, {width - left - right - 2.0F * gap, height});
    ImGui::SameLine();
    show_right(screen, {right, height});
}

void use_shortcuts(AppState& app) {
    const ImGuiIO& io = ImGui::GetIO();
    if (!io.KeyCtrl || io.WantTextInput) return;
    if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Z))) io.KeyShift ? redo(app) : undo(app);
    if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Y))) redo(app);
}

}  // namespace

void show_window(Screen& screen) {
    AppState& app = screen.app;
    use_shortcuts(app);
    constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus;
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::Begin("hitchwright", nullptr, flags);
    show_tools(screen);
    if (app.problems.empty()) show_verdict(screen);
    const float cautions = find_caution_height(screen) + ImGui::GetStyle().ItemSpacing.y;
    const float height = std::max(ImGui::GetContentRegionAvail().y - cautions, 4.0F);
    if (app.problems.empty()) show_columns(screen, height);
    else show_panel(screen, "problem list", {ImGui::GetContentRegionAvail().x, height}, show_problems);
    show_cautions(screen);
    ImGui::End();
    show_close_question(screen);
    show_save_question(screen);
}

}  // namespace hitchwright
