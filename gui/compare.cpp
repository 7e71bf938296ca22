// See compare.h.
#include "gui/compare.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "gui/open_setup.h"
#include "gui/typing.h"
#include "presets/setup_values.h"
#include "report/fit_report.h"
#include "report/safe_words.h"
#include "report/side_view_scene.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t longest_title = 60, longest_ghost_title = 26;

/// Title of a set-up, and how many changes stand over its file.
std::string make_title(const std::string& title, const Edits& edits) {
    const std::size_t changes = edits.sets.size() + (edits.rules.empty() ? 0 : 1);
    const std::string name = printable_text(title, longest_title);
    return changes == 0 ? name : fmt::format("{}, with {}", name, format_count(changes, "change"));
}

void keep(AppState& app, KeptSetup kept) {
    CompareState& c = app.view.compare;
    c.a = std::move(kept);
    ++c.kept;
    c.message.clear();
}

std::string draft_of(const AppState& app) { return app.drafted ? app.source.text : std::string(); }

KeptSetup keep_present(const AppState& app) {
    return {app.name, draft_of(app), make_title(setup_title(app), app.now.edits), app.now.edits, app.now.setup, app.results.analysis};
}

Judgement judge_again(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    return {analysis, format_verdict_sentence(setup, analysis, units)};
}

std::shared_ptr<const SetupDifference> make_difference(const AppState& app, const KeptSetup& a) {
    auto d = std::make_shared<SetupDifference>();
    d->old_title = a.title;
    d->new_title = make_title(setup_title(app), app.now.edits);
    d->old_setup = a.setup;
    d->new_setup = app.now.setup;
    d->old_judgement = judge_again(a.setup, a.analysis, app.view.units);
    d->new_judgement = judge_again(app.now.setup, app.results.analysis, app.view.units);
    d->values = compare_values(d->old_setup, d->new_setup);
    d->findings = compare_findings(d->old_judgement.analysis->findings, d->new_judgement.analysis->findings);
    return d;
}

const HoleResult* find_hovered(const AppState& app) {
    const std::optional<HoleCombination>& hovered = app.view.compare.hovered;
    if (!hovered || !is_compared(app) || is_chosen(app.now.setup, *hovered)) return nullptr;
    for (const HoleResult& r : app.hole_table.study.results) {
        if (r.numbers.holes == *hovered) return &r;
    }
    return nullptr;
}

bool shows_a(const AppState& app) { return app.view.compare.a && !(app.view.compare.a->setup == app.now.setup); }

/// What A's file gives now with A's changes; a problem where that is no longer A: it cannot be brought back.
std::vector<Problem> check_kept(const AppState& app, const KeptSetup& a) {
    const LoadOptions options{a.edits.sets, a.edits.rules};
    PresetText draft;
    draft.text = a.draft;
    draft.file = draft.key = a.name;
    const LoadedSetup loaded = a.draft.empty() ? load_setup(a.name, app.library, options) : load_setup(draft, app.library, options);
    if (!loaded.ok()) return loaded.problems;
    if (loaded.setup == a.setup) return {};
    Problem changed;
    changed.message = "A's file has changed since; it cannot be brought back";
    return {changed};
}

/// Opens A's file in the window with A's changes; what belongs to the window stays.
std::vector<Problem> open_kept(AppState& app, const KeptSetup& a) {
    AppState opened = a.draft.empty() ? open_app(app.library, a.name, {}, app.view.units, app.mark)
                                      : open_draft(app.library, a.draft, a.name, app.view.units, app.mark);
    if (!opened.problems.empty()) return opened.problems;
    std::vector<Problem> problems = change_edits(opened, a.edits);
    if (!problems.empty()) return problems;
    show_opened(app, std::move(opened));
    return {};
}

}  // namespace

void remember_as_a(AppState& app) { keep(app, keep_present(app)); }

