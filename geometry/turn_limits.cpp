#include "geometry/turn_limits.h"

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "geometry/inside_intervals.h"
#include "geometry/joint_findings.h"
#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

double find_longest_allowed(const DrawnModel& m, const TurnLimits& l) { return find_overlap(m.halves, 0.0) - l.overlap; }

std::optional<double> find_left(const std::optional<double>& limit, double value) {
    return limit ? std::optional<double>(*limit - value) : std::nullopt;
}

class SideSearch {
public:
    SideSearch(const Setup& setup, const DrawnModel& model, const TurnLimits& limits, TurnSide side)
        : setup_(setup), model_(model), limits_(limits), pin_(model.driveline.pin.x, model.driveline.pin.y) {
        result_.side = side;
    }

    TurnResult run() {
        find_tyre();
        find_joint(TurnLimitKind::tractor_joint, limits_.tractor_angle);
        find_joint(TurnLimitKind::implement_joint, limits_.implement_angle);
        find_lengths();
        std::stable_sort(result_.stops.begin(), result_.stops.end(), [](const TurnStop& a, const TurnStop& b) { return a.yaw < b.yaw; });
        if (!result_.stops.empty()) set_in_hand(result_.stops.front().yaw);
        return result_;
    }

private:
    double sense() const { return result_.side == TurnSide::right ? 1.0 : -1.0; }

    void find_tyre() {
        tyres_ = make_tyre_shapes(setup_);
        bars_ = make_bar_shapes(setup_.implement, pin_);
        if (tyres_.rectangles.empty() || bars_.rectangles.empty()) return result_.not_judged.push_back(TurnLimitKind::tyre);
        const PlanContact c = find_first_contact(bars_.rectangles, tyres_.rectangles, pin_, result_.side, limits_.tyre_gap);
        const bool met = c.found && c.yaw < farthest_turn;
        TurnStop stop{TurnLimitKind::tyre, met, met && c.yaw == 0.0, met ? c.yaw : farthest_turn, "", "", 0.0};
        if (met) {
            stop.tyre = tyres_.names[c.standing];
            stop.bar = bars_.names[c.bar];
        }
        result_.stops.push_back(stop);
    }

    /// The end of the yaws that keep quantity(state) <= limit from straight on.
    template <class Q>
    void find_end(TurnLimitKind kind, const Q& quantity, double limit) {
        const double sign = sense();
        const auto f = [&](const auto& x) {
            using T = std::decay_t<decltype(x[0])>;
            return quantity(find_drawn_state(model_.driveline, sign * x[0], T(model_.level_pitch), T(0.0)).shaft);
        };
        const std::vector<HeightRange> inside = find_inside<1>(f, IntervalBox<1>{Interval(0.0, farthest_turn)}, limit);
        const bool straight = !inside.empty() && inside.front().low == 0.0;
        const double end = straight ? inside.front().high : 0.0;
        result_.stops.push_back({kind, end < farthest_turn, !straight, end, "", "", 0.0});
    }

    void find_joint(TurnLimitKind kind, const std::optional<double>& limit) {
        if (!model_.has_shaft || !limit) return result_.not_judged.push_back(kind);
        const double level = -std::cos(*limit);
        if (kind == TurnLimitKind::tractor_joint) find_end(kind, [](const auto& s) { return -s.cos_tractor_joint; }, level);
        else find_end(kind, [](const auto& s) { return -s.cos_implement_joint; }, level);
    }

    void find_lengths() {
        if (!model_.has_shaft || !model_.has_halves) {
            result_.not_judged.push_back(TurnLimitKind::bottoming);
            result_.not_judged.push_back(TurnLimitKind::separation);
            return;
        }
        find_end(TurnLimitKind::bottoming, [](const auto& s) { return -s.length; }, -(model_.halves.closed_length + limits_.gap));
        find_end(TurnLimitKind::separation, [](const auto& s) { return s.length; }, longest());
    }

    double longest() const { return find_longest_allowed(model_, limits_); }

    void set_in_hand(double yaw) {
        for (TurnStop& stop : result_.stops) stop.in_hand = find_turn_margin(setup_, model_, limits_, result_.side, stop.kind, yaw).value_or(0.0);
    }

    const Setup& setup_;
    const DrawnModel& model_;
    const TurnLimits& limits_;
    Point pin_;
    PlanShape tyres_, bars_;
    TurnResult result_;
};

