// See cut_room.h.
#include "gui/cut_room.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "geometry/ways_out.h"
#include "report/cut_report.h"

namespace hitchwright {
namespace {

/// Longest length in the working band, where the rules ask for overlap there.
double find_longest_in_work(const Analysis& a) {
    return a.shaft && !a.drawn ? std::min(a.shaft->work.longest.bound, a.shaft->travel.longest.bound) : 0.0;
}

std::optional<TelescopingHalves> find_whole_guard(const Analysis& a, const CutPair& made) {
    if (a.drawn) return a.drawn->model.has_guard ? std::optional(undo_cut(a.drawn->model.guard, made)) : std::nullopt;
    if (!a.linkage || !a.linkage->model.has_guard) return std::nullopt;
    return undo_cut(a.linkage->model.guard, made);
}

/// A length of a cut as a value of the set-up; nothing taken off: the value is taken away.
std::string write_cut(double cut, const Mark& mark, UnitSystem units) {
    if (cut <= cut_tolerance) return {};
    const bool on_mark = std::fabs(cut - std::round(cut / mark.step) * mark.step) <= cut_tolerance;
    return format_cut_length(cut, on_mark ? mark.step : 0.0, units);
}

}  // namespace

std::optional<CutRoom> find_cut_room(const AppState& app) {
    const std::optional<CutCase> now = make_cut_case(app.now.setup, app.results.analysis);
    if (!now || check_halves(now->halves) != HalvesStatus::ok) return std::nullopt;
    CutRoom room;
    room.now = now->made_before;
    room.whole = *now;
    room.whole.halves = undo_cut(now->halves, room.now);
    room.whole.made_before = {};
    const bool mounted = now->source == TravelSource::linkage;
    if (mounted) room.whole.travel.longest_in_work = find_longest_in_work(app.results.analysis);
    room.whole.plan = plan_cut(room.whole.halves, room.whole.travel, room.whole.limits, app.mark);
    if (!is_answered(room.whole.plan)) return std::nullopt;
    room.interval = find_cut_interval(room.whole.halves, room.whole.travel, room.whole.limits);
    room.guard = find_whole_guard(app.results.analysis, room.now);
    return room;
}

CutPair find_shown_cut(const AppState& app, const CutRoom& room) {
    return app.view.cut.dragged ? find_cut_at(room.whole.halves, *app.view.cut.dragged) : room.now;
}

CutPicture make_cut_picture(const CutRoom& room, const CutPair& cut) {
    return {room.whole.halves, cut, room.guard, room.whole.travel, room.whole.limits};
}

std::string say_cut_place(const CutRoom& room, double shortening, const SafeWords& w) {
    switch (find_cut_place(room.interval, shortening)) {
        case CutPlace::too_little_gap:
            return fmt::format("less leaves too little gap: at least {}", w.at_least(room.interval.least));
        case CutPlace::too_little_overlap:
            return room.interval.most < 0.0
                       ? "too little overlap already without a cut"
                       : fmt::format("more leaves too little overlap: at most {}", w.at_most(room.interval.most));
        case CutPlace::inside:
            break;
    }
    return {};
}

double bring_inside(const AppState& app, const CutRoom& room, double wanted, std::string& reason) {
    reason = say_cut_place(room, wanted, {app.view.units});
    return snap_into(room.interval, wanted, app.mark);
}

std::vector<Problem> set_cut(AppState& app, const CutRoom& room, double shortening) {
    const CutPair cut = find_cut_at(room.whole.halves, shortening);
    Edits edits = with_value(app.now.edits, "choices.cut_tractor_half", write_cut(cut.a, app.mark, app.view.units));
    edits = with_value(std::move(edits), "choices.cut_implement_half", write_cut(cut.b, app.mark, app.view.units));
    return change_edits(app, std::move(edits));
}

const std::vector<std::string>& list_ways_out(AppState& app, const CutRoom& room) {
    CutState& c = app.view.cut;
    if (c.ways_revision == app.results.revision && c.ways_units == app.view.units) return c.ways_out;
    const Analysis& a = app.results.analysis;
    std::vector<Remedy> ways;
    if (a.linkage && a.shaft) ways = find_ways_out(app.now.setup, *a.linkage, *a.shaft, app.mark);
    c.ways_out = list_cut_ways_out(room.whole, ways, {app.view.units});
    c.ways_revision = app.results.revision;
    c.ways_units = app.view.units;
    return c.ways_out;
}

}  // namespace hitchwright
