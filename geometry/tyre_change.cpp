// See tyre_change.h.
#include "geometry/tyre_change.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

const TyreSet* find_set(const Tractor& t, const std::string& name) {
    const auto found = std::find_if(t.tyre_sets.begin(), t.tyre_sets.end(), [&](const TyreSet& s) { return s.name == name; });
    return found == t.tyre_sets.end() ? nullptr : &*found;
}

/// The line from front to rear axle centre: how long, and its slope on the tyres measured on and on those of the set.
struct AxleLine {
    double length = 0.0, own_slope = 0.0, slope = 0.0;
};

const Reading& find_front(const Tractor& t, const TyreSet& set) {
    return set.front_radius.known ? set.front_radius : t.tyre.front_radius;
}

AxleLine find_axle_line(const Tractor& t, const TyreSet& set) {
    const double own_fall = t.tyre.rear_radius.value - t.tyre.front_radius.value;
    const double fall = set.rear_radius.value - find_front(t, set).value;
    AxleLine line;
    line.length = std::hypot(t.mass.wheelbase.value, own_fall);
    line.own_slope = std::atan2(own_fall, t.mass.wheelbase.value);
    line.slope = std::asin(fall / line.length);
    return line;
}

/// Radii farther apart than the axles: no tractor stands like that, and no turn follows.
bool can_stand(const Tractor& t, const TyreSet& set) {
    return std::fabs(set.rear_radius.value - find_front(t, set).value) < t.mass.wheelbase.value;
}

void set_turn(const Tractor& t, const TyreSet& set, TyreChange& c) {
    if (!t.tyre.front_radius.known) c.missing.emplace_back("tractor.tyre.front_radius");
    if (!t.mass.wheelbase.known || !can_stand(t, set)) c.missing.emplace_back("tractor.mass.wheelbase");
    c.level_assumed = !c.missing.empty();
    if (c.level_assumed) return;
    const AxleLine line = find_axle_line(t, set);
    c.turn = line.slope - line.own_slope;
    c.front_rise = find_front(t, set).value - t.tyre.front_radius.value;
    c.wheelbase_share = std::cos(line.slope) / std::cos(line.own_slope);
}

}  // namespace

TyreChange find_tyre_change(const Tractor& t, const std::string& name) {
    TyreChange c;
    c.name = name;
    if (name.empty()) return c;
    const TyreSet* set = find_set(t, name);
    if (set == nullptr) {
        c.status = TyreChange::Status::no_such_set;
        return c;
    }
    if (!t.tyre.rear_radius.known) c.missing.emplace_back("tractor.tyre.rear_radius");
    if (!set->rear_radius.known) c.missing.push_back("tractor.tyre_set[" + name + "].rear_radius");
    if (!c.missing.empty()) {
        c.status = TyreChange::Status::missing;
        return c;
    }
    c.status = TyreChange::Status::moved;
    c.own_rear = t.tyre.rear_radius.value;
    c.rear = set->rear_radius.value;
    set_turn(t, *set, c);
    return c;
}

TyreChange find_tyre_change(const Setup& s) { return find_tyre_change(s.tractor, s.choices.tyre_set); }

TyreError find_tyre_error(const Tractor& t, const TyreChange& c, const Point& read) {
    TyreError e;
    const TyreSet* set = c.moved() ? find_set(t, c.name) : nullptr;
    if (set == nullptr) return e;
    double rear = 0.0, own_rear = 0.0, front = 0.0, own_front = 0.0, wheelbase = 0.0;  // turn per each, rad/m
    if (!c.level_assumed) {
        const AxleLine l = find_axle_line(t, *set);
        rear = 1.0 / (l.length * std::cos(l.slope));
        own_rear = -(std::cos(l.own_slope) + std::tan(l.slope) * std::sin(l.own_slope)) / l.length;
        front = -rear;
        own_front = -own_rear;
        wheelbase = (std::sin(l.own_slope) - std::tan(l.slope) * std::cos(l.own_slope)) / l.length;
    }
    // One reading of both: their errors are one.
    const bool same_front = !set->front_radius.known;
    if (same_front) own_front += front;
    const Point swing = perpendicular(c.place(read) - Point(0.0, c.rear));  // dp'/dturn
    const auto add = [&](double tolerance, const Point& shift, double turn) {
        const Point moved = (shift + turn * swing) * tolerance;
        e.place = Point(std::hypot(e.place.x(), moved.x()), std::hypot(e.place.y(), moved.y()));
        e.turn = std::hypot(e.turn, turn * tolerance);
    };
    add(set->rear_radius.tolerance, Point(0.0, 1.0), rear);
    add(t.tyre.rear_radius.tolerance, -unit_vector(c.turn + std::acos(0.0)), own_rear);
    if (c.level_assumed) return e;
    if (!same_front) add(set->front_radius.tolerance, Point::Zero(), front);
    add(t.tyre.front_radius.tolerance, Point::Zero(), own_front);
    add(t.mass.wheelbase.tolerance, Point::Zero(), wheelbase);
    return e;
}

}  // namespace hitchwright
