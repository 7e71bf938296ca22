// See drawn_analysis.h.
#include "geometry/drawn_analysis.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "geometry/carried_bands.h"
#include "geometry/ditch_analysis.h"
#include "geometry/do_both.h"
#include "geometry/drawbar_positions.h"
#include "geometry/joint_findings.h"
#include "geometry/length_over_box.h"
#include "geometry/mirrored_extreme.h"
#include "geometry/ways_out.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(DitchAnalysis);
HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(DrawnAnalysis);

namespace {

using Found = std::optional<double>;

enum Number : std::size_t {
    gap, overlap, tractor_angle, implement_angle, straight_tractor_angle, straight_implement_angle, straight_non_uniformity, guard_gap,
    guard_overlap, drawbar_length, drawbar_top, pto_above_drawbar, level_pitch, vertical_load, numbers
};

/// An attitude of the box in the box of moved readings: a side that a clevis' play sets goes with it.
Attitude follow_box(const Attitude& at, const DrawnModel& from, const DrawnModel& to) {
    constexpr double same = 1e-9;  // rad
    Attitude now = at;
    if (from.bounds.pitch_down == BoxBound::clevis && at.pitch - from.box.pitch.low < same) now.pitch = to.box.pitch.low;
    if (from.bounds.pitch_up == BoxBound::clevis && from.box.pitch.high - at.pitch < same) now.pitch = to.box.pitch.high;
    if (from.bounds.roll == BoxBound::clevis && at.roll - from.box.roll.low < same) now.roll = to.box.roll.low;
    if (from.bounds.roll == BoxBound::clevis && from.box.roll.high - at.roll < same) now.roll = to.box.roll.high;
    return now;
}

/// The greatest of a number at an attitude and, where the box has that too, at its mirror image: the other side of a machine
/// that is nearly even may come to be the worse one.
template <class F>
double find_greatest_near(const Attitude& at, const DrawnModel& from, const DrawnModel& to, const F& value) {
    const double here = value(find_limited_state(to, follow_box(at, from, to)));
    const Attitude mirrored = mirror(at);
    if (mirrored == at || !from.box.yaw.contains(mirrored.yaw) || !from.box.roll.contains(mirrored.roll)) return here;
    return std::max(here, value(find_limited_state(to, follow_box(mirrored, from, to))));
}

/// Values of the angle limits of a joint, 0 where it has none: a joint's own stop has an error of its own.
struct JointStops {
    double free = 0.0, stop = 0.0;
};

JointStops find_joint_stops(const Setup& s, JointEnd joint) {
    const JointLimits l = find_joint_limits(s, joint);
    return {l.free.set ? l.free.value : 0.0, l.stop.set ? l.stop.value : 0.0};
}

/// Numbers of the shaft with moved readings, at the places the extremes have as read.
class ShaftNumbers {
public:
    ShaftNumbers(const Setup& s, const DrawnAnalysis& as_read)
        : as_read_(as_read), limits_(make_cut_limits(s.rules)), tractor_(find_joint_stops(s, JointEnd::tractor)),
          implement_(find_joint_stops(s, JointEnd::implement)),
          stops_stay_(!s.driveline.tractor_joint.angle_most.known && !s.driveline.implement_joint.angle_most.known) {}

    void operator()(const MovedSetup& at, const DrawnModel& m, std::span<Found> out) const {
        if (!m.has_shaft || !m.has_halves) return;
        set_lengths(at, m, out);
        const JointStops t = stops_stay_ ? tractor_ : find_joint_stops(at.setup, JointEnd::tractor),
                         i = stops_stay_ ? implement_ : find_joint_stops(at.setup, JointEnd::implement);
        const DrawnExtremes& e = as_read_.whole;
        if (at.asks(tractor_angle)) out[tractor_angle] = greatest(m, e.tractor_angle, [](const DrivelineState& d) { return d.tractor_angle; }) - t.stop;
        if (at.asks(implement_angle)) out[implement_angle] = greatest(m, e.implement_angle, [](const DrivelineState& d) { return d.implement_angle; }) - i.stop;
        if (!at.asks(straight_tractor_angle) && !at.asks(straight_implement_angle) && !at.asks(straight_non_uniformity)) return;
        const DrivelineState straight = find_driveline_state(m, {m.level_pitch, 0.0, 0.0});
        out[straight_tractor_angle] = straight.tractor_angle - t.free;
        out[straight_implement_angle] = straight.implement_angle - i.free;
        if (straight.turns) out[straight_non_uniformity] = straight.non_uniformity;
    }

private:
    template <class F>
    double greatest(const DrawnModel& m, const AttitudeExtreme& extreme, const F& value) const {
        return find_greatest_near(extreme.at, as_read_.model, m, value);
    }