void remember_opened_as_a(AppState& app) {
    const std::string title = app.first_setup.name.empty() ? app.name : app.first_setup.name;
    keep(app, {app.name, draft_of(app), make_title(title, app.first) + ", as opened", app.first, app.first_setup,
               analyze(app.first_setup, app.mark, BandEffort::second_order)});
}

std::vector<Problem> remember_named_as_a(AppState& app, const std::string& name) {
    LoadedSetup loaded = load_setup(name, app.library, {});
    if (!loaded.ok()) return loaded.problems;
    const std::string title = loaded.setup.name.empty() ? name : loaded.setup.name;
    Analysis analysis = analyze(loaded.setup, app.mark, BandEffort::second_order);
    keep(app, {name, {}, make_title(title, {}), {}, std::move(loaded.setup), std::move(analysis)});
    return {};
}

void forget_a(AppState& app) {
    CompareState& c = app.view.compare;
    c.a.reset();
    c.difference.reset();
    ++c.kept;
    c.message.clear();
}

std::vector<Problem> swap_a_and_b(AppState& app) {
    if (!app.view.compare.a) return {};
    const KeptSetup a = *app.view.compare.a;
    KeptSetup b = keep_present(app);
    const bool same_file = a.name == app.name && a.draft == draft_of(app);
    if (!same_file && would_lose(app)) {
        Problem unsaved;
        unsaved.message = "A is another file, and what is changed or typed in this window is in none yet: write it, or take it back, first";
        return {unsaved};
    }
    std::vector<Problem> problems = check_kept(app, a);
    if (!problems.empty()) return problems;
    problems = same_file ? change_edits(app, a.edits) : open_kept(app, a);
    if (!problems.empty()) return problems;
    keep(app, std::move(b));
    app.view.notice =
        same_file ? "A and B are swapped." : "A and B are swapped: the other file is open now, and undo begins anew.";
    return {};
}

const SetupDifference* find_difference(AppState& app) {
    CompareState& c = app.view.compare;
    if (!c.a) return nullptr;
    const bool current = c.difference && c.difference_revision == app.results.revision && c.difference_kept == c.kept &&
                         c.difference_units == app.view.units;
    if (current) return c.difference.get();
    c.difference = make_difference(app, *c.a);
    c.difference_revision = app.results.revision;
    c.difference_kept = c.kept;
    c.difference_units = app.view.units;
    return c.difference.get();
}

std::optional<Ghost> find_ghost(const AppState& app, Setup& hovered) {
    if (const HoleResult* r = find_hovered(app)) {
        hovered = choose_holes(app.now.setup, r->numbers.holes);
        std::string words = fmt::format("hole {}, mast {}", r->numbers.tractor_pin, r->numbers.mast_pin);
        if (!r->numbers.rod_hole.empty()) words += ", rod " + r->numbers.rod_hole;
        return Ghost{find_ghost_key(app), &hovered, &r->analysis, printable_text(words, longest_ghost_title)};
    }
    if (!shows_a(app)) return std::nullopt;
    const KeptSetup& a = *app.view.compare.a;
    return Ghost{find_ghost_key(app), &a.setup, &a.analysis, "A: " + printable_text(a.title, longest_ghost_title)};
}

std::string find_ghost_key(const AppState& app) {
    if (const HoleResult* r = find_hovered(app)) {
        const HoleCombination& h = r->numbers.holes;
        return fmt::format("holes {} {} {}", h.tractor_pin, h.mast_pin, h.rod_hole);
    }
    return shows_a(app) ? fmt::format("A {}", app.view.compare.kept) : std::string();
}

void add_ghost(SideViewScene& scene, const AppState& app, double ball_height) {
    Setup hovered;
    const std::optional<Ghost> ghost = find_ghost(app, hovered);
    if (ghost) ghost_other(scene, *ghost->setup, *ghost->analysis, ball_height, ghost->words);
}

}  // namespace hitchwright
