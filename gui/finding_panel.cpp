// What to do, and why: steps first, then every finding worst first, each with the cautions of its step.
#include <fmt/format.h>

#include "gui/palette.h"
#include "gui/panels.h"
#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/travel_table.h"

namespace hitchwright {
namespace {

constexpr std::size_t longest_mark_beside = 5;  // "WATCH"
constexpr std::size_t endless = 100000;  // columns: the panel wraps, not the text

ImU32 mark_colour(Severity severity) {
    switch (severity) {
        case Severity::forbids:
        case Severity::change:
            return palette().alarm;
        case Severity::unknown:
        case Severity::condition:
            return palette().rust;
        case Severity::watch:
        case Severity::good:
            break;
    }
    return palette().blue;
}

void show_steps(Screen& screen) {
    const AppState& app = screen.app;
    const std::vector<std::string> steps = list_steps(app.now.setup, app.results.analysis, app.view.units);
    if (steps.empty()) return;
    show_heading(screen, "What to do, engine off, key out, all at rest");
    for (std::size_t i = 0; i < steps.size(); ++i) show_text(fmt::format("{}. {}", i + 1, steps[i]));
    ImGui::Separator();
}

/// The headline; a click moves the lift to where it happens.
void show_headline(Screen& screen, const Finding& finding, const FindingText& text) {
    show_text(text.mark, screen.fonts.bold, mark_colour(finding.severity));
    // A long mark would leave a narrow column for the headline.
    if (text.mark.size() <= longest_mark_beside) ImGui::SameLine();
    show_text(text.headline, screen.fonts.bold, palette().ink);
    if (!finding.has_height || !screen.app.results.bands) return;
    if (ImGui::IsItemHovered()) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        ImGui::SetTooltip("Click: show ball height %s", format_length(finding.height, screen.app.view.units).c_str());
    }
    if (ImGui::IsItemClicked()) screen.app.view.ball_height = finding.height;
}

void show_finding(Screen& screen, const Finding& finding, const FindingContext& context) {
    const FindingText text = describe_finding(finding, context);
    show_headline(screen, finding, text);
    if (!text.detail.empty()) show_text(text.detail);
    if (text.steps.size() > 1) show_quiet_text(text.all_steps ? "All of these:" : "One of these:");
    for (const std::string& step : text.steps) show_text("- " + step);
    for (const std::string& caution : text.cautions) show_warning(caution);
    if (!text.source.empty()) show_quiet_text("Rule: " + text.source);
    ImGui::Spacing();
}

/// What the answer says nothing about, and the readings that would let it.
void show_unjudged(Screen& screen) {
    const std::vector<Unjudged>& unjudged = screen.app.results.analysis.unjudged;
    if (unjudged.empty()) return;
    show_heading(screen, "Not judged, for want of readings");
    for (const Unjudged& u : unjudged) {
        std::string keys;
        for (const std::string& key : u.readings) keys += (keys.empty() ? "" : ", ") + key;
        show_text(fmt::format("{}: {}", u.question, keys));
    }
}

}  // namespace

void show_findings(Screen& screen) {
    const AppState& app = screen.app;
    const Analysis& analysis = app.results.analysis;
    show_steps(screen);
    show_heading(screen, "Findings, worst first");
    const FindingContext context = make_finding_context(app.now.setup, analysis, app.view.units);
    for (const Finding& finding : analysis.findings) show_finding(screen, finding, context);
    ImGui::Separator();
    const TextStyle style{app.view.units, endless, false};
    show_unjudged(screen);
    show_quiet_text(format_bound_statement(analysis, style));
    show_heading(screen, "Cautions");
    for (const Caution caution : list_closing_cautions(analysis)) show_warning(caution_sentence(caution));
}

}  // namespace hitchwright
