#include "geometry/drawbar_study.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/drawbar_positions.h"
#include "geometry/joint_findings.h"
#include "geometry/length_over_box.h"
#include "geometry/rising_length.h"
#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

/// Lengths looked at, m, and how close the ends are found.
constexpr double shortest_drawbar = 0.100, longest_drawbar = 1.500, end_closeness = 1.0e-6;

/// A figure is kept to within this rounding, m.
constexpr double rounding = 1.0e-9;

PinReason make_reason(PinReasonKind kind, bool known, bool good, double value, double limit) {
    return {kind, known, known && good, value, limit};
}

PinReason judge_load(const Setup& s, const PinStudy& p) {
    const Reading& load = s.implement.drawn.vertical_load;
    const Reading& most = s.tractor.drawbar_pins[p.pin].vertical_load_most;
    return make_reason(PinReasonKind::vertical_load, load.known && most.known, load.value <= most.value, load.value, most.value);
}

PinReason judge_angles(const Setup& s, const PinStudy& p) {
    double worst = 0.0, limit = 0.0;
    bool known = false, good = true;
    for (const JointEnd joint : {JointEnd::tractor, JointEnd::implement}) {
        const LimitView most = find_joint_limits(s, joint).pto_off;
        if (!p.model.has_shaft || !most.set) continue;
        const double angle = (joint == JointEnd::tractor ? p.turn.tractor_angle : p.turn.implement_angle).bound;
        if (!known || angle - most.value > worst - limit) {
            worst = angle;
            limit = most.value;
        }
        known = true;
        good = good && angle <= most.value;
    }
    return make_reason(PinReasonKind::joint_angles, known, good, worst, limit);
}

PinReason judge_figure(const Setup& s, const PinStudy& p) {
    const DrawbarFigures f = find_drawbar_figures(s.tractor.pto.type);
    const double off = p.length - f.length.value;
    return make_reason(PinReasonKind::figure, f.length.value > 0.0, std::fabs(off) <= f.length_tolerance + rounding, off, f.length_tolerance);
}

/// The split: difference of the two joint angles in the sharper turn; with a wide-angle joint the bend of its partner.
PinReason judge_split(const PinStudy& p) {
    const WideAngleEnd wide = p.model.driveline.ends.wide_angle;
    const double partner = wide == WideAngleEnd::tractor ? p.at_turn.implement_angle : p.at_turn.tractor_angle;
    const double off = wide == WideAngleEnd::none ? std::fabs(p.at_turn.tractor_angle - p.at_turn.implement_angle) : partner;
    // Amber for the partner of a wide-angle joint; unequal angles are told, not limited.
    const double amber = wide == WideAngleEnd::none ? 0.0 : to_radians(10.0);
    return make_reason(PinReasonKind::split, p.model.has_shaft, amber == 0.0 || off <= amber, off, amber);
}

PinReason judge_band(PinReasonKind kind, double value, const Figure& low, const Figure& high) {
    return make_reason(kind, true, value >= low.value - rounding && value <= high.value + rounding, value,
                       value < low.value ? low.value : high.value);
}

void judge(const Setup& s, PinStudy& p) {
    const DrawbarFigures f = find_drawbar_figures(s.tractor.pto.type);
    const bool fits = p.fit == ShaftFit::fits || p.fit == ShaftFit::after_cut;
    p.reasons = {judge_load(s, p),
                 make_reason(PinReasonKind::shaft, p.has_plan, fits, p.plan.uncut.gap, s.rules.gap_required.value),
                 judge_angles(s, p),
                 judge_figure(s, p),
                 judge_split(p),
                 judge_band(PinReasonKind::drawbar_top, p.model.drawbar_top, f.top_low, f.top_high),
                 judge_band(PinReasonKind::drop, p.model.pto_above_drawbar, f.drop_low, f.drop_high)};
}

