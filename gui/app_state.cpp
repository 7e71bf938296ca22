#include "gui/app_state.h"

#include <algorithm>

#include <fmt/format.h>

#include "geometry/do_both.h"
#include "gui/ditch_place.h"
#include "presets/load_tree.h"
#include "report/side_view_scene.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(AppState);
HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(ViewState);

namespace {

std::vector<NamedPreset> list_named(const Library& library, FileKind kind) {
    std::vector<NamedPreset> named;
    for (const PresetEntry& entry : library.list(kind)) {
        if (entry.hidden) continue;
        const std::string title = peek_name(library.read(entry).text);
        named.push_back({entry.key, title.empty() ? entry.key : escape_text(title, 80)});
    }
    return named;
}

void widen(std::optional<DrawingBox>& box, const std::optional<DrawingBox>& other) {
    if (!other) return;
    if (!box) {
        box = other;
        return;
    }
    box->least = {std::min(box->least.x, other->least.x), std::min(box->least.z, other->least.z)};
    box->most = {std::max(box->most.x, other->most.x), std::max(box->most.z, other->most.z)};
}

/// Box around lowest and highest position, so that the picture does not jump while the lift moves.
std::optional<DrawingBox> find_drawn_box(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    std::optional<DrawingBox> box;
    if (!analysis.linkage)
        return find_bounding_box(draw_side_view(make_pose_scene(setup, analysis, 0.0, units)));
    const HeightRange& travel = analysis.linkage->model.travel;
    for (const double height : {travel.low, travel.high})
        widen(box, find_bounding_box(draw_side_view(make_pose_scene(setup, analysis, height, units))));
    return box;
}

void compute(AppState& app) {
    Results& r = app.results;
    ++r.revision;
    r.analysis = analyze(app.now.setup, app.mark, BandEffort::second_order, find_idle_threads());
    do_both(find_idle_threads(), [&] { r.bands = find_travel_bands(app.now.setup, r.analysis); },
            [&] { r.drawn = find_drawn_box(app.now.setup, r.analysis, app.view.units); });
    // Texts of fields follow the values again; what was refused stays until somebody mends it.
    std::erase_if(app.view.fields, [](const auto& f) { return !f.second.active && f.second.message.empty(); });
}

LoadedSetup load(const AppState& app, const Edits& edits) {
    const LoadOptions options{edits.sets, edits.rules};
    return app.drafted ? load_setup(app.source, app.library, options, *app.parsed) : load_setup(app.name, app.library, options, *app.parsed);
}

// Before the set-up is loaded: should somebody save it in between, the text is the older one, and nothing is written over
// what was not shown.
PresetText read_source(const AppState& app) {
    return app.drafted ? app.source : app.library.read(FileKind::setup, app.name);
}

/// The files as they are now.
struct PresentFiles {
    PresetText source;
    std::optional<Setup> first;  ///< with the edits of the start; none: as the window has it
};

/// The set-up as at the start from the files as they are now, where that is another than it was then.
// A file that somebody saves meanwhile would change the answer without a word.
std::optional<Setup> find_changed_first(const AppState& app) {
    LoadedSetup first = load(app, app.first);
    if (first.ok() && first.setup != app.first_setup) return std::move(first.setup);
    return std::nullopt;
}

PresentFiles read_files(const AppState& app) { return {read_source(app), find_changed_first(app)}; }

/// Their values are those of the window from now on; the notice begins anew and says so.
void use_files(AppState& app, PresentFiles files) {
    app.view.notice.clear();
    if (!files.first) return;
    app.source = std::move(files.source);
    app.first_setup = std::move(*files.first);
    app.view.notice = "The files were changed since they were read: their new values are used.";
}

void add_notice(AppState& app, std::string_view sentence) {
    std::string& notice = app.view.notice;
    notice += (notice.empty() ? "" : " ") + std::string(sentence);
}

/// A step back or forward: its edits over the files as they are now.
void go_step(AppState& app, bool (History::*step)(Snapshot&)) {
    PresentFiles files = read_files(app);
    if (!(app.history.*step)(app.now)) return app.view.notice.clear();
    use_files(app, std::move(files));
    LoadedSetup loaded = load(app, app.now.edits);
    if (!loaded.ok()) {
        add_notice(app, "The files cannot be read with these changes as they are now: the values read before are shown.");
    } else {
        if (app.view.notice.empty() && loaded.setup != app.now.setup)
            add_notice(app, "The files were changed since that step: their new values are used.");
        app.now.setup = std::move(loaded.setup);
        app.now.notes = std::move(loaded.notes);
    }
    compute(app);
}

std::vector<Problem> adopt(AppState& app, Edits edits, LoadedSetup loaded) {
    if (!loaded.ok()) return loaded.problems;
    Snapshot next{std::move(edits), std::move(loaded.setup), std::move(loaded.notes)};
    if (next == app.now) {
        app.now.notes = std::move(next.notes);
        return {};
    }
    app.history.remember(std::exchange(app.now, std::move(next)));
    compute(app);
    return {};
}

}  // namespace

