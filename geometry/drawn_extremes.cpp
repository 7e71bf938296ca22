#include "geometry/drawn_extremes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/bounded_extreme.h"
#include "geometry/closeness.h"
#include "geometry/driveline_geometry.h"
#include "geometry/longest_reach.h"
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

/// The greater of both signs.
AttitudeExtreme find_greatest_out_of_plane(const DrawnModel& m, const AttitudeBox& box) {
    const PlainCloseness close{sine_closeness};
    AttitudeExtreme most = find_greatest(m, box, [](const auto& s) { return find_out_of_plane(s.shaft); }, close);
    AttitudeExtreme other = find_greatest(m, box, [](const auto& s) { return -find_out_of_plane(s.shaft); }, close);
    if (other.value > most.value) std::swap(most, other);
    most.bound = std::max(most.bound, other.bound);
    most.evaluations += other.evaluations;
    most.converged = most.converged && other.converged;
    return most;
}

}  // namespace

AttitudeBox make_turn_box(const DrawnModel& m) {
    return {m.box.yaw, {m.level_pitch, m.level_pitch}, {0.0, 0.0}};
}

AttitudeExtreme find_shortest(const DrawnModel& m, const AttitudeBox& box) {
    return find_least(m, box, [](const auto& s) { return s.shaft.length; }, PlainCloseness{length_closeness});
}

AttitudeExtreme find_longest(const DrawnModel& m, const AttitudeBox& box) {
    int reach_evaluations = 0;
    const double reach = find_longest_reach(m, reach_evaluations);
    const PlainCloseness near{length_closeness};
    const auto close = [&](double value, double bound) { return near(value, std::min(bound, reach)); };
    AttitudeExtreme e = find_greatest(m, box, [](const auto& s) { return s.shaft.length; }, close);
    e.bound = std::max(e.value, std::min(e.bound, reach));
    e.evaluations += reach_evaluations;
    return e;
}

AttitudeExtreme find_greatest_joint_angle(const DrawnModel& m, const AttitudeBox& box, JointEnd joint) {
    const auto close = close_in(angle_from_versine, angle_closeness);
    const auto versine = [&](const auto& x) { return find_joint_versine(m.driveline, x[0], x[1], x[2], joint); };
    const BoundedExtreme<3> e = find_maximum<3>(versine, to_sides(box), close);
    return convert_extreme(AttitudeExtreme{e.value, e.bound, Attitude{e.at[1], e.at[2], e.at[0]}, e.evaluations, e.converged}, angle_from_versine);
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
    const auto ripple = [&m](const auto& s) { return find_non_uniformity_squared(m.driveline, s); };
    return convert_extreme(find_greatest(m, box, ripple, close_in(root_of_square, ratio_closeness)), root_of_square);
}

}  // namespace

DrawnExtremes find_drawn_extremes(const DrawnModel& m, const AttitudeBox& box) {
    DrawnExtremes r;
    r.shortest = find_shortest(m, box);
    r.longest = find_longest(m, box);
    r.tractor_angle = find_greatest_joint_angle(m, box, JointEnd::tractor);
    r.implement_angle = find_greatest_joint_angle(m, box, JointEnd::implement);
    if (m.driveline.ends.wide_angle == WideAngleEnd::none) r.out_of_plane = find_greatest_out_of_plane(m, box);
    r.turns = r.tractor_angle.bound < no_turning && r.implement_angle.bound < no_turning && m.last_joint_angle < no_turning;
    if (r.turns) r.non_uniformity = find_ripple(m, box, r);
    return r;
}

int count_evaluations(const DrawnExtremes& e) {
    int n = 0;
    for (const AttitudeExtreme* x : {&e.shortest, &e.longest, &e.tractor_angle, &e.implement_angle, &e.non_uniformity, &e.out_of_plane}) {
        n += x->evaluations;
    }
    return n;
}

DrivelineState find_driveline_state(const DrawnModel& m, const Attitude& attitude) {
    const DrawnState<double> s = find_drawn_state(m, attitude);
    DrivelineState r;
    r.length = s.shaft.length;
    const WideAngleEnd wide = m.driveline.ends.wide_angle;
    const Eigen::Vector3d stub = to_eigen(s.shaft.stub_axis), along = to_eigen(find_shaft_direction(s.shaft)),
                          input = to_eigen(s.shaft.input_axis);
    r.tractor_angle = wide == WideAngleEnd::tractor ? angle_from_cosine(s.shaft.cos_tractor_joint) : find_angle_between(stub, along);
    r.implement_angle = wide == WideAngleEnd::implement ? angle_from_cosine(s.shaft.cos_implement_joint) : find_angle_between(along, input);
    r.last_angle = m.last_joint_angle;
    r.bending_plane_angle = find_bending_plane_angle(stub, along, input);
    r.turns = r.tractor_angle < no_turning && r.implement_angle < no_turning && r.last_angle < no_turning;
    if (r.turns) r.non_uniformity = root_of_square(find_non_uniformity_squared(m.driveline, s));
    return r;
}

}  // namespace hitchwright