/// Extremes that a position is judged by; with `complete` all that there are.
void find_extremes(PinStudy& p, bool complete) {
    const DrawnModel& m = p.model;
    const AttitudeBox turn = make_turn_box(m);
    if (complete) {
        p.whole = find_drawn_extremes(m, m.box);
        p.turn = find_drawn_extremes(m, turn);
        return;
    }
    p.whole.shortest = find_shortest(m, m.box);
    p.whole.longest = find_longest(m, m.box);
    p.turn.longest = find_longest(m, turn);
    p.turn.tractor_angle = find_greatest_joint_angle(m, turn, JointEnd::tractor);
    p.turn.implement_angle = find_greatest_joint_angle(m, turn, JointEnd::implement);
}

void study_shaft(const Setup& s, const Mark& mark, bool complete, PinStudy& p) {
    const DrawnModel& m = p.model;
    find_extremes(p, complete);
    p.distances = find_pin_distances(m);
    p.turn_for_split = -m.box.yaw.low >= m.box.yaw.high ? m.box.yaw.low : m.box.yaw.high;
    p.at_turn = find_driveline_state(m, {m.level_pitch, 0.0, p.turn_for_split});
    const bool under_joint = m.driveline.ends.wide_angle == WideAngleEnd::tractor;
    p.length_for_best_split = p.length + (under_joint ? -p.distances.p : p.distances.q - p.distances.p);
    if (!m.has_halves) return;
    p.gap_straight = find_gap(m.halves, find_driveline_state(m, {m.level_pitch, 0.0, 0.0}).length);
    const ShaftTravel travel{p.whole.shortest.bound, p.whole.longest.bound, std::min(p.turn.longest.bound, p.whole.longest.bound)};
    p.plan = plan_cut(m.halves, travel, make_cut_limits(s.rules), mark);
    p.has_plan = is_answered(p.plan);
    if (!p.has_plan) return;
    p.fit = p.plan.answer == CutAnswer::no_cut_needed ? ShaftFit::fits
            : p.plan.answer == CutAnswer::no_cut_works ? ShaftFit::no_cut_works
                                                       : ShaftFit::after_cut;
}

/// Less is better, compared member by member.
std::array<double, 5> rank_key(const PinStudy& p) {
    const auto broken = [&](PinReasonKind kind) {
        const PinReason& r = p.reasons[static_cast<std::size_t>(kind)];
        return r.good ? 0.0 : r.known ? 2.0 : 1.0;
    };
    const double off = p.model.has_shaft ? p.reasons[static_cast<std::size_t>(PinReasonKind::split)].value : 0.0;
    return {broken(PinReasonKind::vertical_load), static_cast<double>(p.fit), broken(PinReasonKind::joint_angles),
            broken(PinReasonKind::figure), off};
}

/// Whether drawbars keep the overlap over the whole box.
///
/// Moving the pin by some length changes the distance of two joints by no more than that, so that with plain joints the bound
/// found for one drawbar covers longer ones up to what it has in hand. Near the end, where each answer takes a whole search,
/// a few of them serve for all.
class OverlapLimit {
public:
    OverlapLimit(const DrawnModel& model, double most, int& evaluations) : model_(model), most_(most), evaluations_(evaluations) {}

    bool keeps(double length) {
        if (length >= kept_from_ && length <= kept_to_) return true;
        const bool end_near = std::fabs(length - last_) < near;
        last_ = length;
        const DrawnModel moved = with_drawbar_length(model_, length);
        if (!end_near || moved.driveline.ends.wide_angle != WideAngleEnd::none) {
            return stays_shorter_than(moved, moved.box, most_, worst_, evaluations_);
        }
        const std::optional<double> bound = find_longest_within(moved, moved.box, most_, worst_, evaluations_);
        if (bound) {
            kept_from_ = length;
            kept_to_ = length + (most_ - *bound) - rounding;
        }
        return bound.has_value();
    }

private:
    static constexpr double near = 0.02;  // m

