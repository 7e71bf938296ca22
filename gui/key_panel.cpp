// Keys and cautions: the table of shortcuts, what mouse and arrow keys do, and every caution that holds for the set-up.
#include <algorithm>

#include "gui/panels.h"
#include "gui/shortcuts.h"
#include "report/caution_text.h"
#include "report/fit_report.h"

namespace hitchwright {
namespace {

constexpr const char* title = "Keys and cautions";
constexpr float width_ems = 46.0F, most_share = 0.92F;

/// What needs no line in the table of shortcuts, since Dear ImGui or the panel itself takes it.
struct Habit {
    const char* with;
    const char* words;
};
constexpr Habit habits[] = {
    {"Tab, arrow keys", "go from control to control; Space or Enter presses one"},
    {"Enter in a field", "takes what was typed"},
    {"Esc", "leaves a field as it was; closes a list or a question"},
    {"Mouse wheel", "over the picture: larger or smaller about the cursor"},
    {"Drag", "what can be pulled follows, else the picture moves; on the tracks the lift moves"},
    {"Over the picture", "+ and - larger or smaller, 0 all of it, Shift with arrow keys moves it"},
    {"N, P", "over the picture: the next point, the one before; M measures from it, Enter types its readings"},
    {"Space", "over the ditch: drives on, or stops"},
    {"Esc while pulling", "everything stays as it was"},
    {"Click on a finding", "shows the height it is about"},
};

void show_row(const char* with, const char* words) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(with);
    ImGui::TableNextColumn();
    show_text(words);
}

void show_table(Screen& screen) {
    float widest = 0.0F;
    for (const Shortcut& s : shortcuts()) widest = std::max(widest, ImGui::CalcTextSize(say_chord(s.chord).c_str()).x);
    for (const Habit& h : habits) widest = std::max(widest, ImGui::CalcTextSize(h.with).x);
    if (!ImGui::BeginTable("keys", 2, ImGuiTableFlags_BordersInnerH)) return;
    ImGui::TableSetupColumn("key", ImGuiTableColumnFlags_WidthFixed, widest);
    ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthStretch);
    for (const Shortcut& s : shortcuts()) {
        ImGui::BeginDisabled(!can_do(screen.app, s));
        show_row(say_chord(s.chord).c_str(), s.words.c_str());
        ImGui::EndDisabled();
    }
    for (const Habit& h : habits) show_row(h.with, h.words);
    ImGui::EndTable();
}

void show_all_cautions(Screen& screen) {
    const AppState& app = screen.app;
    if (!app.problems.empty()) return;
    show_heading(screen, "Cautions of this set-up");
    for (const Caution caution : list_closing_cautions(app.results.analysis)) show_warning(caution_sentence(caution));
}

}  // namespace

void show_keys(Screen& screen) {
    AppState& app = screen.app;
    if (app.view.shows_keys && !ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({size.x / 2.0F, size.y / 2.0F}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(width_ems * screen.em(), size.x), most_share * size.y});
    if (!ImGui::BeginPopupModal(title, nullptr, ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove)) return;
    const bool leaves = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false) ||
                        (ImGui::IsKeyPressed(find_key_index(key_f1), false) && !ImGui::IsWindowAppearing());
    if (ImGui::Button("Close this list") || leaves) app.view.shows_keys = false;
    remember_place(screen, "Close this list");
    if (ImGui::BeginChild("key list")) {
        show_table(screen);
        ImGui::Spacing();
        show_all_cautions(screen);
    }
    ImGui::EndChild();
    if (!app.view.shows_keys) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

}  // namespace hitchwright
