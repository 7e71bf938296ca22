// Findings about level, sway and tyre room; see mounted_findings.h.
#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/carried_bands.h"
#include "geometry/finding_band.h"
#include "geometry/mounted_findings.h"
#include "geometry/side_word.h"

namespace hitchwright {
namespace {

/// A side to side level within this over the whole width is as good as set (docs/references.md, "Levelling": makers' 1/8 to 1/4 in).
constexpr double level_play = 0.00635;  // m

const Limit level_figure{level_play, true, Grade::B, "levelling figures in use"};
const Limit arithmetic{0.0, true, Grade::D, "linkage in space"};

Finding make(FindingKind kind, Severity severity, std::string subject) {
    Finding f;
    f.kind = kind;
    f.severity = severity;
    f.subject = std::move(subject);
    f.rule = arithmetic;
    return f;
}

/// What to set: every rod with a screw.
std::vector<Remedy> list_rod_remedies(const WantedRoll& w) {
    std::vector<Remedy> list;
    // A screw that would have to leave its thread is no way; check_rods says so.
    const bool beyond = std::any_of(w.rods.begin(), w.rods.end(), [](const RodLength& r) { return r.short_by || r.long_by; });
    if (beyond) return list;
    for (const RodLength& r : w.rods) {
        if (r.screw) list.push_back({RemedyKind::set_lift_rod, r.wanted, r.turns.value_or(0.0), side_word(r.side)});
    }
    return list;
}

Finding check_level(const Levelling& l) {
    const WantedRoll& w = *l.wanted;
    Finding f = make(FindingKind::side_level, Severity::good, l.measured_at);
    f.other = w.typed ? "wanted" : "level";
    f.value = l.difference.value();  // a roll that is reached has a pose
    f.has_limit = true;
    f.limit = level_play;
    f.margin = level_play - std::fabs(f.value);
    set_band(f, l.band);
    f.rule = level_figure;
    f.has_height = true;
    f.height = l.working.ball_height;
    f.terms = {{"roll", l.working.attitude.roll, Dimension::angle, "roll now, right side up positive"},
               {"wanted", w.roll, Dimension::angle, "roll wanted"},
               {"width", l.measured_width, Dimension::length, "over which the difference is taken"}};
    // Its play is finer than the rods are read: the screw is turned until it is level by eye.
    if (f.margin >= 0.0) return f;
    // Nobody asked for a level: a blade may well be set to stand tilted.
    f.severity = w.typed ? Severity::change : Severity::watch;
    if (w.reached) f.remedies = list_rod_remedies(w);
    f.cautions = {Caution::never_under_raised, Caution::nobody_between};
    return f;
}

void check_rods(const ErrorModel& errors, const Levelling& l, std::vector<Finding>& out) {
    const WantedRoll& w = *l.wanted;
    if (!w.typed) return;
    if (!w.reached) {
        Finding f = make(FindingKind::levelling_rod, Severity::change, "");
        f.other = "not_reached";
        f.dimension = Dimension::angle;
        f.value = w.roll;
        out.push_back(f);
        return;
    }
    for (const RodLength& r : w.rods) {
        if (!r.screw || !r.end) continue;
        Finding f = make(FindingKind::levelling_rod, Severity::change, side_word(r.side));
        f.other = r.at_shortest ? "too_short" : "too_long";
        f.value = r.wanted;
        f.has_limit = true;
        f.limit = *r.end;
        f.margin = r.at_shortest ? r.wanted - f.limit : f.limit - r.wanted;
        set_band(f, r.band);
        f.remedies = {{RemedyKind::match_part, r.wanted, 0.0, "a lift rod with another range"}};
        f.cautions = {Caution::never_under_raised};
        doubt_if_close(f, errors);
        if (f.margin < 0.0 || f.severity == Severity::unknown) out.push_back(f);
    }
}

void check_sway(const ErrorModel& errors, const SwayStudy& s, std::vector<Finding>& out) {
    if (!s.blocked.empty()) {
        Finding f = make(FindingKind::check_chain, Severity::forbids, "check chains");
        f.other = "stop_the_lift";
        f.value = s.blocked.front().low;
        f.has_height = true;
        f.height = s.blocked.front().low;
        f.heights = s.blocked;
        f.remedies = {{RemedyKind::match_part, 0.0, 0.0, "longer check chains"}};
        f.cautions = {Caution::nobody_between, Caution::never_under_raised};
        f.margin = -s.blocked_by;
        set_band(f, s.blocked_band);
        if (straddles(s.blocked_band, f.margin, LimitSide::at_least)) call_too_close(f, errors);
        out.push_back(f);
    }
    if (!s.working.left || !s.working.right) return;
    Finding f = make(FindingKind::sway, Severity::watch, s.tail ? s.tail->name : "");
    f.other = s.source == SwaySource::chains ? "check_chains" : "as_found";
    f.value = *s.working.right - *s.working.left;
    set_band(f, s.total_band);
    f.has_height = true;
    f.height = s.working.ball_height;
    if (s.tail) f.terms = {{"tail", s.tail->tail, Dimension::length, "swing of the rearmost point from side to side"}};
    if (f.value <= 0.0) return;
    out.push_back(f);
}

/// Which readings to take again to settle a limit `margin` away.
void ask_again(const ErrorModel& errors, double margin, Finding& f) {
    for (Remedy& r : list_retakes(errors, f.error, margin)) f.remedies.push_back(std::move(r));
}

Finding check_tyre(const ErrorModel& errors, const SpaceStudy& a) {
    const Setup& s = errors.setup();
    const TyreRoom& room = *a.tyre;
    Finding f = make(FindingKind::tyre_room, Severity::good, side_word(room.side));
    f.value = room.bound;
    f.bound_error = room.room - room.bound;
    set_band(f, a.tyre_band);
    f.has_height = true;
    f.height = room.at.height;
    f.has_limit = s.rules.clearance.set;
    f.limit = s.rules.clearance.value;
    f.margin = room.bound - f.limit;
    if (f.has_limit) f.rule = s.rules.clearance;
    if (!a.sway) f.other = "centred";
    f.terms = {{"sway", room.at.sway, Dimension::length, "of the balls there, to the right positive"},
               {"along", room.along, Dimension::ratio, "place on the lower link, 0 front pin, 1 ball"}};
    const bool touch_open = straddles(a.tyre_band, room.bound, LimitSide::at_least);
    const bool close_open = room.bound > 0.0 && f.has_limit && is_too_close(f);
    if (touch_open || close_open) f.severity = Severity::unknown;  // whether it touches, or comes too close
    else if (room.bound <= 0.0) f.severity = Severity::forbids;
    else if (f.margin < 0.0) f.severity = Severity::change;
    else if (a.sway == std::nullopt) f.severity = Severity::watch;  // nobody said how far it sways
    if (f.severity == Severity::good) return f;
    if (f.severity == Severity::watch) {
        if (!a.sway) f.remedies = {{RemedyKind::measure, 0.0, 0.0, "tractor.sway.total_at_ball"}};
        return f;
    }
    if (f.severity == Severity::unknown) ask_again(errors, touch_open ? room.bound : f.margin, f);
    f.remedies.push_back({RemedyKind::match_part, 0.0, 0.0, "shorter check chains, or a wider track"});
    f.cautions = {Caution::nobody_between};
    return f;
}

}  // namespace

std::vector<Finding> check_space(const ErrorModel& errors, const MountedModel& m, const SpaceStudy& a) {
    std::vector<Finding> out;
    if (!a.side_closes) {
        Finding f = make(FindingKind::side_motion, Severity::unknown, "lower links");
        f.other = "does_not_close";
        out.push_back(f);
    } else if (!a.side.limited) {
        Finding f = make(FindingKind::side_motion, Severity::unknown, "check chains");
        f.other = "no_limit";
        out.push_back(f);
    } else if (!a.side.proven) {
        Finding f = make(FindingKind::side_motion, Severity::unknown, "lower links");
        f.other = "not_bounded";
        out.push_back(f);
    }
    if (m.travel_moved_to_rods) {
        Finding f = make(FindingKind::lift_rods_set, Severity::watch, "lift rods");
        f.value = m.space.rods.right_length - m.space.rods.left_length;
        out.push_back(f);
    }
    if (a.rods_told && a.levelling && a.levelling->wanted && !a.levelling->working.closes) {
        Finding f = make(FindingKind::levelling_rod, Severity::unknown, "");
        f.other = "not_reached";
        f.dimension = Dimension::angle;
        f.value = a.levelling->wanted->roll;
        out.push_back(f);
    }
    if (a.rods_told && a.levelling && a.levelling->working.closes) {
        if (a.levelling->wanted->reached) out.push_back(check_level(*a.levelling));
        check_rods(errors, *a.levelling, out);
    }
    if (a.sway) check_sway(errors, *a.sway, out);
    if (a.tyre) out.push_back(check_tyre(errors, a));
    return out;
}

}  // namespace hitchwright
