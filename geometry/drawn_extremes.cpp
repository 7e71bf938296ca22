#include "geometry/drawn_extremes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/attitude_functions.h"
#include "geometry/bounded_extreme.h"
#include "geometry/closeness.h"
#include "geometry/driveline_geometry.h"
#include "geometry/length_over_box.h"
#include "geometry/longest_over_turn.h"
#include "geometry/longest_reach.h"
#include "geometry/mirrored_extreme.h"
#include "geometry/two_joint.h"

namespace hitchwright {
namespace {

Interval to_interval(const AngleRange& r) { return {r.low, r.high}; }

IntervalBox<3> to_sides(const AttitudeBox& box) { return {to_interval(box.yaw), to_interval(box.pitch), to_interval(box.roll)}; }

/// Least value of `quantity(state)` over the box.
template <class Q, class Close>
AttitudeExtreme find_least(const DrawnModel& m, const AttitudeBox& box, const Q& quantity, const Close& close) {
    const auto f = [&](const auto& x) { return quantity(find_drawn_state(m.driveline, x[0], x[1], x[2])); };
    const BoundedExtreme<3> e = find_minimum<3>(f, to_sides(box), close);
    return {e.value, e.bound, Attitude{e.at[1], e.at[2], e.at[0]}, e.evaluations, e.converged};
}

template <class Q, class Close>
AttitudeExtreme find_greatest(const DrawnModel& m, const AttitudeBox& box, const Q& quantity, const Close& close) {
    const auto negated = [&quantity](const auto& s) { return -quantity(s); };
    const auto negated_close = [&close](double value, double bound) { return close(-value, -bound); };
    AttitudeExtreme e = find_least(m, box, negated, negated_close);
    e.value = -e.value;
    e.bound = -e.bound;
    return e;
}

/// Closeness of a product of three sines: 1e-5, about 0.001 deg where two of them are near 1.
constexpr double sine_closeness = 1.0e-5;

double angle_from_cosine(double x) { return std::acos(std::clamp(x, -1.0, 1.0)); }

Eigen::Vector3d to_eigen(const Vec3<double>& v) { return {v.x, v.y, v.z}; }

double length_of(const DrivelineState& s) { return s.length; }
double tractor_angle_of(const DrivelineState& s) { return s.tractor_angle; }
double implement_angle_of(const DrivelineState& s) { return s.implement_angle; }
double non_uniformity_of(const DrivelineState& s) { return s.non_uniformity; }
double out_of_plane_of(const DrivelineState& s) {
    return std::sin(s.tractor_angle) * std::sin(s.implement_angle) * std::fabs(std::sin(s.bending_plane_angle));
}

/// The greater of both signs.
AttitudeExtreme find_greatest_out_of_plane(const DrawnModel& m, const AttitudeBox& box) {
    const PlainCloseness close{sine_closeness};
    AttitudeExtreme most = find_greatest(m, box, [](const auto& s) { return find_out_of_plane(s.shaft); }, close);
    AttitudeExtreme other = find_greatest(m, box, [](const auto& s) { return -find_out_of_plane(s.shaft); }, close);
    if (other.value > most.value) std::swap(most, other);
    most.bound = std::max(most.bound, other.bound);
    most.evaluations += other.evaluations;
    most.converged = most.converged && other.converged;
    name_left_side(m, box, out_of_plane_of, most);
    return most;
}

}  // namespace

AttitudeBox make_turn_box(const DrawnModel& m) {
    return {m.box.yaw, {m.level_pitch, m.level_pitch}, {0.0, 0.0}};
}

namespace {

AttitudeExtreme as_attitude_extreme(const BoundedExtreme<3>& e) {
    return {e.value, e.bound, Attitude{e.at[1], e.at[2], e.at[0]}, e.evaluations, e.converged};
}

/// The search with plain joints: pitch and roll, each with its best yaw.
template <class Close>
AttitudeExtreme search_over_turn(const DrawnModel& m, const AttitudeBox& box, const Close& close) {
    const LongestOverTurn longest(m.driveline, to_interval(box.yaw));
    const BoundedExtreme<2> e = find_maximum<2>(longest, {to_interval(box.pitch), to_interval(box.roll)}, close);
    return {e.value, e.bound, Attitude{e.at[0], e.at[1], longest.find_yaw(e.at[0], e.at[1])}, e.evaluations, e.converged};
}

/// Greatest length until `close`; no attitude whatever reaches beyond `reach`.
template <class Close>
AttitudeExtreme search_longest(const DrawnModel& m, const AttitudeBox& box, double reach, const Close& close) {
    const auto near_reach = [&](double value, double bound) { return close(value, std::min(bound, reach)); };
    const bool plain = m.driveline.ends.wide_angle == WideAngleEnd::none;
    AttitudeExtreme e = plain ? search_over_turn(m, box, near_reach)
                              : as_attitude_extreme(find_maximum<3>(LengthOverBox(m.driveline), to_sides(box), near_reach));
    e.bound = std::max(e.value, std::min(e.bound, reach));
    return e;
}

}  // namespace

AttitudeExtreme find_shortest(const DrawnModel& m, const AttitudeBox& box) {
    AttitudeExtreme e = as_attitude_extreme(find_minimum<3>(LengthOverBox(m.driveline), to_sides(box), PlainCloseness{length_closeness}));
    name_left_side(m, box, length_of, e);
    return e;
}

AttitudeExtreme find_longest(const DrawnModel& m, const AttitudeBox& box) {
    int reach_evaluations = 0;
    const double reach = find_longest_reach(m, reach_evaluations);
    AttitudeExtreme e = search_longest(m, box, reach, PlainCloseness{length_closeness});
    e.evaluations += reach_evaluations;
    name_left_side(m, box, length_of, e);
    return e;
}

namespace {

/// All lengths that rounding leaves possible at one attitude.
Interval enclose_length(const DrawnModel& m, const Attitude& a, int& evaluations) {
    ++evaluations;
    return LengthOverBox(m.driveline)(std::array<IntervalJet<0>, 3>{a.yaw, a.pitch, a.roll}).v;
}

}  // namespace

bool stays_longer_than(const DrawnModel& m, const AttitudeBox& box, double least, WorstAttitude& worst, int& evaluations) {
    if (worst && enclose_length(m, *worst, evaluations).hi < least) return false;
    const PlainCloseness near{length_closeness};
    const auto certain = [&](double value, double bound) { return value < least || bound >= least || near(value, bound); };
    const AttitudeExtreme e = as_attitude_extreme(find_minimum<3>(LengthOverBox(m.driveline), to_sides(box), certain));
    worst = e.at;
    evaluations += e.evaluations;
    return e.bound >= least;
}

namespace {

/// Upper bound of the length from a search that ends with `close` or beyond `most`; nothing when it is above `most`.
template <class Close>
std::optional<double> search_within(const DrawnModel& m, const AttitudeBox& box, double most, WorstAttitude& worst, int& evaluations,
                                    const Close& close) {
    if (worst && enclose_length(m, *worst, evaluations).lo > most) return std::nullopt;
    const auto certain = [&](double value, double bound) { return value > most || close(value, bound); };
    const AttitudeExtreme e = search_longest(m, box, find_longest_reach(m, evaluations), certain);
    worst = e.at;
    evaluations += e.evaluations;
    return e.bound <= most ? std::optional<double>(e.bound) : std::nullopt;
}

}  // namespace

bool stays_shorter_than(const DrawnModel& m, const AttitudeBox& box, double most, WorstAttitude& worst, int& evaluations) {
    const PlainCloseness near{length_closeness};
    const auto close = [&](double value, double bound) { return bound <= most || near(value, bound); };
    return search_within(m, box, most, worst, evaluations, close).has_value();
}

std::optional<double> find_longest_within(const DrawnModel& m, const AttitudeBox& box, double most, WorstAttitude& worst,
                                          int& evaluations) {
    return search_within(m, box, most, worst, evaluations, PlainCloseness{length_closeness});
}

AttitudeExtreme find_greatest_joint_angle(const DrawnModel& m, const AttitudeBox& box, JointEnd joint) {
    const auto close = close_in(angle_from_versine, angle_closeness);
    const VersineOverBox versine(m.driveline, joint);
    AttitudeExtreme e = convert_extreme(as_attitude_extreme(find_maximum<3>(versine, to_sides(box), close)), angle_from_versine);
    name_left_side(m, box, joint == JointEnd::tractor ? tractor_angle_of : implement_angle_of, e);
    return e;
}

namespace {

/// A wide-angle joint turns evenly: all the ripple is its plain partner's, sin B tan B, and rises with its angle.
AttitudeExtreme find_ripple_of_partner(const AttitudeExtreme& partner) {
    return convert_extreme(partner, [](double angle) { return std::sin(angle) * std::tan(angle); });
}

AttitudeExtreme find_ripple(const DrawnModel& m, const AttitudeBox& box, const DrawnExtremes& e) {
    const WideAngleEnd wide = m.driveline.ends.wide_angle;
    if (wide != WideAngleEnd::none && !m.driveline.fixed.fitted) {
        return find_ripple_of_partner(wide == WideAngleEnd::tractor ? e.implement_angle : e.tractor_angle);
    }
    const auto close = close_in(root_of_square, ratio_closeness);
    AttitudeExtreme ripple = convert_extreme(as_attitude_extreme(find_maximum<3>(RippleOverBox(m.driveline), to_sides(box), close)), root_of_square);
    name_left_side(m, box, non_uniformity_of, ripple);
    return ripple;
}

}  // namespace

void complete_extremes(const DrawnModel& m, const AttitudeBox& box, DrawnExtremes& r) {
    if (r.shortest.evaluations == 0) r.shortest = find_shortest(m, box);
    if (r.longest.evaluations == 0) r.longest = find_longest(m, box);
    if (r.tractor_angle.evaluations == 0) r.tractor_angle = find_greatest_joint_angle(m, box, JointEnd::tractor);
    if (r.implement_angle.evaluations == 0) r.implement_angle = find_greatest_joint_angle(m, box, JointEnd::implement);
    r.turns = r.tractor_angle.bound < no_turning && r.implement_angle.bound < no_turning && m.last_joint_angle < no_turning;
    if (!r.turns || r.non_uniformity.evaluations != 0) return;
    r.non_uniformity = find_ripple(m, box, r);
    // In a box that is hard to search the search may end without a bound of its own.
    bound_by_joints(m.driveline.ends, r.tractor_angle.bound, r.implement_angle.bound, m.last_joint_angle, r.non_uniformity);
}

DrawnExtremes find_drawn_extremes(const DrawnModel& m, const AttitudeBox& box) {
    DrawnExtremes r;
    complete_extremes(m, box, r);
    if (m.driveline.ends.wide_angle == WideAngleEnd::none) r.out_of_plane = find_greatest_out_of_plane(m, box);
    return r;
}

int count_evaluations(const DrawnExtremes& e) {
    int n = 0;
    for (const AttitudeExtreme* x : {&e.shortest, &e.longest, &e.tractor_angle, &e.implement_angle, &e.non_uniformity, &e.out_of_plane}) {
        n += x->evaluations;
    }
    return n;
}

namespace {

/// The three shaft axes of a state.
struct ShaftAxes {
    Eigen::Vector3d stub, along, input;
};
ShaftAxes find_axes(const DrawnState<double>& s) {
    return {to_eigen(s.shaft.stub_axis), to_eigen(find_shaft_direction(s.shaft)), to_eigen(s.shaft.input_axis)};
}

DrivelineState make_limited_state(const DrawnModel& m, const DrawnState<double>& s, const ShaftAxes& axes) {
    DrivelineState r;
    r.length = s.shaft.length;
    const WideAngleEnd wide = m.driveline.ends.wide_angle;
    r.tractor_angle = wide == WideAngleEnd::tractor ? angle_from_cosine(s.shaft.cos_tractor_joint) : find_angle_between(axes.stub, axes.along);
    r.implement_angle = wide == WideAngleEnd::implement ? angle_from_cosine(s.shaft.cos_implement_joint) : find_angle_between(axes.along, axes.input);
    return r;
}

}  // namespace

DrivelineState find_limited_state(const DrawnModel& m, const Attitude& attitude) {
    const DrawnState<double> s = find_drawn_state(m, attitude);
    return make_limited_state(m, s, find_axes(s));
}

DrivelineState find_driveline_state(const DrawnModel& m, const Attitude& attitude) {
    const DrawnState<double> s = find_drawn_state(m, attitude);
    const ShaftAxes axes = find_axes(s);
    DrivelineState r = make_limited_state(m, s, axes);
    r.last_angle = m.last_joint_angle;
    r.bending_plane_angle = find_bending_plane_angle(axes.stub, axes.along, axes.input);
    r.turns = r.tractor_angle < no_turning && r.implement_angle < no_turning && r.last_angle < no_turning;
    if (r.turns) r.non_uniformity = root_of_square(find_non_uniformity_squared(m.driveline, s));
    return r;
}

}  // namespace hitchwright
