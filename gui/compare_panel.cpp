// The room of the comparison: what is kept as A, and what differs between A and the set-up in the window, B.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "cli/compare_rows.h"
#include "gui/compare.h"
#include "gui/drawn_ghost.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/caution_text.h"

namespace hitchwright {
namespace {

/// A button with a sentence about what it does; wraps to a new line where there is no room.
bool show_button(Screen& screen, const char* word, const char* hint) {
    start_in_row(word);
    const bool pressed = ImGui::Button(word);
    remember_place(screen, word);
    if (ImGui::IsItemHovered()) show_hint(screen, hint);
    ImGui::SameLine();
    return pressed;
}

void show_buttons(Screen& screen) {
    AppState& app = screen.app;
    if (show_button(screen, "Remember as A",
                    "Keeps the set-up as it stands now; go on changing, and see what that changes"))
        remember_as_a(app);
    if (show_button(screen, "As opened is A",
                    "Compares with the set-up as it was opened, without the changes made since"))
        remember_opened_as_a(app);
    if (app.view.compare.a) {
        if (show_button(screen, "Swap A and B", "A comes into the window, what is there now becomes A")) {
            const std::vector<Problem> problems = swap_a_and_b(app);
            if (!problems.empty()) app.view.compare.message = "Not swapped: " + say_problem(problems);
        }
    }
    if (app.view.compare.a) {
        if (show_button(screen, "Forget A", "Takes A and its ghost away; nothing of the set-up changes")) forget_a(app);
    }
    ImGui::NewLine();
}

void show_named(Screen& screen) {
    AppState& app = screen.app;
    CompareState& c = app.view.compare;
    show_text("Another set-up as A, by name or path");
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::InputTextWithHint("##other", "name, then Enter", &c.typed);
    remember_place(screen, "another set-up");
    if (!ImGui::IsItemDeactivatedAfterEdit() || c.typed.empty()) return;
    const std::vector<Problem> problems = remember_named_as_a(app, c.typed);
    if (problems.empty())
        c.typed.clear();
    else
        c.message = "Not kept: " + say_problem(problems);
}

/// One side of a question: the letter, then mark and headline.
void show_side(Screen& screen, const char* letter, const CompareSide& f) {
    show_text(letter, screen.fonts.bold, palette().blue);
    ImGui::SameLine();
    show_text(f.mark.empty() ? "nothing of it" : f.mark + ": " + f.headline);
}

/// Both sides of a question, and what the number does.
void show_row(Screen& screen, const CompareRow& r) {
    show_text(r.question + ": " + r.change, screen.fonts.bold, palette().ink);
    show_side(screen, "A", r.a);
    show_side(screen, "B", r.b);
    ImGui::Spacing();
}

void show_verdicts(Screen& screen, const SetupDifference& d) {
    show_text("A " + d.old_title, screen.fonts.bold, palette().blue);
    show_text(d.old_judgement.sentence);
    show_text("B " + d.new_title, screen.fonts.bold, palette().blue);
    show_text(d.new_judgement.sentence);
    remember_place(screen, "verdicts of A and B");
    ImGui::Separator();
}

void show_values(Screen& screen, const SetupDifference& d) {
    show_heading(screen, d.values.empty() ? "Inputs: all the same"
                                          : fmt::format("Inputs that differ: {} (A -> B)", d.values.size()));
    for (const ValueDifference& v : d.values)
        show_text(escape_text(v.key, 200) + ": " + describe_value_difference(v, screen.app.view.units));
    ImGui::Separator();
}

/// Every finding of both; those that are the same folded away.
void show_findings_of_both(Screen& screen, const SetupDifference& d) {
    const std::vector<CompareRow> rows = list_compare_rows(d, screen.app.view.units);
    const auto same = std::find_if(rows.begin(), rows.end(), [](const CompareRow& r) { return !r.differs; });
    const auto other = static_cast<std::size_t>(same - rows.begin());
    show_heading(screen, other == 0 ? std::string("Findings: all the same") : fmt::format("Findings that differ: {}", other));
    for (auto r = rows.begin(); r != same; ++r) show_row(screen, *r);
    if (same == rows.end()) return ImGui::Separator();
    const std::string words = fmt::format("The same in both: {}###the same", rows.size() - other);
    const bool open = show_fold_heading(screen, words.c_str());
    remember_place(screen, "The same in both");
    for (auto r = same; open && r != rows.end(); ++r) show_text(r->b.mark + ": " + r->b.headline);
    ImGui::Separator();
}

}  // namespace

void show_compare(Screen& screen) {
    AppState& app = screen.app;
    show_heading(screen, "A beside B: what a change changes");
    show_buttons(screen);
    show_named(screen);
    if (!app.view.compare.message.empty()) show_warning(app.view.compare.message);
    ImGui::Separator();
    const SetupDifference* d = find_difference(app);
    if (d == nullptr) {
        show_quiet_text("Nothing is kept as A. B is the set-up in the window; A is drawn as a ghost beside it.");
        ImGui::Separator();
        return show_switches(screen);
    }
    show_verdicts(screen, *d);
    if (const std::string why = say_why_no_ghost(app); !why.empty()) show_quiet_text(why);
    show_findings_of_both(screen, *d);
    show_values(screen, *d);
    for (const Caution caution : list_cautions({&d->old_judgement, &d->new_judgement}))
        show_warning(caution_sentence(caution));
    ImGui::Separator();
    show_switches(screen);
}

}  // namespace hitchwright
