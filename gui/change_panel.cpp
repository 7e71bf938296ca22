// The room of what changed: verdict before and after, then each value with the way back.
#include <fmt/format.h>

#include "gui/changes.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

void show_value(Screen& screen, const ChangedValue& value, std::string& taken_back) {
    show_text(escape_text(value.key, 200), screen.fonts.bold, palette().ink);
    if (!value.what.empty()) show_quiet_text(value.what);
    show_text(fmt::format("{} -> {}", value.was, value.is));
    if (!value.with_it.empty()) {
        ImGui::PushID(value.key.c_str());
        if (ImGui::TreeNode("with it", "with it %s", format_count(value.with_it.size(), "other value").c_str())) {
            for (const std::string& line : value.with_it) show_quiet_text(line);
            ImGui::TreePop();
        }
        ImGui::PopID();
    }
    if (ImGui::Button(("Take back##" + value.key).c_str())) taken_back = value.key;
    remember_place(screen, "take back " + value.key);
    if (ImGui::IsItemHovered()) show_hint(screen, "the value of the file counts again: " + value.was);
    ImGui::Spacing();
}

}  // namespace

void show_changes(Screen& screen) {
    AppState& app = screen.app;
    // A copy: taking one back makes the list anew.
    const ChangeList list = shown_changes(app);
    show_heading(screen, "What changed against the file");
    if (!list.message.empty()) return show_warning(list.message);
    if (!list.unexplained.empty()) {
        show_warning("The file was changed since it was read. From it to what the window shows, besides the changes made here:");
        for (const std::string& line : list.unexplained) show_text(line);
        show_text("\"Read files again\" brings the file's values in.");
        remember_place(screen, "unexplained");
        ImGui::Separator();
    }
    if (list.values.empty() && list.unexplained.empty()) return show_text("Nothing: the window shows the file as it is.");
    show_text("The file: " + list.verdict_before);
    show_text("Now: " + list.verdict_now, screen.fonts.bold, palette().ink);
    remember_place(screen, "verdict now");
    ImGui::Separator();
    std::string taken_back;
    for (const ChangedValue& value : list.values) show_value(screen, value, taken_back);
    if (!list.findings.empty()) {
        ImGui::Separator();
        show_heading(screen, "What that changes in the findings");
        for (const std::string& line : list.findings) show_text(line);
    }
    if (taken_back.empty()) return;
    const std::vector<Problem> problems = take_back(app, taken_back);
    if (!problems.empty()) app.view.notice = "Not taken back: " + say_problem(problems);
}

}  // namespace hitchwright
