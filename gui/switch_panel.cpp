// The switches of the comparison's room: a button for each, its verdict before and after, and what flips.
#include <fmt/format.h>
#include <imgui.h>

#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/switches.h"
#include "report/variant_text.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_flips = 3;

void show_flips(Screen& screen, const VariantAnswer& a) {
    const AppState& app = screen.app;
    const Analysis& now = app.results.analysis;
    const std::vector<FindingDifference> flips = find_flips(now.findings, a.analysis.findings);
    if (flips.empty()) return show_quiet_text("Nothing flips.");
    const FindingContext before = make_finding_context(app.now.setup, now, app.view.units);
    const FindingContext after = make_finding_context(a.setup, a.analysis, app.view.units);
    for (std::size_t i = 0; i < flips.size() && i < most_flips; ++i) show_text(say_flip(flips[i], before, after) + ".");
    if (flips.size() > most_flips) show_quiet_text(fmt::format("And {} more.", flips.size() - most_flips));
}

void show_numbers(Screen& screen, const VariantAnswer& a) {
    const std::string numbers = say_figure_changes(summarize(screen.app.results.analysis), summarize(a.analysis), screen.app.view.units);
    if (!numbers.empty()) show_quiet_text(numbers + ".");
}

/// True when the switch was thrown, so that the list holds no longer.
bool show_switch(Screen& screen, const Variant& v, std::size_t place) {
    AppState& app = screen.app;
    ImGui::PushID(static_cast<int>(place));
    const bool pressed = ImGui::Button("Try");
    remember_place(screen, "Try " + format_switch(v));
    if (ImGui::IsItemHovered()) show_hint(screen, "Keeps the set-up as it stands as A and throws this switch; undo takes it back");
    ImGui::PopID();
    ImGui::SameLine();
    const VariantAnswer* a = find_switch_answer(app, place);
    show_text(escape_text(say_variant(v), 80), screen.fonts.bold, palette().ink);
    if (a == nullptr) {
        show_quiet_text("Not looked at yet.");
    } else {
        show_text(say_verdict_change(app.results.analysis.verdict, a->analysis.verdict));
        show_flips(screen, *a);
        show_numbers(screen, *a);
    }
    ImGui::Spacing();
    if (!pressed) return false;
    const std::vector<Problem> problems = throw_switch(app, v);
    if (!problems.empty()) app.view.compare.message = "Not switched: " + say_problem(problems);
    return true;
}

}  // namespace

void show_switches(Screen& screen) {
    show_heading(screen, "What one switch changes");
    const std::vector<Variant> variants = list_switches(screen.app);
    if (variants.empty())
        return show_quiet_text("Nothing to switch: no add-on part with its measures, no other tyres, holes or positions are in these files.");
    for (std::size_t i = 0; i < variants.size(); ++i) {
        if (show_switch(screen, variants[i], i)) return;
    }
    show_quiet_text("Each by itself, all else as it is; without a typed length the upper link is set anew. Other shafts have a room of their own.");
}

}  // namespace hitchwright
