// The layout of a wide window (a narrow one is column.cpp): tools and verdict on top, inputs on the left, picture and lift in the middle, findings and holes on the
// right, cautions at the bottom.
#include <algorithm>
#include <cmath>

#include "gui/column.h"
#include "gui/frame_work.h"
#include "gui/palette.h"
#include "gui/panel_frame.h"
#include "gui/panels.h"
#include "gui/rooms.h"
#include "gui/shortcuts.h"

namespace hitchwright {
namespace {

constexpr float input_ems = 17.0F, input_share = 0.2F;
constexpr float finding_ems = 33.0F, finding_share = 0.31F;

bool shows_drawn(const AppState& app) { return app.results.analysis.drawn.has_value(); }

/// Height the room below the picture wants, pixels.
float find_lower_height(const Screen& screen) {
    const float buttons = lower_rooms().size() < 2 ? 0.0F : ImGui::GetFrameHeightWithSpacing();
    if (shown_lower_room(screen.app).choice == LowerRoom::curves) return buttons + find_curve_height(screen);
    return buttons + (shows_drawn(screen.app) ? find_attitude_height(screen) : find_travel_height(screen));
}

void show_lower_room(Screen& screen) {
    show_lower_room_buttons(screen);
    shown_lower_room(screen.app).show(screen);
}

void show_middle(Screen& screen, ImVec2 size) {
    const float lower = std::min(find_lower_height(screen), 0.55F * size.y);
    const float gap = ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginGroup();
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {1.0F, 1.0F});
    show_panel(screen, "picture", {size.x, size.y - lower - gap}, show_picture,
               ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar();
    show_panel(screen, "travel", {size.x, lower}, show_lower_room);
    ImGui::EndGroup();
}

void show_right(Screen& screen, ImVec2 size) {
    // Without a border a child has no padding of its own.
    if (begin_on_desk("side room", size, false, ImGuiWindowFlags_NoScrollbar))
        show_side_room(screen);
    ImGui::EndChild();
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

/// The style follows the theme chosen, and what points here.
void use_style(Screen& screen) {
    const float target = find_target(screen);
    const bool same = &palette() == &palette_of(screen.app.view.theme) && ImGui::GetStyle().FramePadding.y == find_frame_padding(screen.em(), target).y;
    if (!same) set_style(screen.em(), screen.app.view.theme, target);
}

void show_column_and_notices(Screen& screen, ImVec2 size) {
    ColumnView& column = screen.app.view.column;
    const float height = std::max(size.y - column.notice_height, 4.0F);
    show_column(screen, {size.x, height});
    const float top = ImGui::GetCursorPosY();
    show_notices(screen);
    column.notice_height = ImGui::GetCursorPosY() - top;
}

/// All between the upper edge of the window and the cautions.
void show_all(Screen& screen, float cautions) {
    AppState& app = screen.app;
    if (!app.view.column.on) show_tools(screen);
    if (app.problems.empty() && !app.view.column.on) show_verdict(screen);
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float height = std::max(room.y - cautions, 4.0F);
    if (app.view.column.on) show_column_and_notices(screen, {room.x, height});
    else if (app.problems.empty()) show_columns(screen, height);
    else show_panel(screen, "problem list", {room.x, height}, show_problems);
}

}  // namespace

void show_picture(Screen& screen) { shows_drawn(screen.app) ? show_drawn_picture(screen) : show_side_view(screen); }

void show_lower_panel(Screen& screen) {
    // The tracks of the lift fill what they are given; what else may stand there has a height of its own.
    const bool tracks = shown_lower_room(screen.app).choice == LowerRoom::lift && !shows_drawn(screen.app);
    if (!tracks) return show_whole_panel(screen, "travel", show_lower_room);
    show_panel(screen, "travel", {ImGui::GetContentRegionAvail().x, find_lower_height(screen)}, show_lower_room, ImGuiWindowFlags_NoScrollbar);
}

void show_side_room(Screen& screen) {
    screen.app.view.compare.hovered.reset();  // the table of holes says it anew while it is shown
    show_side_room_buttons(screen);
    const RoomEntry<SideRoom>& room = shown_side_room(screen.app);
    if (room.own_panels) return room.show(screen);
    show_fitting_panel(screen, room.name, ImGui::GetContentRegionAvail(), room.show);
}

void show_findings_and_holes(Screen& screen) {
    const bool drawn = shows_drawn(screen.app);
    const ImVec2 size = ImGui::GetContentRegionAvail();
    const float holes = std::min(drawn ? find_position_height(screen) : find_hole_height(screen), 0.5F * size.y);
    const float gap = ImGui::GetStyle().ItemSpacing.y;
    show_fitting_panel(screen, "findings", {size.x, size.y - holes - gap}, show_findings);
    show_fitting_panel(screen, "hole table", {size.x, holes}, drawn ? show_positions : show_holes);
}

void show_lift(Screen& screen) { shows_drawn(screen.app) ? show_attitude(screen) : show_travel(screen); }

void show_window(Screen& screen) {
    AppState& app = screen.app;
    use_style(screen);
    app.view.focus.clear();
    app.view.hint.clear();
    begin_frame_work(app);
    if (const Shortcut* pressed = find_pressed()) do_shortcut(app, *pressed);
    // The desk is what the frame is cleared to.
    constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoBackground |
                                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus;
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::Begin("hitchwright", nullptr, flags);
    ImGui::SetCursorPosX(std::floor(ImGui::GetCursorPosX()));  // where all later rows begin, so that a width is the same in each
    app.view.column.on = app.problems.empty() && wants_column(screen);
    const float cautions = find_caution_height(screen) + ImGui::GetStyle().ItemSpacing.y;
    show_all(screen, cautions);
    // They lie over all else where a window has no room for both.
    ImGui::SetCursorPosY(std::min(ImGui::GetCursorPosY(), ImGui::GetIO().DisplaySize.y - cautions));
    show_cautions(screen);
    ImGui::End();
    show_close_question(screen);
    show_save_question(screen);
    show_export_question(screen);
    show_keys(screen);
    show_file_questions(screen);
    end_frame_work(app);
}

}  // namespace hitchwright
