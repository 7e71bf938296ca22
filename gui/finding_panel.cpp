// What to do, and why: steps first, then every finding worst first, each with the cautions of its step.
#include <fmt/format.h>

#include <set>

#include "gui/entry_field.h"
#include "gui/field_edits.h"
#include "gui/finding_search.h"
#include "gui/origin_marks.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/caution_text.h"
#include "report/explain_text.h"
#include "report/field_words.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/how_far_text.h"
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

/// The headline; a click or Enter folds out where it comes from.
bool show_headline(Screen& screen, const Finding& finding, const FindingText& text, const std::string& id) {
    std::set<std::string>& all = screen.app.view.findings.open;
    bool open = all.count(id) > 0;
    show_text(text.mark, screen.fonts.bold, mark_colour(finding.severity));
    // A long mark would leave a narrow column for the headline.
    if (text.mark.size() <= longest_mark_beside) ImGui::SameLine();
    ImGui::PushFont(screen.fonts.bold.font);
    show_fold(screen, "finding " + id, text.headline, open);
    ImGui::PopFont();
    if (ImGui::IsItemHovered()) show_hint(screen, open ? "Click: fold it in" : "Click: formula, numbers, inputs, and how far they may be off");
    if (open) all.insert(id);
    else all.erase(id);
    return open;
}

bool can_show(const AppState& app, const Finding& f) {
    return (f.has_height && app.results.bands) || (f.has_attitude && app.results.analysis.drawn) || f.kind == FindingKind::ditch_crossing;
}

/// The picture where it happens.
void show_where(AppState& app, const Finding& f) {
    if (f.kind == FindingKind::ditch_crossing) {
        app.view.ditch_place.reset();  // the worst place on the way
        app.view.notice = choose_picture(app, DrawnPicture::ditch);
    } else if (f.has_attitude) {
        app.view.attitude = f.attitude;
        const bool turned = f.attitude.yaw != 0.0;
        choose_picture(app, turned ? DrawnPicture::plan : DrawnPicture::side);
    } else {
        stand_at(app, f.height);
    }
}

void show_it_button(Screen& screen, const Finding& f, const std::string& id) {
    if (!can_show(screen.app, f)) return;
    if (show_button("Show it")) {
        show_where(screen.app, f);
        screen.app.view.column.go_to_picture = true;
    }
    remember_place(screen, "show " + id);
    if (!ImGui::IsItemHovered()) return;
    if (f.has_height && !f.has_attitude) show_hint(screen, "Brings the lift to ball height " + format_length(f.height, screen.app.view.units));
    else show_hint(screen, "Brings the picture to where it happens");
}

/// A reading with its value and origin; a click goes to its field.
void show_reading(Screen& screen, const ExplainedReading& r, const std::string& id) {
    const SetupEntry* e = find_entry(screen.app, r.key);
    const bool drawn = screen.app.now.setup.implement.attachment == Attachment::drawn;
    std::string label = e == nullptr ? r.key : field_label(e->pattern, drawn);
    if (e != nullptr && !e->list.empty()) label = fmt::format("{} {}: {}", list_label(e->list), escape_text(e->item, 40), label);
    if (show_link(screen, "input " + id + "/" + r.key, r.origin, fmt::format("{} = {}, {}", label, r.value, say_origin(r.origin)))) go_to_input(screen.app, r.key);
    if (ImGui::IsItemHovered()) show_hint(screen, "Go to this input: " + r.key);
}

void show_room(Screen& screen, const ReadingRoom& room) {
    const UnitSystem units = screen.app.view.units;
    const RoomWords finding = describe_room(room, true, units), verdict = describe_room(room, false, units);
    const SetupEntry* e = find_entry(screen.app, room.key);
    const std::string label = e == nullptr ? room.key : field_label(e->pattern, screen.app.now.setup.implement.attachment == Attachment::drawn);
    show_text(fmt::format("{} ({})", label, room.key), screen.fonts.bold, palette().ink);
    if (!finding.error.empty()) show_quiet_text("It is " + finding.error + ".");
    show_text("This finding: " + finding.lower + "; " + finding.higher + ".");
    show_text("The verdict: " + verdict.lower + "; " + verdict.higher + ".");
    if (finding.inside_error || verdict.inside_error) show_warning("Less than its own error: take this one again before anything rests on it.");
    remember_place(screen, "room " + room.key);
}

