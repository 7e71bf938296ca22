// Questions about files: which set-up to open or where to write, what was not opened and why, changes that would be
// lost, changes that an earlier window left. One at a time, each over the whole window.
#include "gui/panels.h"

#include <algorithm>

#include <imgui_stdlib.h>

#include "gui/file_dialog.h"
#include "gui/file_words.h"
#include "gui/open_setup.h"
#include "gui/palette.h"
#include "gui/save_changes.h"
#include "gui/typing.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_path = 300;

/// Begins a question in the middle of the window; true: its content is to be drawn, and EndPopup called.
bool begin_question(Screen& screen, const char* title, bool wanted, float width_ems, float height_share = 0.0F) {
    if (wanted && !ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({size.x / 2.0F, size.y / 2.0F}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(width_ems * screen.em(), size.x), height_share * size.y});
    if (!ImGui::BeginPopupModal(title, nullptr, ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove)) return false;
    if (wanted) return true;
    ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
    return false;
}

/// Buttons side by side as far as they find room.
bool show_answer(Screen& screen, const std::string& label, const char* place, const char* tip, bool enabled = true) {
    const float needed = ImGui::CalcTextSize(label.c_str()).x + 2.0F * ImGui::GetStyle().FramePadding.x;
    if (ImGui::GetCursorPosX() > ImGui::GetStyle().WindowPadding.x + 1.0F && ImGui::GetContentRegionAvail().x < needed)
        ImGui::NewLine();
    ImGui::BeginDisabled(!enabled);
    const bool pressed = ImGui::Button(label.c_str());
    ImGui::EndDisabled();
    remember_place(screen, place);
    if (tip != nullptr && ImGui::IsItemHovered()) show_hint(screen, tip);
    ImGui::SameLine();
    return pressed;
}

/// A line of a list that wraps nothing: what finds no room is cut by the child and stands whole in the tooltip.
bool show_line(Screen& screen, const std::string& text, const std::string& place, bool marked) {
    const std::string clean = escape_text(text, most_path);
    ImGui::PushID(place.c_str());
    const bool taken = show_line_of_list(screen, "##line", marked);
    remember_place(screen, place);
    const bool hovered = ImGui::IsItemHovered();
    ImGui::SameLine(0.0F, 0.0F);
    // The end of a path says more than its beginning.
    std::string shown = clean;
    const float room = ImGui::GetContentRegionAvail().x;
    while (shown.size() > 4 && ImGui::CalcTextSize(("..." + shown).c_str()).x > room &&
           ImGui::CalcTextSize(clean.c_str()).x > room)
        shown.erase(0, 1);
    if (shown.size() < clean.size()) shown = "..." + shown;
    ImGui::TextUnformatted(shown.c_str());
    if (hovered && shown.size() != clean.size()) show_hint(screen, clean);
    ImGui::PopID();
    return taken;
}

/// The one question that is shown; the others wait, since two would close each other by turns.
enum class FileQuestion { none, refused, over_changes, left_changes, path };

FileQuestion find_question(const AppState& app) {
    const ViewState& view = app.view;
    if (view.save.open || view.take.open || view.asks_to_close || view.shows_keys) return FileQuestion::none;
    if (view.files.refused) return FileQuestion::refused;
    if (!view.files.waiting.empty() && !view.files.waits_for_save && !view.files.waits_for_typing) return FileQuestion::over_changes;
    if (!view.files.left.empty()) return FileQuestion::left_changes;
    return view.files.dialog.open ? FileQuestion::path : FileQuestion::none;
}

/// The arrow keys of the field walk the list beside it.
int walk_list(ImGuiInputTextCallbackData* data) {
    move_mark(*static_cast<FileDialog*>(data->UserData), data->EventKey == ImGuiKey_DownArrow ? 1 : -1);
    return 0;
}

void show_path_field(Screen& screen) {
    FileDialog& dialog = screen.app.view.files.dialog;
    ImGui::SetNextItemWidth(-1.0F);
    if (dialog.focus_field) {
        ImGui::SetKeyboardFocusHere();
        dialog.focus_field = false;
    }
    const std::string before = dialog.path;
    const bool entered = ImGui::InputTextWithHint(
        "##path", dialog.wish == FileWish::open ? "path, or the name of a set-up" : "name.toml", &dialog.path,
        ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackHistory, walk_list, &dialog);
    remember_place(screen, "path");
    if (dialog.path != before) {
        dialog.marked = -1;
        dialog.message.clear();
        dialog.over.clear();
    }
    if (!entered) return;
    if (dialog.marked >= 0)
        take_entry(screen.app, dialog.marked);
    else
        answer_file_dialog(screen.app);
}

