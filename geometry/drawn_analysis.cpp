// See drawn_analysis.h.
#include "geometry/drawn_analysis.h"

#include <algorithm>
#include <cmath>

#include "geometry/drawbar_positions.h"
#include "geometry/length_over_box.h"
#include "geometry/visit_readings.h"
#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

constexpr std::size_t quantities = 6;
using Values = std::array<double, quantities>;

/// Gap, overlap, greatest joint angles, each at the attitude of its extreme; joint angles straight and level.
std::optional<Values> evaluate(const DrawnModel& m, const DrawnExtremes& e) {
    if (!m.has_shaft || !m.has_halves) return std::nullopt;
    const auto at = [&](const AttitudeExtreme& x) { return find_limited_state(m, x.at); };
    const DrivelineState straight = find_limited_state(m, {m.level_pitch, 0.0, 0.0});
    return Values{find_gap(m.halves, at(e.shortest).length), find_overlap(m.halves, at(e.longest).length),
                  at(e.tractor_angle).tractor_angle, at(e.implement_angle).implement_angle,
                  straight.tractor_angle, straight.implement_angle};
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

/// Everything banded, with the readings as they are.
struct Moved {
    std::optional<Values> shaft;
    std::array<std::optional<double>, 2> margins;
};

Moved evaluate_all(const Setup& s, const DrawnExtremes& extremes, const StopMargins& stops) {
    const DrawnModelResult built = make_drawn_model(s);
    Moved r;
    if (!built.hitch_ok) return r;
    r.shaft = evaluate(built.model, extremes);
    if (!stops.asked[0] && !stops.asked[1]) return r;
    const TurnLimits limits = make_turn_limits(s, built.model, JointHold::pto_off);
    for (std::size_t i = 0; i < stops.asked.size(); ++i) {
        if (stops.asked[i]) r.margins[i] = find_margin(s, built.model, limits, stops, i, stops.yaw[i]);
    }
    return r;
}

/// Adds one reading's part to a band whose width holds the sum of squares until the end.
void add_share(double share, const std::string& key, DrawnBand& band) {
    band.width += share * share;
    if (share <= band.share) return;
    band.share = share;
    band.widest = key;
}

/// Bands of the shaft (with has_halves) and of the first turn stops: every reading moved by its tolerance either way.
void find_bands(const Setup& setup, DrawnAnalysis& a) {
    DrawnBands& bands = a.bands;
    bands.known = a.model.has_shaft && a.model.has_halves;
    const StopMargins stops = find_stop_margins(setup, a.model, a.turns);
    const std::array<DrawnBand*, quantities> all{&bands.gap, &bands.overlap, &bands.tractor_angle, &bands.implement_angle,
                                                 &bands.straight_tractor_angle, &bands.straight_implement_angle};
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || r.tolerance <= 0.0 || spec.dimension == Dimension::mass) return;
        const double value = r.value;
        std::array<Moved, 2> at;
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = value + (i == 0 ? -1.0 : 1.0) * r.tolerance;
            at[i] = evaluate_all(moved, a.whole, stops);
        }
        r.value = value;
        for (std::size_t i = 0; i < stops.asked.size(); ++i) {
            const auto &low = at[0].margins[i], &high = at[1].margins[i];
            if (stops.asked[i] && low && high) add_share(0.5 * std::fabs(*high - *low) / stops.slope[i], key, a.turn_bands[i]);
        }
        if (!bands.known) return;
        if (!at[0].shaft || !at[1].shaft) {
            bands.known = false;
            bands.broken_by = key;
            bands.broken_share = r.tolerance;
            bands.broken_dimension = spec.dimension;
            return;
        }
        for (std::size_t q = 0; q < quantities; ++q) add_share(0.5 * std::fabs((*at[1].shaft)[q] - (*at[0].shaft)[q]), key, *all[q]);
    });
    for (DrawnBand* band : all) band->width = bands.known ? std::sqrt(band->width) : 0.0;
    for (DrawnBand& band : a.turn_bands) band.width = std::min(std::sqrt(band.width), farthest_turn);
}

bool passes_with(const Setup& setup, const std::string& pin, const Crossing& crossing) {
    Setup trial = setup;
    trial.choices.drawn.drawbar_pin = pin;
    const DrawnModelResult result = make_drawn_model(trial);
    if (!result.hitch_ok || (setup.implement.pic.fitted && !result.model.has_halves)) return false;
    const TerrainRigResult rig = make_terrain_rig(trial, result.model);
    return rig.missing.empty() && passes_ditch(result.model, rig.rig, crossing, make_ditch_limits(trial, result.model, JointHold::stop));
}

DitchAnalysis analyze_ditch(const Setup& s, const DrawnModel& m) {
    DitchAnalysis d;
    d.no_ground = find_ground_faults(s.choices.drawn.ditch);
    if (!d.no_ground.empty()) return d;
    d.shaft_unknown = s.implement.pic.fitted && !(m.has_shaft && m.has_halves);
    d.crossing = make_crossing(s.choices.drawn.ditch);
    const TerrainRigResult rig = make_terrain_rig(s, m);
    d.missing = rig.missing;
    if (!d.missing.empty()) return d;
    d.study = study_ditch(m, rig.rig, d.crossing, make_ditch_limits(s, m, JointHold::stop), true);
    if (d.study->passes) return d;
    for (const DrawbarPin& pin : s.tractor.drawbar_pins) {
        if (pin.name != s.tractor.drawbar_pins[m.pin].name && passes_with(s, pin.name, d.crossing)) d.pins_that_pass.push_back(pin.name);
    }
    return d;
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
    a.plan = plan_cut(m.halves, {a.whole.shortest.bound, a.whole.longest.bound, 0.0}, a.limits, mark);
    a.has_plan = is_answered(a.plan);
}

}  // namespace

DrawnAnalysis analyze_drawn(const Setup& s, const DrawnModel& m, const Mark& mark) {
    DrawnAnalysis a;
    a.model = m;
    a.positions = judge_positions(s, mark);
    a.turns = find_turn_stops(s, m, make_turn_limits(s, m, JointHold::pto_off));
    const double tongue = find_tongue(s.implement);
    if (s.tractor.steering.least_radius.known && m.driveline.pin.x > 0.0 && tongue > 0.0)
        a.steady = find_steady_turn(s.tractor.steering.least_radius.value, m.driveline.pin.x, tongue);
    if (has_ditch(s)) a.ditch = analyze_ditch(s, m);
    if (m.has_shaft) study_shaft(s, mark, a);
    find_bands(s, a);
    return a;
}

}  // namespace hitchwright
