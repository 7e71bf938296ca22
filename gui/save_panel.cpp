// The question before changes are written: what, where, by whom.
#include "gui/panels.h"

#include <algorithm>

#include <imgui_stdlib.h>

#include "gui/file_words.h"
#include "gui/palette.h"
#include "gui/save_changes.h"

namespace hitchwright {
namespace {

constexpr const char* title = "Write the changes into a file";
constexpr float width_ems = 46.0F;

void show_where(Screen& screen) {
    AppState& app = screen.app;
    if (has_own_file(app)) {
        show_text("Only these values change in " + escape_text(app.source.file, 300) +
                  "; all else in it stays as it is:");
        return;
    }
    if (app.drafted) show_text("This set-up has no file yet. It goes into a new one:");
    else show_text("This set-up is built into the program and stays as it is. It goes into a new file with these values:");
}

void show_lines(Screen& screen) {
    for (const std::string& line : screen.app.view.save.lines) show_text(line, screen.fonts.bold, palette().ink);
}

void show_field(Screen& screen, const char* label, const char* hint, const char* place, std::string& text) {
    show_text(label);
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::PushID(place);
    ImGui::InputTextWithHint("##field", hint, &text);
    ImGui::PopID();
    remember_place(screen, place);
}

bool show_answer(Screen& screen, const char* label, bool enabled) {
    ImGui::BeginDisabled(!enabled);
    const bool pressed = ImGui::Button(label);
    ImGui::EndDisabled();
    remember_place(screen, label);
    ImGui::SameLine();
    return pressed;
}

}  // namespace

void show_save_question(Screen& screen) {
    AppState& app = screen.app;
    // The question before closing leads here again.
    if (app.view.asks_to_close) app.view.save.open = false;
    if (app.view.save.open && !ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({size.x / 2.0F, size.y / 2.0F}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(width_ems * screen.em(), size.x), 0.0F});
    if (!ImGui::BeginPopupModal(title, nullptr, ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove)) return;
    if (app.view.save.possible) show_where(screen);
    show_lines(screen);
    if (app.view.save.possible && !has_own_file(app))
        show_field(screen, "New file (never over one that exists)", "name.toml", "save path", app.view.save.path);
    if (app.view.save.possible)
        show_field(screen, "Taken by, for the log beside the file (may stay empty)", "name", "save by",
                   app.view.save.by);
    show_left_out(screen);
    show_refusal(screen, app.view.save.message);
    ImGui::Spacing();
    if (show_answer(screen, "Write", app.view.save.possible)) save_changes(app);
    if (show_answer(screen, "Do not write", true)) app.view.save.open = false;
    if (!app.view.save.open) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

}  // namespace hitchwright
