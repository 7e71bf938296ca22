// See cut_room.h.
#include "gui/cut_room.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "geometry/ways_out.h"
#include "gui/field_edits.h"
#include "report/cut_report.h"
#include "report/exact_cut.h"

namespace hitchwright {
namespace {

/// Longest length in the working band, where the rules ask for overlap there.
double find_longest_in_work(const Analysis& a) {
    return a.shaft && !a.drawn ? std::min(a.shaft->work.longest.bound, a.shaft->travel.longest.bound) : 0.0;
}

/// Guard tubes as they are, of the travel that the case was made for.
const TelescopingHalves* find_guard(const Analysis& a, TravelSource source) {
    if (source == TravelSource::direct_readings)
        return a.direct && a.direct->shaft.has_guard ? &a.direct->shaft.guard : nullptr;
    if (a.drawn) return a.drawn->model.has_guard ? &a.drawn->model.guard : nullptr;
    return a.linkage && a.linkage->model.has_guard ? &a.linkage->model.guard : nullptr;
}

/// A length of a cut as a value of the set-up; nothing taken off: the value is taken away.
std::string write_cut(double cut, const Mark& mark, UnitSystem units) {
    return cut <= cut_tolerance ? std::string() : format_exact_cut(cut, mark, units);
}

bool keeps_all(const CutRoom& room, const CutPair& cut) {
    const CutHalves after = cut_halves(room.whole.halves, cut);
    return after.status == CutStatus::ok &&
           keeps_limits(find_margins(after.halves, room.whole.travel, room.whole.limits), room.whole.limits);
}

}  // namespace

std::optional<CutRoom> find_cut_room(const AppState& app) {
    const std::optional<CutCase> now = make_cut_case(app.now.setup, app.results.analysis);
    if (!now || check_halves(now->halves) != HalvesStatus::ok) return std::nullopt;
    CutRoom room;
    room.standing = *now;
    room.now = now->made_before;
    room.whole = *now;
    room.whole.halves = undo_cut(now->halves, room.now);
    room.whole.made_before = {};
    const bool mounted = now->source == TravelSource::linkage;
    if (mounted) room.whole.travel.longest_in_work = find_longest_in_work(app.results.analysis);
    room.whole.plan = plan_cut(room.whole.halves, room.whole.travel, room.whole.limits, app.mark);
    if (!is_answered(room.whole.plan)) return std::nullopt;
    room.interval = find_cut_interval(room.whole.halves, room.whole.travel, room.whole.limits);
    if (const TelescopingHalves* guard = find_guard(app.results.analysis, now->source))
        room.guard = undo_cut(*guard, room.now);
    const Limit& guard_overlap = app.now.setup.rules.guard_overlap;
    room.guard_overlap_needed = guard_overlap.set ? guard_overlap.value : 0.0;
    return room;
}

CutPair find_shown_cut(const AppState& app, const CutRoom& room) {
    return app.view.cut.dragged ? find_cut_at(room.whole.halves, *app.view.cut.dragged) : room.now;
}

CutPicture make_cut_picture(const CutRoom& room, const CutPair& cut) {
    return {room.whole.halves, cut, room.guard, room.whole.travel, room.whole.limits, room.guard_overlap_needed};
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

std::optional<CutPair> find_recommended_total(const CutRoom& room) {
    const CutPlan& plan = room.standing.plan;
    const bool cuts = plan.answer == CutAnswer::cut_to_aim || plan.answer == CutAnswer::cut_short_of_aim ||
                      plan.answer == CutAnswer::cut_between_marks;
    if (!cuts) return std::nullopt;
    return CutPair{room.now.a + plan.recommended.a, room.now.b + plan.recommended.b};
}

NamedCut find_compared_cut(const AppState& app, const CutRoom& room) {
    const CutPair shown = find_shown_cut(app, room);
    if (shown.a > cut_tolerance || shown.b > cut_tolerance) return {"cut", shown};
    const std::optional<CutPair> recommended = find_recommended_total(room);
    return recommended ? NamedCut{"recommended", *recommended} : NamedCut{};
}

std::string say_shown_cut(const AppState& app, const CutRoom& room) {
    const UnitSystem units = app.view.units;
    const CutPair shown = find_shown_cut(app, room);
    const std::string cut = format_exact_cut(shown, app.mark, units);
    if (room.is_whole()) return cut == "nothing" ? "The shaft is whole." : "Cut " + cut + ".";
    const std::string what = app.view.cut.dragged ? "The mark: " : "In the set-up already: ";
    return fmt::format("{}{}; counted from the uncut shaft, {} of it already in the set-up.", what, cut,
                       format_exact_cut(find_shortening(room.now), app.mark, units));
}

CutRemark say_about_cut(const AppState& app, const CutRoom& room) {
    if (!room.interval.any) return {};
    const SafeWords w{app.view.units};
    const CutPair cut = find_shown_cut(app, room);
    const bool on_line = is_on_cut_line(room.whole.halves, cut);
    const std::string place = on_line ? say_cut_place(room, find_shortening(cut), w) : "";
    if (!place.empty()) return {"As it stands: " + place + ".", true};
    const std::string other = "the halves lose other lengths than the trade's order; the mark sets both anew.";
    if (!on_line && !keeps_all(room, cut)) return {"As it stands gap or overlap is not kept, and " + other, true};
    if (!app.view.cut.reason.empty()) return {"The mark stops: " + app.view.cut.reason + ".", true};
    return {fmt::format("Keeps gap and overlap of the steel tubes from {} to {} off the half that loses more{}.{}",
                        w.at_least(room.interval.least), w.at_most(room.interval.most),
                        room.is_whole() ? "" : ", counted from the uncut shaft",
                        on_line ? "" : " As it stands they are kept, too; " + other),
            false};
}

std::vector<Problem> set_cuts(AppState& app, const CutPair& cut) {
    const UnitSystem units = app.view.units;
    Edits edits = with_field(app.now.edits, "choices.cut_tractor_half", write_cut(cut.a, app.mark, units));
    edits = with_field(std::move(edits), "choices.cut_implement_half", write_cut(cut.b, app.mark, units));
    return change_edits(app, std::move(edits));
}

std::vector<Problem> set_cut(AppState& app, const CutRoom& room, double shortening) {
    return set_cuts(app, find_cut_at(room.whole.halves, shortening));
}

const std::vector<std::string>& list_ways_out(AppState& app, const CutRoom& room) {
    CutState& c = app.view.cut;
    if (c.ways_revision == app.results.revision && c.ways_units == app.view.units) return c.ways_out;
    const Analysis& a = app.results.analysis;
    std::vector<Remedy> ways;
    if (a.linkage && a.shaft) ways = find_ways_out(app.now.setup, *a.linkage, *a.shaft, app.mark);
    c.ways_out = list_cut_ways_out(room.standing, ways, {app.view.units});
    c.ways_revision = app.results.revision;
    c.ways_units = app.view.units;
    return c.ways_out;
}

}  // namespace hitchwright