void add_axle(const char* left, const char* right, double x, const Reading& radius, const Reading& width, const Reading& track,
              PlanShape& shape) {
    if (!radius.known || !width.known || !track.known) return;
    for (const double side : {-1.0, 1.0}) {
        const double y = 0.5 * side * track.value;
        shape.names.push_back(side < 0.0 ? left : right);
        shape.rectangles.push_back({Point(x - radius.value, y), Point(x + radius.value, y), width.value});
    }
}

std::optional<double> as_optional(const LimitView& l) { return l.set ? std::optional<double>(l.value) : std::nullopt; }

}  // namespace

TurnLimits make_turn_limits(const Setup& s, const DrawnModel& m, JointHold hold) {
    TurnLimits l;
    const RuleSet& r = s.rules;
    if (r.clearance.set) l.tyre_gap = r.clearance.value;
    if (r.gap_required.set) l.gap = r.gap_required.value;
    if (r.overlap_least.set) l.overlap = r.overlap_least.value;
    if (r.overlap_fraction.set && m.has_halves) {
        l.overlap = std::max(l.overlap, r.overlap_fraction.value * std::max(m.halves.tube_a, m.halves.tube_b));
    }
    const JointLimits t = find_joint_limits(s, JointEnd::tractor), i = find_joint_limits(s, JointEnd::implement);
    l.tractor_angle = as_optional(hold == JointHold::stop ? t.stop : t.pto_off);
    l.implement_angle = as_optional(hold == JointHold::stop ? i.stop : i.pto_off);
    return l;
}

PlanShape make_tyre_shapes(const Setup& setup) {
    const StandingSetup on(setup);
    const Tractor& t = on->tractor;
    PlanShape shape;
    add_axle("left rear tyre", "right rear tyre", 0.0, t.tyre.rear_radius, t.tyre.rear_width, t.tyre.rear_track, shape);
    if (t.mass.wheelbase.known) {
        add_axle("left front tyre", "right front tyre", -t.mass.wheelbase.value, t.tyre.front_radius, t.front_axle.width,
                 t.front_axle.track, shape);
    }
    return shape;
}

PlanShape make_bar_shapes(const Implement& implement, const Point& pin) {
    PlanShape shape;
    for (const PlanBar& b : implement.drawn.bars) {
        if (!b.front_x.known || !b.rear_x.known || !b.width.known) continue;
        shape.names.push_back(b.name);
        shape.rectangles.push_back({pin + Point(b.front_x.value, b.front_y.value_or(0.0)),
                                    pin + Point(b.rear_x.value, b.rear_y.value_or(0.0)), b.width.value});
    }
    return shape;
}

std::array<TurnResult, 2> find_turn_stops(const Setup& setup, const DrawnModel& model, const TurnLimits& limits) {
    return {SideSearch(setup, model, limits, TurnSide::left).run(), SideSearch(setup, model, limits, TurnSide::right).run()};
}

std::optional<double> find_turn_margin(const Setup& setup, const DrawnModel& m, const TurnLimits& limits, TurnSide side,
                                       TurnLimitKind kind, double yaw) {
    const double signed_yaw = side == TurnSide::right ? yaw : -yaw;
    if (kind == TurnLimitKind::tyre) {
        const Point pin(m.driveline.pin.x, m.driveline.pin.y);
        const PlanShape tyres = make_tyre_shapes(setup), bars = make_bar_shapes(setup.implement, pin);
        if (tyres.rectangles.empty() || bars.rectangles.empty()) return std::nullopt;
        return find_least_distance(bars.rectangles, tyres.rectangles, pin, signed_yaw) - limits.tyre_gap;
    }
    const bool length = kind == TurnLimitKind::bottoming || kind == TurnLimitKind::separation;
    if (!m.has_shaft || (length && !m.has_halves)) return std::nullopt;
    const DrivelineState s = find_driveline_state(m, {m.level_pitch, 0.0, signed_yaw});
    switch (kind) {
        case TurnLimitKind::tractor_joint: return find_left(limits.tractor_angle, s.tractor_angle);
        case TurnLimitKind::implement_joint: return find_left(limits.implement_angle, s.implement_angle);
        case TurnLimitKind::bottoming: return find_gap(m.halves, s.length) - limits.gap;
        default: return find_longest_allowed(m, limits) - s.length;
    }
}

SteadyTurn find_steady_turn(double radius, double pin_behind_axle, double tongue) {
    const double to_centre = std::hypot(radius, pin_behind_axle);
    const bool folds = tongue >= to_centre;
    return {folds, std::atan2(pin_behind_axle, radius) + std::asin(folds ? 1.0 : tongue / to_centre)};
}

}  // namespace hitchwright
