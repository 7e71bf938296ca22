// See rooms.h.
#include "gui/rooms.h"

#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {
namespace {

/// Where there are three columns the inputs have one of their own.
bool has_one_column(const AppState& app) { return app.view.column.on; }
bool has_hole_table(const AppState& app) { return !app.results.analysis.drawn; }

constexpr RoomEntry<SideRoom> side_table[] = {
    {{SideRoom::findings, "Findings", "findings", "What to do, and every finding, worst first", nullptr}, show_findings_and_holes, true},
    {{SideRoom::inputs, "Inputs", "inputs", "What can be changed, and every reading, in walking order round the machine", has_one_column}, show_inputs, false, nullptr, false},
    {{SideRoom::holes, "Holes", "holes", "Every pair of upper-link holes with its pitch over the travel", has_hole_table}, show_holes},
    {{SideRoom::cut, "Cut", "cut", "How much comes off the shaft, and what that leaves", nullptr}, show_cut},
    {{SideRoom::compare, "Compare", "compare", "Another set-up beside this one, and what differs", nullptr}, show_compare},
    {{SideRoom::answers, "Answers", "answers", "Loads, shafts, what could be wrong, specification, sheet and card", nullptr}, show_answers},
    {{SideRoom::changes, "Changes", "changes", "Each value that is not as in the file, the verdict before and after, and the way back", nullptr}, show_changes},
    {{SideRoom::yard, "Yard", "yard", "Your tractors, implements and shafts: pair one of each, or put one of this set-up there", nullptr}, show_yard},
    {{SideRoom::level, "Level", "level", "Level from side to side, the lift rods, sway, and the room beside the tyres", has_level}, show_level},
};

constexpr RoomEntry<LowerRoom> lower_table[] = {
    {{LowerRoom::lift, "Lift", "lift", "Move the lift, or the implement, and see where something is wrong", nullptr}, show_lift, false, "Turn"},
    {{LowerRoom::curves, "Curves", "curves", "Lines over the whole travel, or the whole turn, with one cursor", has_curves}, show_curves},
};

/// A button that is down for the room shown; the chosen one has a thick lower edge, so that the shade alone says nothing.
bool show_room_button(Screen& screen, const char* word, const char* hint, bool chosen) {
    start_in_row(word);
    ImGui::PushStyleColor(ImGuiCol_Button, chosen ? palette().pale_blue : palette().field);
    const bool pressed = ImGui::Button(word);
    ImGui::PopStyleColor();
    remember_place(screen, word);
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    const float edge = 0.18F * screen.em();
    if (chosen) ImGui::GetWindowDrawList()->AddRectFilled({least.x, most.y - edge}, most, palette().blue);
    if (ImGui::IsItemHovered()) show_hint(screen, hint);
    ImGui::SameLine(0.0F, 0.3F * screen.em());
    return pressed;
}

template <class Room>
void show_buttons(Screen& screen, std::span<const RoomEntry<Room>> table, Room& room, Room shown) {
    if (table.size() < 2) return;
    for (const RoomEntry<Room>& entry : table) {
        if (!is_there(screen.app, entry)) continue;
        const bool other_word = entry.drawn_word != nullptr && screen.app.results.analysis.drawn;
        if (show_room_button(screen, other_word ? entry.drawn_word : entry.word, entry.hint, entry.choice == shown)) room = entry.choice;
    }
    ImGui::NewLine();
}

}  // namespace

std::span<const RoomEntry<SideRoom>> side_rooms() { return side_table; }
std::span<const RoomEntry<LowerRoom>> lower_rooms() { return lower_table; }

std::optional<SideRoom> find_side_room(std::string_view name) { return find_named(side_rooms(), name); }
std::optional<LowerRoom> find_lower_room(std::string_view name) { return find_named(lower_rooms(), name); }

const RoomEntry<SideRoom>& shown_side_room(const AppState& app) { return find_shown(side_rooms(), app.view.side_room, app); }
const RoomEntry<LowerRoom>& shown_lower_room(const AppState& app) { return find_shown(lower_rooms(), app.view.lower_room, app); }

void show_side_room_buttons(Screen& screen) {
    show_buttons(screen, side_rooms(), screen.app.view.side_room, shown_side_room(screen.app).choice);
}

void show_lower_room_buttons(Screen& screen) {
    show_buttons(screen, lower_rooms(), screen.app.view.lower_room, shown_lower_room(screen.app).choice);
}

}  // namespace hitchwright