    void set_lengths(const MovedSetup& at, const DrawnModel& m, std::span<Found> out) const {
        const bool guard = as_read_.model.has_guard && m.has_guard;
        if (at.asks(gap) || at.asks(guard_gap)) {
            const double shortest = -greatest(m, as_read_.whole.shortest, [](const DrivelineState& d) { return -d.length; });
            out[gap] = find_gap(m.halves, shortest);
            if (guard) out[guard_gap] = find_gap(m.guard, shortest);
        }
        if (at.asks(overlap) || at.asks(guard_overlap)) {
            const double longest = greatest(m, as_read_.whole.longest, [](const DrivelineState& d) { return d.length; });
            out[overlap] = find_overlap(m.halves, longest) - std::max(limits_.overlap_least, limits_.overlap_fraction * std::max(m.halves.tube_a, m.halves.tube_b));
            if (guard) out[guard_overlap] = find_overlap(m.guard, longest);
        }
    }

    const DrawnAnalysis& as_read_;
    CutLimits limits_;
    JointStops tractor_, implement_;
    bool stops_stay_;  ///< no joint has a stop of its own that could be misread
};

void find_hitch_numbers(const Setup& s, const DrawnModel& m, std::span<Found> out) {
    out[drawbar_length] = m.drawbar_length;
    out[drawbar_top] = m.drawbar_top;
    out[pto_above_drawbar] = m.pto_above_drawbar;
    out[level_pitch] = std::fabs(m.level_pitch) - s.implement.drawn.pitch_play.value_or(0.0);
    out[vertical_load] = s.implement.drawn.vertical_load.value_or(0.0) - s.tractor.drawbar_pins[m.pin].vertical_load_most.value_or(0.0);
}

/// Where the first stops are looked at again when a reading moves, and how steep their margins are there.
struct StopMargins {
    std::array<bool, 2> asked{};  ///< left, right; false: no stop, or stopped from straight on
    std::array<TurnSide, 2> side{};
    std::array<TurnLimitKind, 2> kind{};
    std::array<double, 2> yaw{}, slope{};  ///< rad; m or rad in each rad
};

std::optional<double> find_margin(const Setup& s, const DrawnModel& m, const TurnLimits& limits, const StopMargins& stops, std::size_t i, double yaw) {
    return find_turn_margin(s, m, limits, stops.side[i], stops.kind[i], yaw);
}

StopMargins find_stop_margins(const Setup& s, const DrawnModel& m, const std::array<TurnResult, 2>& turns) {
    constexpr double step = 1.0e-4;  // rad: far above rounding, far below what margins bend over
    const TurnLimits limits = make_turn_limits(s, m, JointHold::pto_off);
    StopMargins stops;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        if (turns[i].stops.empty() || !turns[i].stops.front().reached || turns[i].stops.front().from_straight) continue;
        stops.side[i] = turns[i].side;
        stops.kind[i] = turns[i].stops.front().kind;
        stops.yaw[i] = turns[i].stops.front().yaw;
        const auto before = find_margin(s, m, limits, stops, i, stops.yaw[i] - step),
                   after = find_margin(s, m, limits, stops, i, stops.yaw[i] + step);
        stops.asked[i] = before && after && *before != *after;
        if (stops.asked[i]) stops.slope[i] = std::fabs(*after - *before) / (2.0 * step);
    }
    return stops;
}

/// By how much a stop has moved, rad: the root of its margin, which falls with the turn, by secants from where the stop was.
Found find_stop_shift(const Setup& s, const DrawnModel& m, const TurnLimits& limits, const StopMargins& stops, std::size_t i) {
    constexpr int rounds = 6;
    constexpr double settled = 1e-8;  // rad
    Found there = find_margin(s, m, limits, stops, i, stops.yaw[i]);
    if (!there) return std::nullopt;
    double before = 0.0, now = *there / stops.slope[i];
    for (int round = 0; round < rounds && std::fabs(now - before) > settled; ++round) {
        const double yaw = stops.yaw[i] + now;
        const Found here = yaw > 0.0 && yaw < farthest_turn ? find_margin(s, m, limits, stops, i, yaw) : std::nullopt;
        if (!here || *here == *there) break;  // as the slope has it
        const double next = now - *here * (now - before) / (*here - *there);
        before = now;
        now = next;
        there = here;
    }
    return now;
}