void list_choices(AppState& app) {
    app.drivelines = list_named(app.library, FileKind::driveline);
    app.rule_sets = list_named(app.library, FileKind::rules);
}

namespace {

void begin(AppState& app, Edits edits, UnitSystem units, const Mark& mark) {
    app.mark = mark;
    app.view.units = units;
    app.first = edits;
    app.source = read_source(app);
    LoadedSetup loaded = load(app, edits);
    app.problems = loaded.problems;
    if (!loaded.ok()) return;
    list_choices(app);
    app.first_setup = loaded.setup;
    app.now = {std::move(edits), std::move(loaded.setup), std::move(loaded.notes)};
    compute(app);
}

}  // namespace

AppState open_app(Library library, std::string name, Edits edits, UnitSystem units, const Mark& mark) {
    AppState app(std::move(library));
    app.name = std::move(name);
    begin(app, std::move(edits), units, mark);
    return app;
}

AppState open_draft(Library library, std::string text, std::string name, UnitSystem units, const Mark& mark) {
    AppState app(std::move(library));
    app.drafted = true;
    app.source.text = std::move(text);
    app.source.file = app.source.key = name;
    app.name = std::move(name);
    begin(app, {}, units, mark);
    return app;
}

void keep_window_view(ViewState& fresh, ViewState&& before) {
    fresh.units = before.units;
    fresh.theme = before.theme;
    fresh.scale = before.scale;
    fresh.side_room = before.side_room;
    fresh.lower_room = before.lower_room;
    fresh.files = std::move(before.files);
    fresh.places = std::move(before.places);
    fresh.yard = std::move(before.yard);
    fresh.yard.message.clear();
    fresh.yard.asks_name = false;
    fresh.compare = std::move(before.compare);
    fresh.curves.hidden = std::move(before.curves.hidden);
    fresh.save.by = std::move(before.save.by);
    fresh.touch = std::move(before.touch);
    fresh.column = std::move(before.column);
}

std::vector<Problem> change_edits(AppState& app, Edits edits) {
    PresentFiles files{read_source(app), {}};
    LoadedSetup loaded;
    do_both(find_idle_threads(), [&] { loaded = load(app, edits); }, [&] { files.first = find_changed_first(app); });
    // Saved just then: of the two at once either may be the older one.
    if (files.first) loaded = load(app, edits);
    std::vector<Problem> problems = adopt(app, std::move(edits), std::move(loaded));
    if (problems.empty()) use_files(app, std::move(files));
    return problems;
}

std::vector<Problem> change_value(AppState& app, std::string_view key, std::string_view value) {
    return change_edits(app, with_field(app.now.edits, key, value));
}

std::vector<Problem> change_driveline(AppState& app, std::string_view key) {
    Edits edits = without_values(app.now.edits, "driveline.");
    const bool had_cut = app.now.setup.choices.cut_tractor_half.known || app.now.setup.choices.cut_implement_half.known;
    edits = without_values(std::move(edits), "choices.cut_");
    if (!key.empty()) {
        // Cuts in the file were made to the file's shaft.
        for (const char* cut : {"choices.cut_tractor_half", "choices.cut_implement_half"})
            edits = with_value(std::move(edits), cut, "");
        edits = with_value(std::move(edits), "driveline.use", key);
    }
    std::vector<Problem> problems = change_edits(app, std::move(edits));
    if (problems.empty() && had_cut)
        add_notice(app, "The cuts belonged to the shaft before: the new one counts as whole.");
    return problems;
}

std::vector<Problem> change_holes(AppState& app, const HoleCombination& holes) {
    if (is_chosen(app.now.setup, holes)) return {};
    const Choices wanted = choose_holes(app.now.setup, holes).choices;
    const bool drops_length = app.now.setup.choices.upper_link_length.known && !wanted.upper_link_length.known;
    Edits edits = with_field(app.now.edits, "choices.upper_link_pin", wanted.upper_link_pin);
    edits = with_field(edits, "choices.mast_pin", wanted.mast_pin);
    if (wanted.lift_rod_hole != app.now.setup.choices.lift_rod_hole)
        edits = with_field(edits, "choices.lift_rod_hole", wanted.lift_rod_hole);
    if (drops_length) edits = with_field(edits, "choices.upper_link_length", "");
    std::vector<Problem> problems = change_edits(app, std::move(edits));
    if (problems.empty() && drops_length)
        add_notice(app, "The typed link length belonged to the holes before: the working pitch now gives the length.");
    return problems;
}

