#include "gui/state_report.h"

#include "gui/open_setup.h"
#include "gui/rooms.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

JsonArray make_texts(const std::vector<std::string>& texts) { return {texts.begin(), texts.end()}; }

JsonValue make_place(const ScreenRect& r) {
    JsonObject o;
    o.number("left", static_cast<double>(r.left)).number("top", static_cast<double>(r.top));
    return o.number("right", static_cast<double>(r.right)).number("bottom", static_cast<double>(r.bottom)).build();
}

JsonValue make_places(const AppState& app, int frame) {
    JsonObject o;
    for (const auto& [name, rect] : app.view.places) {
        if (rect.frame >= frame) o.add(name, make_place(rect));
    }
    return o.build();
}

JsonArray make_problems(const std::vector<Problem>& problems) {
    JsonArray list;
    for (const Problem& p : problems) {
        JsonObject o;
        list.push_back(o.add("file", p.file).add("line", p.line).add("key", p.key).add("message", p.message).build());
    }
    return list;
}

void add_judgement(JsonObject& o, const AppState& app) {
    if (!app.problems.empty()) {
        o.unknown("verdict", "the set-up cannot be read").unknown("verdict_text", "the set-up cannot be read");
        return;
    }
    const Analysis& analysis = app.results.analysis;
    o.add("verdict", verdict_word(analysis.verdict));
    o.add("verdict_text", format_verdict_sentence(app.now.setup, analysis, app.view.units));
}

void add_questions(JsonObject& o, const AppState& app) {
    const FileView& files = app.view.files;
    std::string asked = "none";
    if (files.refused)
        asked = "not_opened";
    else if (!files.left.empty())
        asked = "kept_changes";
    else if (!files.waiting.empty() && !files.waits_for_save)
        asked = "open_over_changes";
    else if (app.view.save.open)
        asked = "save";
    else if (app.view.asks_to_close)
        asked = "close";
    else if (app.view.take.open)
        asked = "take_with_you";
    else if (files.dialog.open)
        asked = files.dialog.wish == FileWish::open ? "open" : "save_as";
    o.add("question", asked);
    o.add("problems", make_problems(files.refused ? files.refused->problems : app.problems));
}

}  // namespace

std::string format_state_report(const AppState& app, const ReportFacts& facts) {
    JsonObject o;
    o.add("schema", "hitchwright.window").add("schema_version", json_version).add("frame", facts.frame);
    o.add("setup", setup_title(app)).add("file", app.drafted ? std::string{} : find_whole_name(app.name));
    add_judgement(o, app);
    o.add("revision", app.results.revision).add("units", app.view.units == UnitSystem::inch ? "in" : "mm");
    if (app.results.analysis.linkage)
        o.length("ball_height", shown_ball_height(app));
    else
        o.unknown("ball_height_mm", "there is no lift to show");
    o.add("edits", make_texts(app.now.edits.sets)).add("rules", app.now.edits.rules);
    o.add("has_changes", has_changes(app)).add("can_undo", can_undo(app)).add("can_redo", can_redo(app));
    o.add("notice", app.view.notice).add("focus", app.view.focus);
    o.add("theme", app.view.theme == Theme::dark ? "dark" : "light")
        .number("scale", static_cast<double>(app.view.scale));
    o.add("side_room", shown_side_room(app).name).add("lower_room", shown_lower_room(app).name);
    const SideCamera& camera = app.view.camera;
    o.add("one_column", app.view.column.on).add("picture_fitted", camera.fitted).number("picture_scale", camera.scale_denominator);
    o.add("hint", app.view.hint);
    add_questions(o, app);
    o.add("recent", make_texts(app.view.files.recent)).add("recovery_file", facts.recovery_file);
    o.number("width", static_cast<double>(facts.width)).number("height", static_cast<double>(facts.height));
    return format_json_value(o.add("places", make_places(app, facts.shown_frame)).build());
}

}  // namespace hitchwright