    const DrawnModel& model_;
    double most_;
    int& evaluations_;
    WorstAttitude worst_;
    double last_ = 0.0;                      ///< drawbar length asked about last, m
    double kept_from_ = 1.0, kept_to_ = 0.0;  ///< drawbar lengths covered by the last bound, m; at first none
};

/// The length nearest to `bad` that `works`, found from `good`, on the good side.
template <class F>
double find_last_working(double good, double bad, const F& works) {
    while (std::fabs(bad - good) > end_closeness) {
        const double middle = 0.5 * (good + bad);
        (works(middle) ? good : bad) = middle;
    }
    return good;
}

}  // namespace

DrawbarInterval find_drawbar_interval(const DrawnModel& m, const CutLimits& limits) {
    DrawbarInterval r;
    if (!m.has_shaft || !m.has_halves) return r;
    r.known = true;
    const double least = m.halves.closed_length + limits.gap_required;
    const double tube = std::max(m.halves.tube_a, m.halves.tube_b);
    const double most = find_overlap(m.halves, 0.0) - std::max(limits.overlap_least, limits.overlap_fraction * tube);
    WorstAttitude shortest;
    OverlapLimit overlap_limit(m, most, r.evaluations);
    const auto keeps_gap = [&](double length) {
        return stays_longer_than(with_drawbar_length(m, length), m.box, least, shortest, r.evaluations);
    };
    const auto keeps_overlap = [&](double length) { return overlap_limit.keeps(length); };
    r.low_open = keeps_gap(shortest_drawbar);
    r.high_open = keeps_overlap(longest_drawbar);
    const bool gap = r.low_open || keeps_gap(longest_drawbar), overlap = r.high_open || keeps_overlap(shortest_drawbar);
    r.low = r.low_open || !gap ? shortest_drawbar : find_last_working(longest_drawbar, shortest_drawbar, keeps_gap);
    r.high = r.high_open || !overlap ? longest_drawbar : find_last_working(shortest_drawbar, longest_drawbar, keeps_overlap);
    r.any = gap && overlap && r.low <= r.high;
    r.rises = is_length_rising(m, {shortest_drawbar, longest_drawbar}, r.evaluations);
    return r;
}

bool is_overloaded(const PinStudy& p) {
    const PinReason& load = p.reasons.at(static_cast<std::size_t>(PinReasonKind::vertical_load));
    return load.known && !load.good;
}

namespace {

DrawbarStudy study(const Setup& setup, const Mark& mark, bool complete) {
    DrawbarStudy all;
    for (std::size_t i = 0; i < setup.tractor.drawbar_pins.size(); ++i) {
        Setup moved = setup;
        moved.choices.drawn.drawbar_pin = setup.tractor.drawbar_pins[i].name;
        // Two positions of one name: only the first can be meant, and the reader refuses the second.
        DrawnModelResult built = make_drawn_model(moved);
        if (all.obstacles.empty()) {
            all.obstacles = built.hitch_obstacles;
            all.obstacles.insert(all.obstacles.end(), built.shaft_obstacles.begin(), built.shaft_obstacles.end());
        }
        if (!built.hitch_ok) continue;
        PinStudy p;
        p.pin = built.model.pin;
        p.name = setup.tractor.drawbar_pins[p.pin].name;
        p.model = built.model;
        p.length = built.model.drawbar_length;
        if (p.model.has_shaft) study_shaft(moved, mark, complete, p);
        judge(moved, p);
        all.pins.push_back(std::move(p));
    }
    std::stable_sort(all.pins.begin(), all.pins.end(), [](const PinStudy& a, const PinStudy& b) { return rank_key(a) < rank_key(b); });
    if (!all.pins.empty()) all.lengths = find_drawbar_interval(all.pins.front().model, make_cut_limits(setup.rules));
    return all;
}

}  // namespace

DrawbarStudy study_drawbar(const Setup& setup, const Mark& mark) { return study(setup, mark, true); }

DrawbarStudy judge_positions(const Setup& setup, const Mark& mark) { return study(setup, mark, false); }

}  // namespace hitchwright
