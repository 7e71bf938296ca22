// The room of the yard: three lists, what the pair comes to, and what of this set-up can be put there.
#include "gui/panels.h"

#include <algorithm>

#include <imgui_stdlib.h>

#include "gui/palette.h"
#include "gui/yard.h"

namespace hitchwright {
namespace {

constexpr float list_rows = 5.5F;

/// One list; a click chooses. `none`: the line that stands for nothing, or nullptr.
void show_list(Screen& screen, const char* title, const std::vector<YardMachine>& machines, const char* none,
               std::string& chosen) {
    show_heading(screen, title);
    const float height = list_rows * ImGui::GetTextLineHeightWithSpacing();
    if (ImGui::BeginChild(title, {0.0F, height}, true)) {
        if (none != nullptr && show_line_of_list(screen, none, chosen.empty())) chosen.clear();
        if (none != nullptr) remember_place(screen, std::string(title) + " none");
        for (const YardMachine& machine : machines) {
            const std::string label = machine.key + (machine.own ? "" : "  (example)");
            if (show_line_of_list(screen, label.c_str(), machine.key == chosen)) chosen = machine.key;
            remember_place(screen, std::string(title) + " " + machine.key);
            if (ImGui::IsItemHovered())
                show_hint(screen, machine.title + (machine.own ? "" : "; an invented example, measure yours"));
        }
    }
    ImGui::EndChild();
}

std::shared_ptr<const YardLists> find_lists(AppState& app) {
    YardView& yard = app.view.yard;
    if (yard.lists == nullptr) {
        yard.lists = std::make_shared<const YardLists>(list_yard(app.library));
        // What the set-up uses is where a choice begins.
        const Setup& setup = app.now.setup;
        if (yard.choice == YardChoice{})
            yard.choice = {setup.tractor.key, setup.implement.key, setup.has_driveline ? setup.driveline.key : ""};
    }
    return yard.lists;
}

void show_answer(Screen& screen) {
    AppState& app = screen.app;
    YardView& yard = app.view.yard;
    show_heading(screen, "This pair");
    if (yard.choice.tractor.empty() || yard.choice.implement.empty())
        return show_text("Choose a tractor and an implement.");
    if (yard.answer == nullptr || yard.answered != yard.choice || yard.units != app.view.units) {
        yard.answer =
            std::make_shared<const YardAnswer>(try_pairing(app.library, yard.choice, app.mark, app.view.units));
        yard.answered = yard.choice;
        yard.units = app.view.units;
    }
    // Opening a pair makes the view anew.
    const std::shared_ptr<const YardAnswer> answer = yard.answer;
    if (!answer->verdict.empty()) show_text(answer->verdict, screen.fonts.bold, palette().ink);
    remember_place(screen, "pair verdict");
    ImGui::BeginDisabled(answer->text.empty());
    const bool pressed = ImGui::Button("Open this pair");
    ImGui::EndDisabled();
    remember_place(screen, "open pair");
    if (ImGui::IsItemHovered())
        show_hint(screen, "as a set-up that is in no file yet; \"Write into a file\" then keeps it");
    for (const std::string& line : answer->words) show_text(line);
    if (pressed) open_pairing(app, *answer);
}

void ask_name(AppState& app, FileKind kind) {
    YardView& yard = app.view.yard;
    yard.kind = kind;
    yard.asks_name = true;
    yard.own_key = propose_yard_key(app, kind);
    yard.message.clear();
}

void show_name(Screen& screen) {
    AppState& app = screen.app;
    YardView& yard = app.view.yard;
    show_text("Name of the " + std::string(file_kind_name(yard.kind)) + " in the yard:");
    ImGui::SetNextItemWidth(-1.0F);
    const bool entered = ImGui::InputText("##yard name", &yard.own_key, ImGuiInputTextFlags_EnterReturnsTrue);
    remember_place(screen, "yard name");
    const bool pressed = ImGui::Button("Put it there");
    remember_place(screen, "put there");
    ImGui::SameLine();
    start_in_row("Cancel");
    if (ImGui::Button("Cancel##yard")) yard.asks_name = false;
    remember_place(screen, "cancel yard");
    if (!entered && !pressed) return;
    std::string failed = put_into_yard(app, yard.kind, yard.own_key);
    if (failed.empty())
        yard.asks_name = false;
    else
        yard.message = std::move(failed);
}

void show_putting(Screen& screen) {
    AppState& app = screen.app;
    show_heading(screen, "From this set-up into the yard");
    show_quiet_text("As it now is, changes included, into a new file of your own folder.");
    for (const FileKind kind : {FileKind::tractor, FileKind::implement, FileKind::driveline}) {
        if (kind == FileKind::driveline && !app.now.setup.has_driveline) continue;
        const std::string word = kind == FileKind::driveline ? "shaft" : std::string(file_kind_name(kind));
        start_in_row(("The " + word).c_str());
        if (ImGui::Button(("The " + word).c_str())) ask_name(app, kind);
        remember_place(screen, "put " + word);
        ImGui::SameLine();
    }
    ImGui::NewLine();
    if (app.view.yard.asks_name) show_name(screen);
    if (app.view.yard.message.empty()) return;
    show_text(app.view.yard.message, screen.fonts.bold, palette().rust);
    remember_place(screen, "yard message");
}

}  // namespace

void show_yard(Screen& screen) {
    AppState& app = screen.app;
    const std::shared_ptr<const YardLists> lists = find_lists(app);
    YardChoice& choice = app.view.yard.choice;
    // What the pair comes to stands first: in a small window the lists are scrolled, not the answer.
    show_answer(screen);
    ImGui::Separator();
    show_list(screen, "Tractors", lists->tractors, nullptr, choice.tractor);
    show_list(screen, "Implements", lists->implements, nullptr, choice.implement);
    show_list(screen, "Shafts", lists->drivelines, "none", choice.driveline);
    ImGui::Separator();
    show_putting(screen);
}

}  // namespace hitchwright
