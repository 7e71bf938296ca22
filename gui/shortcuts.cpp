#include "gui/shortcuts.h"

#include <algorithm>
#include <iterator>
#include <vector>

#include <imgui.h>

#include "gui/answers.h"
#include "gui/ditch_place.h"
#include "gui/export.h"
#include "gui/rooms.h"
#include "gui/screen.h"
#include "gui/typing.h"

namespace hitchwright {
namespace {

constexpr float scale_step = 1.125F, least_scale = 0.6F, most_scale = 3.0F;

// Without Ctrl with N, T and W: a browser keeps those for its windows and tabs, and closes the page.
const Shortcut own_table[] = {
    {Action::keys, {key_f1}, "these keys, and the cautions"},
    {Action::undo, {'Z', true}, "undo the last change"},
    {Action::redo, {'Z', true, true}, "redo what was undone"},
    {Action::redo, {'Y', true}, "redo what was undone"},
    {Action::read_again, {key_f1 + 4}, "read the files again; the changes stay over them"},
    {Action::open, {'O', true}, "open another set-up"},
    {Action::save, {'S', true}, "write the changes into a file: asks first"},
    {Action::take_with_you, {'E', true}, "take it with you: picture, sheet, card, table or the window as a file"},
    {Action::save_as, {'S', true, true}, "save the set-up in another file"},
    {Action::copy_options, {'C', true, true}, "copy the changes as options of the command line"},
    {Action::change_units, {'U', true}, "inches or millimetres"},
    {Action::change_theme, {'D', true}, "dark or light"},
    {Action::larger, {'=', true}, "everything larger"},
    {Action::smaller, {'-', true}, "everything smaller"},
    {Action::fit_picture, {'0', true}, "fit the picture to the window"},
    {Action::at_work, {'B', true}, "the lift back to the working height; a drawn implement straight and level"},
    {Action::next_picture, {key_f1 + 5}, "the next picture: from the side, from above, from behind; of a drawn implement also turn and dip, and in the ditch"},
    {Action::next_answer, {key_f1 + 6}, "the next of the answers"},
    {Action::go_to_inputs, {key_f1 + 1}, "to the inputs: type a word to find a reading; F1 on a field says how to measure it"},
    {Action::go_to_picture, {key_f1 + 2}, "to the picture"},
    {Action::go_to_findings, {key_f1 + 3}, "to the findings; Enter folds one out"},
    {Action::close, {'Q', true}, "close the window: asks first when changes are not saved"},
};

template <class Room>
void add_rooms(std::vector<Shortcut>& table, Action action, std::span<const RoomEntry<Room>> rooms, bool shift) {
    if (rooms.size() < 2) return;
    int digit = '1';
    for (std::size_t i = 0; i < rooms.size() && digit <= '9'; ++i) {
        if (rooms[i].numbered) table.push_back({action, {digit++, true, shift}, std::string(rooms[i].word) + ": " + rooms[i].hint, i});
    }
}

std::vector<Shortcut> make_table() {
    std::vector<Shortcut> table(std::begin(own_table), std::end(own_table));
    add_rooms(table, Action::show_side_room, side_rooms(), false);
    add_rooms(table, Action::show_lower_room, lower_rooms(), true);
    return table;
}

template <class Room>
bool has_room(const AppState& app, std::span<const RoomEntry<Room>> rooms, std::size_t place) {
    return place < rooms.size() && is_there(app, rooms[place]);
}

}  // namespace

std::span<const Shortcut> shortcuts() {
    static const std::vector<Shortcut> table = make_table();
    return table;
}

std::string say_chord(const KeyChord& chord) {
    std::string text = chord.control ? "Ctrl+" : "";
    if (chord.shift) text += "Shift+";
    if (chord.key >= key_f1) return text + "F" + std::to_string(chord.key - key_f1 + 1);
    return text + static_cast<char>(chord.key);
}

std::string say_key_of(Action action) {
    for (const Shortcut& s : shortcuts()) {
        if (s.action == action) return " (" + say_chord(s.chord) + ")";
    }
    return {};
}

bool can_do(const AppState& app, const Shortcut& shortcut) {
    const Action action = shortcut.action;
    if (!app.problems.empty())
        return action == Action::keys || action == Action::open || action == Action::read_again || action == Action::change_units ||
               action == Action::change_theme || action == Action::larger || action == Action::smaller || action == Action::close;
    switch (action) {
        case Action::undo: return can_undo(app);
        case Action::redo: return can_redo(app);
        case Action::save: return app.drafted || app.now.edits != Edits{};
        case Action::copy_options: return app.now.edits != Edits{};
        case Action::next_picture: return app.now.setup.implement.attachment == Attachment::drawn || app.results.analysis.linkage.has_value();
        case Action::show_side_room: return has_room(app, side_rooms(), shortcut.place);
        case Action::show_lower_room: return has_room(app, lower_rooms(), shortcut.place);
        default: return true;
    }
}

namespace {

/// The hint of the choice or switch that has the keyboard, as F1 does while somebody types; false: none has.
bool toggle_hint(AppState& app) {
    InputState& inputs = app.view.inputs;
    if (inputs.keyed.empty() || inputs.keyed_frame + 1 < ImGui::GetFrameCount()) return false;
    inputs.hint = inputs.hint == inputs.keyed ? std::string{} : inputs.keyed;
    return true;
}

void show_next_picture(AppState& app) {
    if (app.now.setup.implement.attachment == Attachment::mounted) {
        constexpr MountedPicture kinds[] = {MountedPicture::side, MountedPicture::plan, MountedPicture::rear};
        MountedPicture& shown = app.view.act.switches.mounted;
        shown = kinds[(static_cast<std::size_t>(shown) + 1) % std::size(kinds)];
        return leave_mounted_picture(app);
    }
    constexpr DrawnPicture order[] = {DrawnPicture::plan, DrawnPicture::side, DrawnPicture::chart, DrawnPicture::ditch};
    const auto now = static_cast<std::size_t>(std::find(std::begin(order), std::end(order), app.view.drawn_picture) - std::begin(order));
    const DrawnPicture next = order[(now + 1) % std::size(order)];
    app.view.drawn_picture = next == DrawnPicture::ditch && !find_shown_station(app) ? order[0] : next;
}

void show_next_answer(AppState& app) {
    const std::span<const AnswerEntry> all = answer_entries();
    std::size_t at = static_cast<std::size_t>(&shown_answer(app) - all.data());
    if (app.view.side_room == SideRoom::answers) {
        do at = (at + 1) % all.size();
        while (!is_there(app, all[at]));
    }
    app.view.side_room = SideRoom::answers;
    app.view.answers.kind = all[at].choice;
}

}  // namespace

void do_shortcut(AppState& app, const Shortcut& shortcut) {
    // What is being typed may be the first change.
    if (!can_do(app, shortcut) && !(shortcut.action == Action::save && (is_typing(app) || would_lose(app)))) return;
    switch (shortcut.action) {
        case Action::keys:
            if (!toggle_hint(app)) app.view.shows_keys = true;
            break;
        case Action::undo: undo(app); break;
        case Action::redo: redo(app); break;
        case Action::read_again: {
            const std::vector<Problem> problems = read_again(app);
            if (!problems.empty()) app.view.notice = "Not read again, the old values count: " + say_problem(problems);
            break;
        }
        case Action::open: do_after_typing(app, AfterTyping::open); break;
        case Action::save: do_after_typing(app, AfterTyping::save); break;
        case Action::take_with_you: ask_to_export(app); break;
        case Action::save_as: do_after_typing(app, AfterTyping::save_as); break;
        case Action::copy_options: ImGui::SetClipboardText(join_options(app.now.edits).c_str()); break;
        case Action::change_units:
            app.view.units = app.view.units == UnitSystem::inch ? UnitSystem::millimetre : UnitSystem::inch;
            break;
        case Action::change_theme: app.view.theme = app.view.theme == Theme::dark ? Theme::light : Theme::dark; break;
        case Action::larger: app.view.scale = std::min(app.view.scale * scale_step, most_scale); break;
        case Action::smaller: app.view.scale = std::max(app.view.scale / scale_step, least_scale); break;
        case Action::fit_picture: app.view.camera.fitted = true; break;
        case Action::at_work:
            app.view.ball_height.reset();
            app.view.attitude.reset();
            app.view.act.sway = 0.0;
            break;
        case Action::next_picture: show_next_picture(app); break;
        case Action::next_answer: show_next_answer(app); break;
        case Action::go_to_inputs: app.view.go_to_area = "inputs"; break;
        case Action::go_to_picture: app.view.go_to_area = "picture"; break;
        case Action::go_to_findings:
            app.view.side_room = SideRoom::findings;
            app.view.go_to_area = "findings";
            break;
        case Action::close: ask_to_close(app); break;
        case Action::show_side_room: app.view.side_room = side_rooms()[shortcut.place].choice; break;
        case Action::show_lower_room: app.view.lower_room = lower_rooms()[shortcut.place].choice; break;
    }
}

// Version 1.86 of Dear ImGui names few keys; the others are found by the window system's number.
int find_key_index(int key) {
    switch (key) {
        case 'A': return ImGui::GetKeyIndex(ImGuiKey_A);
        case 'C': return ImGui::GetKeyIndex(ImGuiKey_C);
        case 'V': return ImGui::GetKeyIndex(ImGuiKey_V);
        case 'X': return ImGui::GetKeyIndex(ImGuiKey_X);
        case 'Y': return ImGui::GetKeyIndex(ImGuiKey_Y);
        case 'Z': return ImGui::GetKeyIndex(ImGuiKey_Z);
        default: return key;
    }
}

const Shortcut* find_pressed() {
    const ImGuiIO& io = ImGui::GetIO();
    if (io.KeyAlt) return nullptr;
    if (ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return nullptr;
    for (const Shortcut& s : shortcuts()) {
        const bool goes = s.action == Action::go_to_inputs || s.action == Action::go_to_picture || s.action == Action::go_to_findings;
        const bool takes_text = s.action == Action::open || s.action == Action::save || s.action == Action::save_as || s.action == Action::close;
        if (io.WantTextInput && !goes && !takes_text) continue;
        const bool held = io.KeyCtrl == s.chord.control && io.KeyShift == s.chord.shift;
        const bool repeats = s.action == Action::undo || s.action == Action::redo;
        if (held && ImGui::IsKeyPressed(find_key_index(s.chord.key), repeats)) return &s;
    }
    return nullptr;
}

}  // namespace hitchwright