void show_how_far(Screen& screen, const Finding& f, const std::string& id) {
    AppState& app = screen.app;
    if (is_searching(app, f)) {
        show_text(say_progress(app));
        remember_place(screen, "progress");
        return;
    }
    const std::vector<ReadingRoom>* rooms = find_rooms(app, f);
    if (rooms == nullptr) {
        if (show_button("How far off?")) ask_how_far(app, f);
        remember_place(screen, "how far " + id);
        if (ImGui::IsItemHovered()) show_hint(screen, "Looks for the smallest change of each of these readings that changes this finding or the verdict");
        return;
    }
    show_text("How far each may be off, tightest first", screen.fonts.bold, palette().ink);
    std::size_t steady = 0;
    for (const ReadingRoom& room : *rooms) {
        if (room.lower.changes || room.higher.changes || room.finding_lower.changes || room.finding_higher.changes) show_room(screen, room);
        else ++steady;
    }
    if (steady > 0) show_quiet_text(fmt::format("Changing neither within what was looked at: {}.", format_count(steady, "reading")));
    show_quiet_text(say_how_searched());
}

void show_explanation(Screen& screen, const Finding& f, const std::string& id) {
    const Explanation e = explain_finding(f, screen.app.now.setup, screen.app.view.units);
    ImGui::Indent(0.6F * screen.em());
    show_it_button(screen, f, id);
    show_text("Formula: " + e.formula);
    for (const std::string& number : e.numbers) show_text(number);
    if (!e.result.empty()) show_text("Result: " + e.result);
    if (!e.error.empty()) show_text("Error: " + e.error);
    if (!e.source.empty()) show_quiet_text("Source: " + e.source);
    if (!e.readings.empty()) show_quiet_text("It rests on these inputs; a click goes to one:");
    for (const ExplainedReading& r : e.readings) show_reading(screen, r, id);
    show_how_far(screen, f, id);
    ImGui::Unindent(0.6F * screen.em());
}

void show_finding(Screen& screen, const Finding& finding, const FindingContext& context) {
    const FindingText text = describe_finding(finding, context);
    const std::string id = finding_id(finding);
    const bool open = show_headline(screen, finding, text, id);
    if (!text.detail.empty()) show_text(text.detail);
    if (text.steps.size() > 1) show_quiet_text(text.all_steps ? "All of these:" : "One of these:");
    for (const std::string& step : text.steps) show_text("- " + step);
    for (const std::string& caution : text.cautions) show_warning(caution);
    if (!text.source.empty()) show_quiet_text("Rule: " + text.source);
    if (finding.kind == FindingKind::missing_reading) {
        if (show_button(("Go to this input##" + id).c_str())) go_to_input(screen.app, finding.subject);
        remember_place(screen, "go " + id);
    }
    if (open) show_explanation(screen, finding, id);
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
    use_area(screen, "findings");
    show_steps(screen);
    show_heading(screen, "Findings, worst first");
    const FindingContext context = make_finding_context(app.now.setup, analysis, app.view.units);
    // Two findings of one kind about one part differ in their place only.
    for (std::size_t i = 0; i < analysis.findings.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        show_finding(screen, analysis.findings[i], context);
        ImGui::PopID();
    }
    ImGui::Separator();
    const TextStyle style{app.view.units, endless, false};
    show_unjudged(screen);
    show_quiet_text(format_bound_statement(analysis, style));
    show_heading(screen, "Cautions");
    for (const Caution caution : list_closing_cautions(analysis)) show_warning(caution_sentence(caution));
}

}  // namespace hitchwright
