// See drawn_analysis.h.
#include "geometry/drawn_analysis.h"

#include <algorithm>
#include <cmath>

#include "geometry/visit_readings.h"
#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

constexpr std::size_t quantities = 6;
using Values = std::array<double, quantities>;

/// Gap, overlap, greatest joint angles, each at the attitude of its extreme; joint angles straight and level.
std::optional<Values> evaluate(const DrawnModel& m, const DrawnExtremes& e) {
    if (!m.has_shaft || !m.has_halves) return std::nullopt;
    const auto at = [&](const AttitudeExtreme& x) { return find_driveline_state(m, x.at); };
    const DrivelineState straight = find_driveline_state(m, {m.level_pitch, 0.0, 0.0});
    return Values{find_gap(m.halves, at(e.shortest).length), find_overlap(m.halves, at(e.longest).length),
                  at(e.tractor_angle).tractor_angle, at(e.implement_angle).implement_angle,
                  straight.tractor_angle, straight.implement_angle};
}

DrawnBands find_bands(const Setup& setup, const DrawnExtremes& extremes) {
    DrawnBands bands;
    bands.known = true;
    const std::array<DrawnBand*, quantities> all{&bands.gap, &bands.overlap, &bands.tractor_angle, &bands.implement_angle,
                                                 &bands.straight_tractor_angle, &bands.straight_implement_angle};
    Values squares{};
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || r.tolerance <= 0.0 || !bands.known || spec.dimension == Dimension::mass) return;
        const double value = r.value;
        std::array<std::optional<Values>, 2> at;
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = value + (i == 0 ? -1.0 : 1.0) * r.tolerance;
            at[i] = evaluate(make_drawn_model(moved).model, extremes);
        }
        r.value = value;
        if (!at[0] || !at[1]) {
            bands.known = false;
            bands.broken_by = key;
            bands.broken_share = r.tolerance;
            bands.broken_dimension = spec.dimension;
            return;
        }
        for (std::size_t q = 0; q < quantities; ++q) {
            const double share = 0.5 * std::fabs((*at[1])[q] - (*at[0])[q]);
            squares[q] += share * share;
            if (share <= all[q]->share) continue;
            all[q]->share = share;
            all[q]->widest = key;
        }
    });
    for (std::size_t q = 0; q < quantities; ++q) all[q]->width = bands.known ? std::sqrt(squares[q]) : 0.0;
    return bands;
}

/// 95 % band of the first stop of a side: what its margin there moves by with the readings, over its slope along the turn.
DrawnBand find_turn_band(const Setup& setup, const DrawnModel& model, const TurnResult& turn) {
    DrawnBand band;
    if (turn.stops.empty() || !turn.stops.front().reached || turn.stops.front().from_straight) return band;
    const TurnStop& first = turn.stops.front();
    const auto margin = [&](const Setup& s, const DrawnModel& m, double yaw) {
        return find_turn_margin(s, m, make_turn_limits(s, m, JointHold::pto_off), turn.side, first.kind, yaw);
    };
    constexpr double step = 1.0e-4;  // rad: far above rounding, far below what margins bend over
    const std::optional<double> before = margin(setup, model, first.yaw - step), after = margin(setup, model, first.yaw + step);
    if (!before || !after || *before == *after) return band;
    const double slope = std::fabs(*after - *before) / (2.0 * step);
    double squares = 0.0;
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || r.tolerance <= 0.0 || spec.dimension == Dimension::mass) return;
        const double value = r.value;
        std::array<std::optional<double>, 2> at;
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = value + (i == 0 ? -1.0 : 1.0) * r.tolerance;
            const DrawnModelResult built = make_drawn_model(moved);
            if (built.hitch_ok) at[i] = margin(moved, built.model, first.yaw);
        }
        r.value = value;
        if (!at[0] || !at[1]) return;  // said with gap and overlap
        const double share = 0.5 * std::fabs(*at[1] - *at[0]) / slope;
        squares += share * share;
        if (share > band.share) {
            band.share = share;
            band.widest = key;
        }
    });
    band.width = std::min(std::sqrt(squares), farthest_turn);
    return band;
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

/// The admissible drawbar lengths of this position; those of the study where it is the one they are for.
DrawbarInterval find_lengths(const DrawnModel& m, const DrawbarStudy& positions, const CutLimits& limits) {
    const bool same = !positions.pins.empty() && positions.pins.front().pin == m.pin;
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

DrawnAnalysis analyze_drawn(const Setup& s, const DrawnModel& m, const Mark& mark) {
    DrawnAnalysis a;
    a.model = m;
    a.positions = study_drawbar(s, mark);
    a.turns = find_turn_stops(s, m, make_turn_limits(s, m, JointHold::pto_off));
    for (std::size_t i = 0; i < a.turns.size(); ++i) a.turn_bands[i] = find_turn_band(s, m, a.turns[i]);
    const double tongue = find_tongue(s.implement);
    if (s.tractor.steering.least_radius.known && m.driveline.pin.x > 0.0 && tongue > 0.0)
        a.steady = find_steady_turn(s.tractor.steering.least_radius.value, m.driveline.pin.x, tongue);
    if (has_ditch(s)) a.ditch = analyze_ditch(s, m);
    if (!m.has_shaft) return a;
    a.whole = find_drawn_extremes(m, m.box);
    a.turn = find_drawn_extremes(m, make_turn_box(m));
    a.straight = find_driveline_state(m, {m.level_pitch, 0.0, 0.0});
    if (!m.has_halves) return a;
    a.limits = make_cut_limits(s.rules);
    a.lengths = find_lengths(m, a.positions, a.limits);
    a.plan = plan_cut(m.halves, {a.whole.shortest.bound, a.whole.longest.bound, 0.0}, a.limits, mark);
    a.has_plan = is_answered(a.plan);
    a.bands = find_bands(s, a.whole);
    return a;
}

}  // namespace hitchwright
