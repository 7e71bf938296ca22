// The line on top of the window, and the question before it closes.
#include <fmt/format.h>

#include "gui/export.h"
#include "gui/file_dialog.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/save_changes.h"
#include "gui/shortcuts.h"
#include "gui/typing.h"

namespace hitchwright {
namespace {

bool show_button(Screen& screen, const char* label, bool enabled = true, const std::string& tip = {}) {
    start_in_row(label);
    ImGui::BeginDisabled(!enabled);
    const bool pressed = ImGui::Button(label);
    ImGui::EndDisabled();
    remember_place(screen, label);
    if (!tip.empty() && ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) show_hint(screen, tip);
    ImGui::SameLine();
    return pressed;
}

void set_units(AppState& app, UnitSystem units) {
    app.view.units = units;
}

void show_units(Screen& screen) {
    AppState& app = screen.app;
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        const char* word = units == UnitSystem::inch ? "in" : "mm";
        start_in_row(word, ImGui::GetFrameHeight());
        if (ImGui::RadioButton(word, app.view.units == units)) set_units(app, units);
        remember_place(screen, word);
        ImGui::SameLine();
    }
}

void show_theme(Screen& screen) {
    AppState& app = screen.app;
    const bool dark = app.view.theme == Theme::dark;
    if (show_button(screen, dark ? "Light" : "Dark")) app.view.theme = dark ? Theme::light : Theme::dark;
}

void show_unsaved(Screen& screen) {
    AppState& app = screen.app;
    const bool changed = has_changes(app), edited = app.now.edits != Edits{};
    if (changed) {
        ImGui::PushFont(screen.fonts.bold.font);
        ImGui::PushStyleColor(ImGuiCol_Text, palette().alarm);
        const char* const unsaved = edited ? "Changes are not saved." : "In no file yet.";
        start_in_row(unsaved);
        ImGui::TextUnformatted(unsaved);
        ImGui::PopStyleColor();
        ImGui::PopFont();
        remember_place(screen, "unsaved");
    } else {
        const char* const as_is = edited ? "As in the files, with the options of the start." : "As in the files.";
        start_in_row(as_is);
        ImGui::TextUnformatted(as_is);
    }
    if (!edited && !app.drafted) return;
    ImGui::SameLine();
    start_in_row("Write into a file");
    if (ImGui::Button("Write into a file")) ask_to_save(app);
    remember_place(screen, "Write into a file");
    if (!edited) return;
    ImGui::SameLine();
    start_in_row("Copy them as options");
    if (ImGui::Button("Copy them as options")) ImGui::SetClipboardText(join_options(app.now.edits).c_str());
    remember_place(screen, "copy");
    if (ImGui::IsItemHovered()) show_hint(screen, join_options(app.now.edits));
}

/// What is seldom wanted: in one column it is folded in.
void show_seldom_tools(Screen& screen) {
    AppState& app = screen.app;
    if (show_button(screen, "Read files again")) {
        const std::vector<Problem> problems = read_again(app);
        if (!problems.empty()) app.view.notice = "Not read again, the old values count: " + say_problem(problems);
    }
    if (show_button(screen, "Open", true, "another set-up, by its path or from a list" + say_key_of(Action::open)))
        start_file_dialog(app, FileWish::open);
    if (show_button(screen, "Save as", app.problems.empty(),
                    "this set-up with its changes in another file; the one before stays" + say_key_of(Action::save_as)))
        start_file_dialog(app, FileWish::save_as);
    show_units(screen);
    show_theme(screen);
    if (app.problems.empty() && show_button(screen, "Take with you")) ask_to_export(app);
    if (show_button(screen, "Keys")) app.view.shows_keys = true;
}

}  // namespace

void show_tools(Screen& screen) {
    AppState& app = screen.app;
    end_typing(app);
    if (show_button(screen, "Undo", can_undo(app))) undo(app);
    if (show_button(screen, "Redo", can_redo(app))) redo(app);
    bool& more = app.view.column.more_tools;
    if (app.view.column.on && show_button(screen, more ? "Fewer tools" : "More tools")) more = !more;
    if (!app.view.column.on || more) show_seldom_tools(screen);
    ImGui::Dummy({screen.em(), 0.0F});
    ImGui::SameLine();
    if (app.problems.empty()) show_unsaved(screen);
    else ImGui::NewLine();
    if (!app.view.column.on) show_notices(screen);
}

void show_notices(Screen& screen) {
    const AppState& app = screen.app;
    if (!app.view.files.not_kept.empty()) {
        show_warning("Changes are not kept against a crash: " + escape_text(app.view.files.not_kept, 400) + ".");
        remember_place(screen, "not kept");
    }
    if (!app.view.notice.empty()) show_text(app.view.notice, screen.fonts.bold, palette().rust);
}

void show_close_question(Screen& screen) {
    AppState& app = screen.app;
    const char* const title = "Changes are not saved";
    if (app.view.asks_to_close && !ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({size.x / 2.0F, size.y / 2.0F}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(44.0F * screen.em(), size.x), 0.0F});
    if (!ImGui::BeginPopupModal(title, nullptr, ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove)) return;
    const std::vector<std::string> refused = list_refused_texts(app);
    if (!refused.empty()) show_text("Typed and not taken:");
    for (const std::string& line : refused) show_text(line, screen.fonts.bold, palette().alarm);
    if (app.now.edits != Edits{}) show_text("What was changed, as options for the next start:");
    for (const std::string& option : list_options(app.now.edits)) show_text(option, screen.fonts.bold, palette().ink);
    ImGui::Spacing();
    const auto answer = [&](const char* label) {
        const bool pressed = ImGui::Button(label);
        remember_place(screen, label);
        ImGui::SameLine();
        return pressed;
    };
    if (answer("Keep the window open")) {
        app.view.asks_to_close = false;
        ImGui::CloseCurrentPopup();
    }
    if (has_changes(app) && answer("Write them into a file")) {
        app.view.asks_to_close = false;
        ImGui::CloseCurrentPopup();
        ask_to_save(app);
    }
    if (has_changes(app) && answer("Copy them as options")) ImGui::SetClipboardText(join_options(app.now.edits).c_str());
    if (answer("Close without saving")) app.view.closed = true;
    ImGui::EndPopup();
}

}  // namespace hitchwright
