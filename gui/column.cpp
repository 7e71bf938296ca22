// See column.h.
#include "gui/column.h"

#include <algorithm>

#include "gui/panel_frame.h"
#include "gui/panels.h"
#include "gui/rooms.h"

namespace hitchwright {
namespace {

constexpr float least_columns_ems = 56.0F;         // of a window for three columns
constexpr float least_columns_touch_ems = 80.0F;  // the same where a finger needs larger controls
constexpr float picture_share = 0.8F, most_picture_share = 0.56F;  // of its width as height; of the height there is
constexpr float least_picture_ems = 12.0F, lift_lines = 2.0F;  // of the lift, so much is in sight below the picture with its buttons
constexpr int frames_until_high = 3;  // after which every panel is as high as what stands in it

/// What is left for the picture where verdict, picture and lift are to be in sight at once.
float find_picture_room(float height) {
    const ImGuiStyle& style = ImGui::GetStyle();
    const float lift = ImGui::GetFrameHeightWithSpacing() + lift_lines * ImGui::GetTextLineHeight() + style.WindowPadding.y;
    return height - ImGui::GetCursorPosY() - style.ItemSpacing.y - lift;
}

void show_column_picture(Screen& screen, float height) {
    const float width = ImGui::GetContentRegionAvail().x;
    const float most = std::min(most_picture_share * height, find_picture_room(height));
    const float high = std::max(std::min(picture_share * width, most), least_picture_ems * screen.em());
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {1.0F, 1.0F});
    show_panel(screen, "picture", {width, high}, show_picture, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar();
}

/// What leads to a place in a room brings that room there, and to sight: what is out of sight is not drawn, and finds no place.
void go_to_room(AppState& app, float height) {
    ViewState& view = app.view;
    const bool to_inputs = view.go_to_area == "inputs" || !view.inputs.go_to.empty(), to_findings = view.go_to_area == "findings";
    if (!to_inputs && !to_findings) return;
    view.side_room = to_inputs ? SideRoom::inputs : SideRoom::findings;
    const std::vector<float>& tops = view.column.tops;
    if (tops.size() < 2) return;
    const float room = tops[tops.size() - 2];
    if (room > ImGui::GetScrollY() + 0.5F * height) ImGui::SetScrollY(room);
}

/// Keeps what is at the upper edge where it is, when the parts above it have become higher or lower with the width.
void keep_place(ColumnView& column, float width) {
    if (column.width != width && column.width > 0.0F) column.frames_to_return = frames_until_high;
    column.width = width;
    if (column.tops.size() < 2) return;
    const std::vector<float>& tops = column.tops;
    if (column.frames_to_return > 0) {
        --column.frames_to_return;
        const std::size_t part = std::min(column.part, tops.size() - 2);
        ImGui::SetScrollY(tops[part] + column.share * (tops[part + 1] - tops[part]));
        return;
    }
    const float scrolled = ImGui::GetScrollY();
    column.part = 0;
    while (column.part + 2 < tops.size() && tops[column.part + 1] <= scrolled) ++column.part;
    column.share = (scrolled - tops[column.part]) / std::max(tops[column.part + 1] - tops[column.part], 1.0F);
}

void show_parts_of_column(Screen& screen, float height) {
    std::vector<float>& tops = screen.app.view.column.tops;
    tops.clear();
    const auto mark = [&] { tops.push_back(ImGui::GetCursorPosY()); };
    mark();
    show_verdict(screen);
    mark();
    show_column_picture(screen, height);
    mark();
    show_lower_panel(screen);
    mark();
    show_tools(screen);
    mark();
    show_side_room(screen);
    mark();
}

}  // namespace

bool wants_column(const Screen& screen) {
    const float least = screen.app.view.touch.coarse ? least_columns_touch_ems : least_columns_ems;
    return ImGui::GetIO().DisplaySize.x < least * screen.em();
}

void show_column(Screen& screen, ImVec2 size) {
    AppState& app = screen.app;
    // A finger scrolls without a bar, whose room the column would lack.
    const ImGuiWindowFlags bar = app.view.touch.coarse ? ImGuiWindowFlags_NoScrollbar : ImGuiWindowFlags_None;
    if (begin_on_desk("column", size, false, bar)) {
        keep_place(app.view.column, ImGui::GetIO().DisplaySize.x);
        go_to_room(app, size.y);
        if (app.view.column.go_to_picture || app.view.go_to_area == "picture") ImGui::SetScrollY(0.0F);
        app.view.column.go_to_picture = false;
        show_parts_of_column(screen, size.y);
    }
    ImGui::EndChild();
}

}  // namespace hitchwright
