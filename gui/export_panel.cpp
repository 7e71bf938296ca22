// Take it with you: what, in which form, on which paper, where to; then what was written, or why not.
#include "gui/panels.h"

#include <algorithm>

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include "gui/choices.h"
#include "gui/export.h"
#include "gui/palette.h"

namespace hitchwright {
namespace {

constexpr const char* title = "Take it with you";
constexpr float width_ems = 44.0F;

void show_kinds(Screen& screen) {
    AppState& app = screen.app;
    const ExportKind& chosen = chosen_export(app);
    for (const ExportKind& kind : export_kinds()) {
        if (!is_there(app, kind)) continue;
        if (show_choice(screen, kind.word, &kind == &chosen, std::string("export ") + kind.word)) choose_export(app, kind.name);
        if (ImGui::IsItemHovered()) show_hint(screen, kind.hint);
    }
    end_choices();
    show_quiet_text(std::string(chosen_export(app).hint) + ".");
}

void show_forms(Screen& screen) {
    AppState& app = screen.app;
    const ExportKind& kind = chosen_export(app);
    if (kind.endings.size() > 1) {
        for (const std::string& ending : kind.endings) {
            std::string word = ending.substr(1);
            for (char& c : word) c = static_cast<char>(c - 'a' + 'A');
            if (show_choice(screen, word, ending == chosen_ending(app), "export " + word)) choose_ending(app, ending);
        }
        end_choices();
    }
    if (!has_paper(kind)) return;
    if (show_choice(screen, "letter paper", !app.view.take.a4, "export letter")) app.view.take.a4 = false;
    if (show_choice(screen, "A4 paper", app.view.take.a4, "export A4")) app.view.take.a4 = true;
    end_choices();
}

void show_path(Screen& screen) {
    AppState& app = screen.app;
    show_text("File (a name alone goes into the folder the window was started in)");
    ImGui::SetNextItemWidth(-1.0F);
    if (ImGui::InputText("##export path", &app.view.take.path)) app.view.take.message.clear();
    remember_place(screen, "export path");
}

bool show_answer(Screen& screen, const std::string& label, const char* place) {
    const bool pressed = ImGui::Button(label.c_str());
    remember_place(screen, place);
    return pressed;
}

void show_message(Screen& screen) {
    const ExportQuestion& q = screen.app.view.take;
    if (q.message.empty()) return;
    if (q.failed) show_warning(q.message);
    else show_text(q.message, screen.fonts.bold, palette().blue);
}

void show_buttons(Screen& screen) {
    AppState& app = screen.app;
    const bool over = writes_over(app);
    const std::string& path = app.view.take.path;
    const std::string write = over ? "Write over " + escape_text(path.substr(path.rfind('/') + 1), 40) : "Write";
    if (show_answer(screen, write + "###write export", "Write export")) write_export(app);
    ImGui::SameLine();
    if (show_answer(screen, "Close###close export", "Close export") || ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false))
        app.view.take.open = false;
}

}  // namespace

void show_export_question(Screen& screen) {
    AppState& app = screen.app;
    if (app.view.take.open && !ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({size.x / 2.0F, size.y / 2.0F}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(width_ems * screen.em(), size.x), 0.0F});
    if (!ImGui::BeginPopupModal(title, nullptr, ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove)) return;
    show_kinds(screen);
    ImGui::Separator();
    show_forms(screen);
    show_path(screen);
    show_message(screen);
    ImGui::Spacing();
    show_buttons(screen);
    if (!app.view.take.open) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

}  // namespace hitchwright