void show_folder(Screen& screen) {
    FileDialog& dialog = screen.app.view.files.dialog;
    int taken = -1;
    for (int i = 0; i < static_cast<int>(dialog.entries.size()); ++i) {
        const FolderEntry& entry = dialog.entries[static_cast<std::size_t>(i)];
        const std::string text = entry.name == ".." ? ".. (folder above)" : entry.name + (entry.folder ? "/" : "");
        if (show_line(screen, text, "entry " + entry.name, i == dialog.marked)) taken = i;
        if (i == dialog.marked) ImGui::SetScrollHereY();
    }
    if (dialog.entries.size() <= 1) show_quiet_text("No set-up file (.toml) and no folder here.");
    if (taken >= 0) take_entry(screen.app, taken);
}

void show_known(Screen& screen) {
    AppState& app = screen.app;
    std::string chosen;
    show_heading(screen, "Opened last");
    for (const std::string& name : app.view.files.recent) {
        if (show_line(screen, name, "recent " + name, false)) chosen = name;
    }
    if (app.view.files.recent.empty()) show_quiet_text("None yet.");
    ImGui::Spacing();
    show_heading(screen, "Built in and your own");
    for (const PresetEntry& entry : app.library.list(FileKind::setup)) {
        if (entry.hidden) continue;
        if (show_line(screen, entry.key + (entry.embedded ? "" : " (yours)"), "known " + entry.key, false))
            chosen = entry.key;
    }
    if (chosen.empty()) return;
    app.view.files.dialog.open = false;
    ask_to_open(app, chosen);
}

void show_dialog_lists(Screen& screen, float height) {
    const bool both = screen.app.view.files.dialog.wish == FileWish::open;
    const float gap = ImGui::GetStyle().ItemSpacing.x, room = ImGui::GetContentRegionAvail().x;
    if (ImGui::BeginChild("folder list", {both ? (room - gap) / 2.0F : room, height}, true)) show_folder(screen);
    ImGui::EndChild();
    if (!both) return;
    ImGui::SameLine();
    if (ImGui::BeginChild("known list", {0.0F, height}, true)) show_known(screen);
    ImGui::EndChild();
}

void show_dialog(Screen& screen) {
    AppState& app = screen.app;
    FileDialog& dialog = app.view.files.dialog;
    const bool opens = dialog.wish == FileWish::open;
    const char* const title = opens ? "Open a set-up" : "Save the set-up in another file";
    if (!begin_question(screen, title, find_question(app) == FileQuestion::path, 60.0F, 0.8F)) return;
    show_text(
        opens
            ? "Path of a set-up file, or a name of the lists. Arrow keys walk the folder, Enter takes the line. A file "
              "dropped on the window opens as well."
            : "Name of the new file. The text of the set-up goes into it with the changes; the file before stays as "
              "it is.");
    show_path_field(screen);
    if (!opens) {
        show_text("Taken by, for the log beside the file (may stay empty)");
        ImGui::SetNextItemWidth(-1.0F);
        ImGui::InputTextWithHint("##by", "name", &app.view.save.by);
        remember_place(screen, "save as by");
    }
    show_quiet_text("In " + escape_text(dialog.folder, most_path) + ":");
    show_refusal(screen, dialog.message);
    if (!opens) show_left_out(screen);
    const float buttons =
        (dialog.over.empty() ? 1.0F : 2.0F) * ImGui::GetFrameHeightWithSpacing() + ImGui::GetStyle().ItemSpacing.y;
    show_dialog_lists(screen, std::max(ImGui::GetContentRegionAvail().y - buttons, 3.0F * screen.em()));
    const std::string over = dialog.over.empty() ? std::string{} : dialog.over.substr(dialog.over.rfind('/') + 1);
    if (!over.empty() &&
        show_answer(screen, "Replace " + escape_text(over, 60), "write over",
                    "what stands in that file now is lost; the set-up with the changes takes its place"))
        write_over(app);
    if (!over.empty()) ImGui::NewLine();
    if (show_answer(screen, opens ? "Open" : "Save", "answer path", nullptr)) answer_file_dialog(app);
    if (show_answer(screen, "Cancel", "cancel path", nullptr) ||
        ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)))
        dialog.open = false;
    ImGui::EndPopup();
}

void show_refused(Screen& screen) {
    std::optional<RefusedSetup>& refused = screen.app.view.files.refused;
    if (!begin_question(screen, "This set-up was not opened", find_question(screen.app) == FileQuestion::refused, 56.0F,
                        0.7F))
        return;
    show_text(escape_text(refused->name, most_path) + ": " + format_count(refused->problems.size(), "problem") +
              ". The set-up before stays in the window.");
    const float buttons = ImGui::GetFrameHeightWithSpacing() + ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginChild("refused list", {0.0F, ImGui::GetContentRegionAvail().y - buttons}, true);
    for (const Problem& problem : refused->problems) {
        const std::string text = format_problem(problem);
        const std::size_t end = std::min(text.find('\n'), text.size());
        show_text(text.substr(0, end), screen.fonts.bold, palette().ink);
        if (end < text.size()) show_text(text.substr(text.find_first_not_of(' ', end + 1)));
        ImGui::Spacing();
    }
    ImGui::EndChild();
    remember_place(screen, "refused");
    if (show_answer(screen, "Back to the set-up before", "back from refused", nullptr) ||
        ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)))
        refused.reset();
    ImGui::EndPopup();
}