void take_bands(const ErrorModel& errors, Propagation p, DrawnAnalysis& a) {
    DrawnBands& bands = a.bands;
    const auto take = [&](ErrorBand& band, Number n) { band = std::move(p.bands[n]); };
    take(bands.drawbar_length, drawbar_length);
    take(bands.drawbar_top, drawbar_top);
    take(bands.pto_above_drawbar, pto_above_drawbar);
    take(bands.level_pitch, level_pitch);
    take(bands.vertical_load, vertical_load);
    bands.known = a.model.has_shaft && a.model.has_halves && !p.lost_by[gap];
    if (p.lost_by[gap]) {
        const ReadingError& by = errors.readings()[*p.lost_by[gap]];
        bands.broken_by = {by.key, by.error};
        bands.broken_by_dimension = by.spec.dimension;
    }
    if (!bands.known) return;
    take(bands.gap, gap);
    take(bands.overlap, overlap);
    take(bands.tractor_angle, tractor_angle);
    take(bands.implement_angle, implement_angle);
    take(bands.straight_tractor_angle, straight_tractor_angle);
    take(bands.straight_implement_angle, straight_implement_angle);
    take(bands.straight_non_uniformity, straight_non_uniformity);
    take(bands.guard_gap, guard_gap);
    take(bands.guard_overlap, guard_overlap);
}

void find_bands(const ErrorModel& errors, DrawnAnalysis& a) {
    const ShaftNumbers shaft(errors.setup(), a);
    take_bands(errors, propagate(errors, numbers, [&](const MovedSetup& at, std::span<Found> out) {
        const DrawnModelResult now = make_drawn_model(at.setup);
        if (!now.hitch_ok) return;
        find_hitch_numbers(at.setup, now.model, out);
        shaft(at, now.model, out);
    }, may_move_drawn), a);
}

void find_turn_bands(const ErrorModel& errors, DrawnAnalysis& a) {
    const StopMargins stops = find_stop_margins(errors.setup(), a.model, a.turns);
    if (!stops.asked[0] && !stops.asked[1]) return;
    Propagation p = propagate(errors, stops.asked.size(), [&](const MovedSetup& at, std::span<Found> out) {
        const DrawnModelResult now = make_drawn_model(at.setup);
        if (!now.hitch_ok) return;
        const TurnLimits limits = make_turn_limits(at.setup, now.model, JointHold::pto_off);
        for (std::size_t i = 0; i < stops.asked.size(); ++i) {
            if (stops.asked[i] && at.asks(i)) out[i] = find_stop_shift(at.setup, now.model, limits, stops, i);
        }
    }, may_move_drawn);
    for (std::size_t i = 0; i < a.turn_bands.size(); ++i) {
        ErrorBand& band = a.turn_bands[i] = std::move(p.bands[i]);
        for (double* side : {&band.width, &band.below, &band.above}) *side = std::min(*side, farthest_turn);
    }
}

bool is_same(const Vec3<double>& a, const Vec3<double>& b) { return a.x == b.x && a.y == b.y && a.z == b.z; }

/// True when the admissible drawbar lengths of two positions are the same: they differ in the length of the drawbar alone.
bool has_same_lengths(const DrawnModel& a, const DrawnModel& b) {
    const DrivelineEnds &e = a.driveline.ends, &f = b.driveline.ends;
    return a.pto_end_x == b.pto_end_x && a.driveline.pin.y == b.driveline.pin.y && a.driveline.pin.z == b.driveline.pin.z &&
           is_same(e.tractor_joint, f.tractor_joint) && is_same(e.stub_axis, f.stub_axis) && is_same(e.implement_joint, f.implement_joint) &&
           is_same(e.input_axis, f.input_axis) && e.wide_angle == f.wide_angle && e.spacing == f.spacing && a.box == b.box &&
           a.has_shaft == b.has_shaft && a.has_halves == b.has_halves && a.halves == b.halves;
}

/// The admissible drawbar lengths of this position; those of the study where they are the same.
DrawbarInterval find_lengths(const DrawnModel& m, const DrawbarStudy& positions, const CutLimits& limits) {
    const bool same = !positions.pins.empty() && has_same_lengths(positions.pins.front().model, m);
    return same ? positions.lengths : find_drawbar_interval(m, limits);
}

/// Hitch pin to the first axle of the implement; 0: none is given.
double find_tongue(const Implement& implement) {
    double x = 0.0;
    for (const GroundContact& c : implement.ground_contacts) {
        if (c.x.known && (x == 0.0 || c.x.value < x)) x = c.x.value;
    }
    return x;
}

}  // namespace

bool has_ditch(const Setup& s) {
    const DitchReadings& d = s.choices.drawn.ditch;
    return !d.points.empty() || d.depth.known;
}