namespace {

/// Machines and the answer of the yard are read anew when they are shown.
void forget_lists(AppState& app) {
    app.view.yard.lists.reset();
    app.view.yard.answer.reset();
}

}  // namespace

std::vector<Problem> read_again(AppState& app) {
    if (!app.problems.empty()) {
        AppState opened = open_app(app.library, app.name, app.first, app.view.units, app.mark);
        if (!opened.problems.empty()) {
            app.problems = opened.problems;
            return {};
        }
        keep_window_view(opened.view, std::move(app.view));
        opened.results.revision = app.results.revision + 1;
        app = std::move(opened);
        forget_lists(app);
        return {};
    }
    PresetText source = read_source(app);
    LoadedSetup loaded = load(app, app.now.edits);
    if (!loaded.ok()) return loaded.problems;
    app.now.setup = std::move(loaded.setup);
    app.now.notes = std::move(loaded.notes);
    app.source = std::move(source);
    compute(app);
    forget_lists(app);
    list_choices(app);
    const LoadedSetup first = load(app, app.first);
    if (first.ok()) app.first_setup = first.setup;
    app.view.notice = "Read again; your changes stand over it.";
    return {};
}

bool can_undo(const AppState& app) { return !app.history.past.empty(); }
bool can_redo(const AppState& app) { return !app.history.future.empty(); }

void undo(AppState& app) { go_step(app, &History::step_back); }

void redo(AppState& app) { go_step(app, &History::step_forward); }

bool has_changes(const AppState& app) { return app.problems.empty() && (app.drafted || app.now.edits != app.first); }

double shown_ball_height(const AppState& app) {
    if (!app.results.analysis.linkage) return 0.0;
    const MountedModel& m = app.results.analysis.linkage->model;
    const double usual = m.has_working_height ? m.working_height : m.travel.low;
    return std::clamp(app.view.ball_height.value_or(usual), m.travel.low, m.travel.high);
}

std::string stand_at(AppState& app, std::optional<double> ball_height) {
    app.view.ball_height = ball_height;
    if (!ball_height || !app.results.bands || app.results.bands->travel.contains(*ball_height)) return {};
    const auto text = [&](double metres) { return format_length(metres, app.view.units); };
    const HeightRange& travel = app.results.bands->travel;
    app.view.notice = fmt::format("A ball height of {} lies outside the travel, {} to {}: {} is shown.",
                                  text(*ball_height), text(travel.low), text(travel.high), text(shown_ball_height(app)));
    return app.view.notice;
}

std::string choose_picture(AppState& app, std::optional<DrawnPicture> picture) {
    if (!picture) return {};
    if (app.now.setup.implement.attachment != Attachment::drawn) return "This picture is of drawn implements; this one is mounted.";
    app.view.drawn_picture = *picture;
    if (*picture == DrawnPicture::ditch && !find_shown_station(app)) {
        app.view.drawn_picture = DrawnPicture::side;
        return "The set-up names no ditch, or one the machine does not stand in: the view from the side is shown.";
    }
    return {};
}

std::string choose_view(AppState& app, std::optional<DrawnPicture> drawn, std::optional<MountedPicture> mounted) {
    if (!drawn && !mounted) return {};
    if (app.now.setup.implement.attachment == Attachment::drawn)
        return drawn ? choose_picture(app, drawn) : "--view rear belongs to mounted implements; this one is drawn: side, plan, envelope or ditch.";
    if (!mounted) return "--view envelope and ditch belong to drawn implements; this one is mounted: side, plan or rear.";
    app.view.act.switches.mounted = *mounted;
    return {};
}

void leave_mounted_picture(AppState& app) {
    app.view.camera.fitted = true;
    app.view.act.stepped = -1;
    app.view.act.measured.clear();
}

HitchView shown_place(const AppState& app) {
    const HitchView at{shown_ball_height(app), app.view.act.sway};
    return app.results.analysis.linkage ? bring_inside(app.results.analysis.linkage->model, at) : HitchView{};
}

std::string setup_title(const AppState& app) {
    const std::string& own = app.now.setup.name;
    return escape_text(own.empty() ? app.name : own, 100);
}

}  // namespace hitchwright
