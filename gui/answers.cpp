#include "gui/answers.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

#include "cli/seen_list.h"
#include "cli/seen_words.h"
#include "cli/sheet_document.h"
#include "cli/today.h"
#include "geometry/drawbar_study.h"
#include "geometry/envelope.h"
#include "geometry/setup_lines.h"
#include "geometry/trace_study.h"
#include "presets/load_machine.h"
#include "presets/shaft_candidates.h"
#include "report/card_pages.h"
#include "report/ditch_report.h"
#include "report/drawbar_report.h"
#include "report/envelope_report.h"
#include "report/lines_report.h"
#include "report/load_report.h"
#include "report/shaft_choice_text.h"
#include "report/trace_report.h"
#include "report/trust_blocks.h"

namespace hitchwright {
namespace {

constexpr int load_heights = 9;

bool is_drawn(const AppState& app) { return app.now.setup.implement.attachment == Attachment::drawn; }

constexpr AnswerEntry entries[] = {
    {AnswerKind::loads, "Loads", "loads", "Does the tractor lift it, and what do its axles carry?"},
    {AnswerKind::trust, "How sure", "trust", "How sure is each number, what do direct readings say, and what to measure next?"},
    {AnswerKind::shafts, "Which shaft", "shafts", "Which of the listed shafts would serve here? A press tries one"},
    {AnswerKind::wrong, "What is wrong", "wrong", "Something is seen at the machine: which single change gives it?"},
    {AnswerKind::lines, "Specification", "lines", "What was measured against what was asked for"},
    {AnswerKind::drawbar, "Drawbar", "drawbar", "Which position of the drawbar's pin, and why?", is_drawn},
    {AnswerKind::ditch, "Ditch", "ditch", "What is worst on the way across, and what still passes?", is_drawn},
    {AnswerKind::turns, "Turns and dips", "turns", "What is left at every turn and dip?", is_drawn},
    {AnswerKind::sheet, "Sheet", "sheet", "The set-up sheet as it is printed"},
    {AnswerKind::card, "Card", "card", "The measuring card as it is printed"},
};

std::vector<AnswerBlock> say(const TextStyle& style, std::string words) {
    AnswerBuilder out(style);
    out.answer(std::move(words));
    return out.take();
}

std::vector<AnswerBlock> make_shafts(const AppState& app, const TextStyle& style) {
    const Setup& setup = app.now.setup;
    if (!setup.implement.pic.fitted && setup.implement.attachment == Attachment::mounted) return say(style, std::string(no_shaft_needed));
    std::vector<Problem> problems;
    const std::vector<Driveline> shafts = load_machines<Driveline>(FileKind::driveline, app.library, problems);
    std::vector<AnswerBlock> blocks = make_shaft_blocks(setup, study_shafts(list_shaft_candidates(setup, shafts), app.mark), style);
    if (problems.empty()) return blocks;
    AnswerBuilder out(style);
    out.answer("Left out, a listed shaft that cannot be read: " + escape_text(problems.front().message, 300) + ".");
    std::vector<AnswerBlock> all = out.take();
    all.insert(all.end(), blocks.begin(), blocks.end());
    return all;
}

std::vector<AnswerBlock> make_wrong(AppState& app, const std::vector<std::string>& texts, const TextStyle& style) {
    if (texts.empty()) return {};
    const Setup& setup = app.now.setup;
    const std::vector<ComplaintLine> lines = list_complaint_lines(setup, style.units);
    std::vector<Seen> seen;
    for (const std::string& text : texts) {
        const SeenText read = read_seen(text, style.units, setup, lines);
        seen.insert(seen.end(), read.seen.begin(), read.seen.end());
    }
    return make_trace_blocks(setup, trace(setup, seen, lines), style, app.view.answers.all_causes);
}

std::vector<AnswerBlock> make_ditch(const AppState& app, const TextStyle& style) {
    const Analysis& analysis = app.results.analysis;
    if (!analysis.drawn) return say(style, "NOT KNOWN: readings of the hitch are missing; the findings name them.");
    if (!analysis.drawn->ditch) return say(style, "No ditch is given. Its depth, width and slope have fields among the inputs.");
    return make_ditch_blocks(app.now.setup, analysis, style);
}

std::vector<AnswerBlock> make_turns(const AppState& app, const TextStyle& style) {
    const DrawnModelResult result = make_drawn_model(app.now.setup);
    if (!result.model.has_shaft) return say(style, "NOT KNOWN: readings of hitch or shaft are missing; the findings name them.");
    const TurnLimits limits = make_turn_limits(app.now.setup, result.model, JointHold::pto_off);
    const Envelope envelope = study_envelope(result.model, limits, envelope_columns, envelope_columns);
    return make_envelope_blocks(app.now.setup, envelope, style);
}

std::vector<AnswerBlock> make_lines(const Setup& setup, const TextStyle& style) {
    std::vector<LineResult> lines = check_lines(setup);
    sort_lines(lines);
    return make_line_blocks(setup, lines, style);
}

/// With random draws where they are needed, as the command has it: made on demand, it may take longer than a frame.
std::vector<AnswerBlock> make_trust(const AppState& app, const TextStyle& style) {
    AnswerBuilder out(style);
    add_trust(out, analyze_alone(app.now.setup, app.mark, BandEffort::draws));
    return out.take();
}

std::vector<AnswerBlock> make_blocks(AppState& app, AnswerKind kind, const std::vector<std::string>& seen) {
    const TextStyle style{app.view.units, 80, false};
    const Setup& setup = app.now.setup;
    switch (kind) {
        case AnswerKind::loads: return make_load_blocks(make_load_answer(setup, app.results.analysis, load_heights), style);
        case AnswerKind::trust: return make_trust(app, style);
        case AnswerKind::lines: return make_lines(setup, style);
        case AnswerKind::shafts: return make_shafts(app, style);
        case AnswerKind::wrong: return make_wrong(app, seen, style);
        case AnswerKind::drawbar: return make_drawbar_blocks(setup, study_drawbar(setup, app.mark), style);
        case AnswerKind::ditch: return make_ditch(app, style);
        case AnswerKind::turns: return make_turns(app, style);
        case AnswerKind::sheet:
        case AnswerKind::card: break;
    }
    return {};
}

void compose_sheet(const AppState& app, PagePreview& p) {
    const TodayDate today = find_today([](const char* name) -> const char* { return std::getenv(name); });
    p.refused = today.message;
    if (!today.message.empty()) return;
    const Setup& setup = app.now.setup;
    const Analysis& analysis = app.results.analysis;
    const SheetOptions options = make_sheet_options({app.name, app.library, app.now.edits.sets, app.now.edits.rules}, today.date);
    const Sheet sheet = make_sheet(setup, analysis, p.units, HITCHWRIGHT_VERSION);
    p.pages = compose_sheet_document(setup, analysis, sheet, options, p.units, find_sheet_paper(p.a4));
}

std::string join(const std::vector<std::string>& texts) {
    std::string all;
    for (const std::string& text : texts) all += text + "\n";
    return all;
}

/// What the answer depends on besides the set-up.
std::string find_asked(AppState& app, const std::vector<std::string>& seen) {
    return join(seen) + (app.view.answers.all_causes ? "all" : "");
}

}  // namespace

std::span<const AnswerEntry> answer_entries() { return entries; }

const AnswerEntry& shown_answer(const AppState& app) { return find_shown(answer_entries(), app.view.answers.kind, app); }

std::optional<AnswerKind> find_answer(std::string_view name) { return find_named(answer_entries(), name); }

bool is_paper(AnswerKind kind) { return kind == AnswerKind::sheet || kind == AnswerKind::card; }

std::vector<std::string> list_seen(AppState& app) {
    std::vector<std::string> texts;
    const std::vector<ComplaintLine> lines = list_complaint_lines(app.now.setup, app.view.units);
    for (auto& [place, tick] : app.view.answers.seen) {
        const SeenItem& item = seen_items()[place];
        tick.problem.clear();
        if (!tick.ticked || !is_there(item, app.now.setup)) continue;
        if (!is_complaint(item.kind) && tick.number.empty()) {
            tick.problem = "Type how much.";
            continue;
        }
        const std::vector<SeenSpot> spots = list_spots(item, app.now.setup);
        const std::string text = compose_seen(item, tick.number, tick.more, spots[std::min(tick.spot, spots.size() - 1)]);
        const SeenText read = read_seen(text, app.view.units, app.now.setup, lines);
        if (read.problem.empty()) texts.push_back(text);
        else tick.problem = read.problem + ".";
    }
    return texts;
}

bool is_stale(AppState& app) {
    const MadeAnswer& m = app.view.answers.made;
    const AnswerKind kind = shown_answer(app).choice;
    const bool same = m.revision == app.results.revision && m.kind == kind && m.units == app.view.units;
    return !same || (kind == AnswerKind::wrong && m.asked != find_asked(app, list_seen(app)));
}

const std::vector<AnswerBlock>& make_answer(AppState& app) {
    MadeAnswer& m = app.view.answers.made;
    if (!is_stale(app)) return m.blocks;
    const AnswerKind kind = shown_answer(app).choice;
    const std::vector<std::string> seen = kind == AnswerKind::wrong ? list_seen(app) : std::vector<std::string>{};
    m = {app.results.revision, kind, app.view.units, find_asked(app, seen), make_blocks(app, kind, seen)};
    return m.blocks;
}

const PagePreview& make_preview(AppState& app) {
    PagePreview& p = app.view.answers.preview;
    const AnswerKind kind = shown_answer(app).choice;
    if (p.revision == app.results.revision && p.kind == kind && p.units == app.view.units && p.made_a4 == p.a4) return p;
    if (p.kind != kind) p.page = 0;
    p.revision = app.results.revision;
    p.kind = kind;
    p.units = app.view.units;
    p.made_a4 = p.a4;
    p.refused.clear();
    p.pages.clear();
    if (kind == AnswerKind::sheet) compose_sheet(app, p);
    else p.pages = compose_card_pages(app.now.setup, {p.units, false}, find_sheet_paper(p.a4).upright, BuiltInTextMeasure{});
    if (p.page >= p.pages.size()) p.page = 0;
    return p;
}

std::string name_page(const AppState& app, std::size_t page) {
    const PagePreview& p = app.view.answers.preview;
    const bool drawing = p.kind == AnswerKind::sheet && page + 1 == p.pages.size();
    return drawing ? "Drawing" : fmt::format("Page {}", page + 1);
}

}  // namespace hitchwright
