#include "geometry/ditch_study.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/ditch_search.h"

namespace hitchwright {
namespace {

/// Crossing angles tried, rad: from square down to this.
constexpr double flattest_crossing = to_radians(15.0);
constexpr int depth_row = 12, angle_row = 15;
/// Ends of the searches: share of the depth, and rad (0.1 deg).
constexpr double depth_closeness = 1.0e-3, angle_step_closeness = 1.7e-3;

double find_difference(const Attitude& a, const Attitude& b) {
    return std::max({std::fabs(a.pitch - b.pitch), std::fabs(a.roll - b.roll), std::fabs(a.yaw - b.yaw)});
}

/// Between the neighbours of a worst station.
DitchStation refine(const DitchMarch& way, const DitchWay& marched, std::size_t index, DitchQuantity q) {
    const std::vector<DitchStation>& s = marched.stations;
    const double from = s[index == 0 ? 0 : index - 1].pose.place, to = s[std::min(index + 1, s.size() - 1)].pose.place;
    return find_peak(way, s[index], from, to, q);
}

/// Local worst stations are refined when they come this near to the worst of all, or to a limit (m or rad), or as near as the
/// state changes to their neighbours where that is more: on the rim of a steep side it is.
constexpr double worth_refining = 0.02;

double find_reach(const std::vector<DitchStation>& s, std::size_t i, DitchQuantity q) {
    double reach = worth_refining;
    if (i > 0) reach = std::max(reach, std::fabs(signed_value_of(s[i], q) - signed_value_of(s[i - 1], q)));
    if (i + 1 < s.size()) reach = std::max(reach, std::fabs(signed_value_of(s[i], q) - signed_value_of(s[i + 1], q)));
    return reach;
}

/// Poses stand to less than this (m, rad): what changes less from station to station is level, whichever is the greatest.
constexpr double pose_rounding = 1.0e-9;

bool is_peak(const std::vector<DitchStation>& s, std::size_t i, DitchQuantity q) {
    const bool last = i + 1 == s.size();
    const double here = badness(s[i], q), before = i == 0 ? here : badness(s[i - 1], q), after = last ? here : badness(s[i + 1], q);
    return here >= before && (last || here > after) && here > std::min(before, after) + pose_rounding;
}

DitchWorst find_worst(const DitchMarch& way, const DitchWay& marched, DitchQuantity q) {
    const std::vector<DitchStation>& s = marched.stations;
    const auto worst_station = std::max_element(s.begin(), s.end(), [&](const DitchStation& a, const DitchStation& b) { return badness(a, q) < badness(b, q); });
    DitchWorst worst{q, 0.0, marched.heading, *worst_station};
    for (std::size_t i = 0; i < s.size(); ++i) {
        if (!is_peak(s, i, q) || badness(s[i], q) + find_reach(s, i, q) < badness(worst.station, q)) continue;
        const DitchStation refined = refine(way, marched, i, q);
        if (badness(refined, q) > badness(worst.station, q)) worst.station = refined;
    }
    worst.value = value_of(worst.station, q);
    return worst;
}

void add_worst(const DrawnModel& m, const DitchMarch& way, const DitchWay& marched, std::vector<DitchWorst>& worst) {
    for (const DitchQuantity q : ditch_quantities) {
        if (needs_shaft(q) && !m.has_shaft) continue;
        const DitchWorst w = find_worst(way, marched, q);
        const auto same = std::find_if(worst.begin(), worst.end(), [&](const DitchWorst& o) { return o.quantity == q; });
        if (same == worst.end()) worst.push_back(w);
        else if (badness(w.station, q) > badness(same->station, q)) *same = w;
    }
}

bool keep_limits(const DrawnModel& m, const std::vector<DitchWorst>& worst, const DitchLimits& limits) {
    return std::all_of(worst.begin(), worst.end(), [&](const DitchWorst& w) { return keeps_limits(m, w.station, limits); });
}

/// Whether peaks between stations that keep the limits keep them too: those that find_worst refines, and those near a limit.
bool keep_limits_between(const DrawnModel& m, const DitchMarch& way, const DitchWay& marched, const DitchLimits& limits) {
    const std::vector<DitchStation>& s = marched.stations;
    for (const DitchQuantity q : ditch_quantities) {
        if (needs_shaft(q) && !m.has_shaft) continue;
        double greatest = badness(s.front(), q);
        for (const DitchStation& station : s) greatest = std::max(greatest, badness(station, q));
        for (std::size_t i = 0; i < s.size(); ++i) {
            if (!is_peak(s, i, q)) continue;
            const double reach = find_reach(s, i, q);
            if (badness(s[i], q) + reach < greatest && find_room(m, s[i], limits, q) > reach) continue;
            if (!keeps_limits(m, refine(way, marched, i, q), limits)) return false;
        }
    }
    return true;
}

/// Whether the study of a crossing says that it passes, with no more of each station than the limits are about.
bool passes_march(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits) {
    for (const Heading heading : list_headings(crossing)) {
        const DitchMarch way(m, rig, crossing, heading);
        DitchWay marched{heading, true, 0.0, {}};
        const std::vector<double> places = way.list_places(station_step);
        marched.stations.reserve(places.size());
        for (const double place : places) {
            marched.stations.push_back(way.limited_at(place, marched.stations.empty() ? nullptr : &marched.stations.back().pose));
            if (!keeps_limits(m, marched.stations.back(), limits)) return false;
        }
        if (!keep_limits_between(m, way, marched, limits)) return false;
    }
    return true;
}

/// What the study tells of its own crossing.
DitchPass as_pass(const DitchStudy& study, const DrawnModel& m, const DitchLimits& limits) {
    DitchPass pass{study.passes, true, std::nullopt, std::nullopt};
    pass.stands = std::all_of(study.ways.begin(), study.ways.end(), [](const DitchWay& w) { return w.complete; });
    if (study.worst.empty() || !pass.stands) return pass;
    pass.rooms = make_endless_rooms();
    double least = 0.0;
    for (const DitchWorst& w : study.worst) {
        const double room = find_room(m, w.station, limits, w.quantity);
        (*pass.rooms)[static_cast<std::size_t>(w.quantity)] = room;
        if (room < least) pass.breaks = DitchPlace{w.heading, w.station.pose.place};
        least = std::min(least, room);
    }
    return pass;
}

std::optional<double> as_optional(const Reading& r) { return r.known ? std::optional<double>(r.value) : std::nullopt; }

}  // namespace

DitchLimits make_ditch_limits(const Setup& s, const DrawnModel& m, JointHold hold) {
    const TurnLimits t = make_turn_limits(s, m, hold);
    DitchLimits l{t.gap, t.overlap, t.tractor_angle, t.implement_angle, std::nullopt, std::nullopt};
    if (s.implement.drawn.hitch == DrawnHitchKind::clevis) {
        l.pitch_play = as_optional(s.implement.drawn.pitch_play);
        l.roll_play = as_optional(s.implement.drawn.roll_play);
    }
    return l;
}

double find_room(const DrawnModel& m, const DitchStation& s, const DitchLimits& l, DitchQuantity q) {
    constexpr double endless = 1e300;
    const auto left = [](const std::optional<double>& limit, double value) { return limit ? *limit - value : endless; };
    switch (q) {
        case DitchQuantity::shortest: return m.has_halves ? find_gap(m.halves, s.shaft.length) - l.gap : endless;
        case DitchQuantity::longest: return m.has_halves ? find_overlap(m.halves, s.shaft.length) - l.overlap : endless;
        case DitchQuantity::tractor_angle: return left(l.tractor_angle, s.shaft.tractor_angle);
        case DitchQuantity::implement_angle: return left(l.implement_angle, s.shaft.implement_angle);
        case DitchQuantity::pitch_up:
        case DitchQuantity::pitch_down: return left(l.pitch_play, std::fabs(s.pose.relative.pitch));
        case DitchQuantity::roll: return left(l.roll_play, std::fabs(s.pose.relative.roll));
    }
    return endless;
}

bool keeps_limits(const DrawnModel& m, const DitchStation& s, const DitchLimits& l) {
    if (!s.pose.stands) return false;
    const auto within = [](double value, const std::optional<double>& limit) { return !limit || value <= *limit; };
    if (!within(std::fabs(s.pose.relative.pitch), l.pitch_play) || !within(std::fabs(s.pose.relative.roll), l.roll_play)) return false;
    if (!m.has_shaft) return true;
    if (!within(s.shaft.tractor_angle, l.tractor_angle) || !within(s.shaft.implement_angle, l.implement_angle)) return false;
    return !m.has_halves || (find_gap(m.halves, s.shaft.length) >= l.gap && find_overlap(m.halves, s.shaft.length) >= l.overlap);
}

DitchWay march(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, Heading heading, double step) {
    const DitchMarch way(m, rig, crossing, heading);
    DitchWay r{heading, true, 0.0, {}};
    const std::vector<double> places = way.list_places(step);
    r.stations.reserve(places.size());
    for (const double place : places) {
        r.stations.push_back(way.at(place, r.stations.empty() ? nullptr : &r.stations.back().pose));
        r.complete = r.complete && r.stations.back().pose.stands;
    }
    const DitchStation* next = nullptr;
    DitchStation back;
    for (std::size_t i = r.stations.size(); r.complete && i >= 1; i -= std::min<std::size_t>(i, 10)) {
        const DitchStation& there = r.stations[i - 1];
        back = way.at(there.pose.place, next ? &next->pose : nullptr);
        next = &back;
        r.return_difference = std::max(r.return_difference, find_difference(back.pose.relative, there.pose.relative));
    }
    return r;
}

StillPasses find_passing_depth(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits,
                               const DitchStudy& study) {
    if (study.passes) return {true, true, 1.0};
    DitchSearch search(m, rig, limits, {0.0, 1.0, depth_row, depth_closeness}, [&](double share) {
        return Crossing{scale_heights(crossing.profile, share), crossing.angle};
    }, [&](const Crossing& c) { return passes_march(m, rig, c, limits); });
    search.know(depth_row, as_pass(study, m, limits));
    return search.run();
}

StillPasses find_passing_angle(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits,
                               const DitchStudy& study) {
    constexpr double same = 1.0e-12;  // rad
    // The nearer half turn: a crossing at 120 deg is one at 60 with left and right exchanged.
    const bool blunt = crossing.angle > 0.5 * pi;
    const DitchRow row{flattest_crossing, 0.5 * pi, angle_row, angle_step_closeness};
    DitchSearch search(m, rig, limits, row, [&](double angle) { return Crossing{crossing.profile, blunt ? pi - angle : angle}; },
                       [&](const Crossing& c) { return passes_march(m, rig, c, limits); });
    const double place = ((blunt ? pi - crossing.angle : crossing.angle) - row.good_end) / (row.bad_end - row.good_end) * row.steps;
    const int nearest = static_cast<int>(std::lround(place));
    if (nearest >= 0 && nearest <= row.steps && std::fabs(place - nearest) < same * row.steps) search.know(nearest, as_pass(study, m, limits));
    StillPasses r = search.run();
    if (blunt) r.value = pi - r.value;
    return r;
}

DitchStudy study_ditch(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits) {
    DitchStudy study;
    bool complete = true;
    for (const Heading heading : list_headings(crossing)) {
        study.ways.push_back(march(m, rig, crossing, heading, station_step));
        complete = complete && study.ways.back().complete;
        if (study.ways.back().complete) add_worst(m, DitchMarch(m, rig, crossing, heading), study.ways.back(), study.worst);
    }
    if (study.ways.size() == 1) {
        study.ways.push_back(study.ways.front());
        study.ways.back().heading = Heading::other_way;
    }
    study.passes = complete && keep_limits(m, study.worst, limits);
    return study;
}

const DitchWorst* find_telling_state(const DitchStudy& study, const DrawnModel& m, const DitchLimits& limits) {
    const DitchWorst* telling = nullptr;
    double least = 0.0;
    for (const DitchWorst& w : study.worst) {
        const double room = find_room(m, w.station, limits, w.quantity);
        if (room < 0.0) return &w;
        const bool length = w.quantity == DitchQuantity::shortest || w.quantity == DitchQuantity::longest;
        if (!telling || (length && room < least)) {
            telling = &w;
            least = room;
        }
    }
    return telling;
}

}  // namespace hitchwright