std::vector<std::string> find_ground_faults(const DitchReadings& d) {
    std::vector<std::string> keys;
    if (make_profile(d)) return keys;
    const std::string list = "choices.ditch_point[";
    for (const GroundPoint& p : d.points) {
        if (!p.x.known) keys.push_back(list + p.name + "].x");
        if (!p.z.known) keys.push_back(list + p.name + "].z");
    }
    for (std::size_t i = 1; keys.empty() && i < d.points.size(); ++i) {
        if (d.points[i].x.value <= d.points[i - 1].x.value) keys.push_back(list + d.points[i].name + "].x");
    }
    if (d.points.empty()) keys.emplace_back(d.depth.known ? "choices.ditch.side_slope" : "choices.ditch.depth");
    return keys;
}

Crossing make_crossing(const DitchReadings& ditch) {
    Crossing c;
    if (const std::optional<GroundProfile> profile = make_profile(ditch)) c.profile = *profile;
    if (ditch.crossing_angle.known) c.angle = ditch.crossing_angle.value;
    return c;
}

namespace {

/// Extremes of this position; what the study of all positions has found already is not looked for again.
void take_extremes(DrawnAnalysis& a) {
    const auto same = std::find_if(a.positions.pins.begin(), a.positions.pins.end(), [&](const PinStudy& p) { return p.pin == a.model.pin; });
    if (same != a.positions.pins.end() && same->model.has_shaft) {
        a.whole = same->whole;
        a.turn = same->turn;
    }
    complete_extremes(a.model, a.model.box, a.whole);
    complete_extremes(a.model, make_turn_box(a.model), a.turn);
}

void study_shaft(const Setup& s, const Mark& mark, DrawnAnalysis& a) {
    const DrawnModel& m = a.model;
    take_extremes(a);
    a.straight = find_driveline_state(m, {m.level_pitch, 0.0, 0.0});
    if (!m.has_halves) return;
    a.limits = make_cut_limits(s.rules);
    a.lengths = find_lengths(m, a.positions, a.limits);
    const ShaftTravel bounds{a.whole.shortest.bound, a.whole.longest.bound, 0.0};
    a.plan = plan_cut(m.halves, bounds, a.limits, mark);
    a.has_plan = is_answered(a.plan);
    a.plan_error = find_plan_error(a.plan, m.halves, bounds, {a.whole.shortest.value, a.whole.longest.value, 0.0}, a.limits, mark);
}

}  // namespace

namespace {

void study_turns(const ErrorModel& errors, const Setup& s, DrawnAnalysis& a) {
    const DrawnModel& m = a.model;
    a.turns = find_turn_stops(s, m, make_turn_limits(s, m, JointHold::pto_off));
    const double tongue = find_tongue(s.implement);
    if (s.tractor.steering.least_radius.known && m.driveline.pin.x > 0.0 && tongue > 0.0)
        a.steady = find_steady_turn(s.tractor.steering.least_radius.value, m.driveline.pin.x, tongue);
    find_turn_bands(errors, a);
}

/// What was noted of the draws that bands of `own` ask for goes to those of `errors`.
void hand_over(const ErrorModel& own, const ErrorModel& errors, std::array<ErrorBand, 2>& bands) {
    if (!errors.wish().noted) return;
    if (own.wants_draws()) *errors.wish().noted = true;
    for (ErrorBand& band : bands) {
        if (band.wish.noted) band.wish.noted = errors.wish().noted;
    }
}

}  // namespace

DrawnAnalysis analyze_drawn(const ErrorModel& errors, const DrawnModel& m, const Mark& mark, int threads,
                            const std::function<void(const ErrorModel&)>& beside) {
    const Setup s = errors.setup();  // that of `errors` is moved meanwhile
    DrawnAnalysis a;
    a.model = m;
    std::optional<ErrorModel> own;
    SharedWork work;
    if (has_ditch(s)) add_ditch(s, m, a.ditch.emplace(), work);
    work.add([&](int) {
        a.positions = judge_positions(s, mark);
        if (m.has_shaft) study_shaft(s, mark, a);
        find_bands(errors, a);
    });
    work.add([&](int) {
        if (threads > 1) own.emplace(s, errors.narrowing(), errors.effort());  // those of `errors` are moved at the same time
        study_turns(own ? *own : errors, s, a);
    });
    if (beside) work.add([&](int) {
        if (threads > 1) beside(ErrorModel(s, errors.narrowing(), errors.effort()));
        else beside(errors);
    });
    work.run(threads);
    if (own) hand_over(*own, errors, a.turn_bands);
    return a;
}

}  // namespace hitchwright