void show_open_question(Screen& screen) {
    AppState& app = screen.app;
    FileView& files = app.view.files;
    if (!begin_question(screen, "Another set-up is to be opened", find_question(app) == FileQuestion::over_changes,
                        46.0F))
        return;
    const bool changed = has_changes(app);
    if (changed) show_text("The changes to " + setup_title(app) + " are in no file yet.");
    for (const std::string& line : list_refused_texts(app))
        show_text("Typed and not taken: " + line, screen.fonts.bold, palette().alarm);
    show_text("To be opened: " + escape_text(files.waiting, most_path));
    ImGui::Spacing();
    if (show_answer(screen, "Keep this one open", "keep open", "nothing is opened, nothing is lost"))
        forget_waiting(app);
    if (changed && show_answer(screen, "Write the changes first", "save and open",
                    "asks where, writes them, then opens the other one")) {
        files.waits_for_save = true;
        ask_to_save(app);
    }
    if (show_answer(screen, changed ? "Open it, drop the changes" : "Open it", "open anyway", changed ? "the changes are lost" : "what was typed is lost"))
        open_what_waits(app);
    ImGui::NewLine();
    ImGui::EndPopup();
}

void say_left_changes(Screen& screen, const KeptChanges& kept) {
    show_text("Changes were kept from a session that ended without closing: " + escape_text(kept.title, 100) + ".",
              screen.fonts.bold, palette().ink);
    if (!kept.setup.empty()) show_text(escape_text(kept.setup, most_path));
    constexpr std::size_t most_lines = 12;
    const std::vector<std::string> options = list_options(kept.edits);
    for (std::size_t i = 0; i < std::min(options.size(), most_lines); ++i)
        show_text(escape_text(options[i], most_path));
    if (options.size() > most_lines) show_text("and " + format_count(options.size() - most_lines, "more change") + ".");
    if (kept.edits == Edits{}) show_text("A set-up that was in no file yet.");
}

void say_unreadable(Screen& screen, const LeftChanges& left) {
    show_text("Changes were kept from a session that ended without closing. They cannot be read, and are kept at " +
                  escape_text(left.file, most_path) + ".",
              screen.fonts.bold, palette().alarm);
    remember_place(screen, "unreadable");
}

void show_left_changes(Screen& screen) {
    AppState& app = screen.app;
    std::vector<LeftChanges>& left = app.view.files.left;
    if (!begin_question(screen, "Changes were kept", find_question(app) == FileQuestion::left_changes, 46.0F)) return;
    // A copy: taking them shows another set-up, with lists of its own.
    LeftChanges first = left.front();
    bool decided = false;
    if (first.readable) say_left_changes(screen, first.changes);
    else say_unreadable(screen, first);
    ImGui::Spacing();
    const bool unsaved = has_changes(app);
    if (unsaved) {
        show_text("The changes to " + setup_title(app) + " in this window are in no file yet: these cannot be taken now.",
                  screen.fonts.bold, palette().alarm);
        if (show_answer(screen, "Write the changes first", "write before kept",
                        "asks where to write what this window changed; then this question comes again"))
            ask_to_save(app);
    } else if (would_lose(app)) {
        show_text("Typed in this window and not taken: these cannot be taken now. Mend or empty the fields first.",
                  screen.fonts.bold, palette().alarm);
        for (const std::string& line : list_refused_texts(app)) show_text(line);
    } else {
        if (first.readable && show_answer(screen, "Take them", "take kept",
                                          "opens that set-up with the changes over it; nothing is written into it"))
            decided = take_left_changes(app, first);
        if (show_answer(screen, "Drop them", "drop kept", "they are deleted for good")) {
            drop_left_changes(first);
            decided = true;
        }
    }
    if (show_answer(screen, "Leave them for later", "leave kept", "the next start asks again")) decided = true;
    if (decided) app.view.files.left.erase(app.view.files.left.begin());
    ImGui::NewLine();
    ImGui::EndPopup();
}

}  // namespace

void show_file_questions(Screen& screen) {
    do_waiting(screen.app);
    open_waiting(screen.app);
    // What was to be lost may have been written meanwhile.
    if (find_question(screen.app) == FileQuestion::over_changes && !would_lose(screen.app)) open_what_waits(screen.app);
    show_dialog(screen);
    show_open_question(screen);
    show_left_changes(screen);
    show_refused(screen);
}

}  // namespace hitchwright
