// The pose in space over interval jets: what a pose of any height, sway, tilt and upper-link length in a box can be.
//
// The heading is the zero of one function and gets its enclosure and slopes by root_enclosure.h. The turn q of the mast has
// its slopes from the closed triangle, as in side view (jet_pose.h): with m = R(q) M, perp(m) = (-m_z, m_x), l = D - m,
//   l.(D' - q' perp(m)) = e e' - D_r D_r'   =>   q' = (l.D' - e e' + D_r D_r') / (l.perp(m))
// Every part is narrowed by its mean-value form about the middle of the box before more is made of it. Variables of the
// jets: 0 height, 1 sway, 2 sine of the tilt, 3 upper-link length. Only for boxes whose poses all close.
#pragma once

#include "geometry/jet_pose.h"
#include "geometry/mean_value.h"
#include "geometry/root_enclosure.h"
#include "geometry/spatial_linkage.h"

namespace hitchwright {

/// Height, sway, sine of the tilt, upper-link length.
using SpatialBox = IntervalBox<4>;
using SpatialJet = IntervalJet<4>;

namespace detail {

inline HitchPlace<Interval> find_place(const SpatialBox& box) { return {box[0], box[1], box[2]}; }
inline HitchPlace<double> find_middle_place(const SpatialBox& box) {
    return {box[0].middle(), box[1].middle(), box[2].middle()};
}

/// sin(chi) over the box. Where it cannot be bounded: all it could be.
inline Interval enclose_heading(const SpatialLinkage& k, const SpatialBox& box, double centre) {
    const HitchPlace<Interval> at = find_place(box);
    const auto value = [&] { return find_heading_terms<Interval>(k, at, Interval(centre)).error; };
    const auto slope = [&](const Interval& u) { return find_heading_terms<Interval>(k, at, u).slope; };
    const RootEnclosure r = enclose_root(centre, value, slope);
    return r.proven ? r.root : Interval(-1.0, 1.0);
}

/// sin(chi) and X with their slopes by height, sway and sine of the tilt.
struct HeadingSlopes {
    Interval heading, run;
    std::array<Interval, 3> heading_by, run_by;
};

/// Slopes for values already enclosed. With p one of s, Z, sin(tau), and ct = cos(tau), ct' = -sin(tau)/ct:
///   X X_p = -s, -Z, y_H y_P cos(chi) ct';   u_p = -G_p/G_u;   dX/dp = X_p + X_u u_p
inline void find_heading_slopes(const SpatialLinkage& k, const HitchPlace<Interval>& at, HeadingSlopes& r) {
    const Interval yh(k.half_spread_at_ball), yp(k.half_spread_at_pivot), one(1.0);
    const Interval& u = r.heading;
    const Interval& x = r.run;
    const Interval z = at.height - Interval(k.side_view.lower_pivot.y());
    const Interval c = sqrt((one - u) * (one + u)), ct = sqrt((one - at.tilt_sine) * (one + at.tilt_sine));
    const Interval ct_slope = -(at.tilt_sine / ct), c_slope = -(u / c);
    const std::array<Interval, 3> run_alone{-(z / x), -(at.sway / x), yh * yp * c * ct_slope / x};
    const Interval run_by_heading = yh * yp * ct * c_slope / x;
    const Interval across = yh * u * ct;
    const std::array<Interval, 3> error_by{yh * at.tilt_sine - across * run_alone[0], yh * c * ct - yp - across * run_alone[1],
                                           yh * (at.sway * c * ct_slope + z - u * x * ct_slope) - across * run_alone[2]};
    const Interval error_by_heading = yh * ct * (at.sway * c_slope - x - u * run_by_heading);
    for (std::size_t i = 0; i < 3; ++i) {
        r.heading_by[i] = -(error_by[i] / error_by_heading);
        r.run_by[i] = run_alone[i] + run_by_heading * r.heading_by[i];
    }
}

/// Heading and run over the box, narrowed about their values in its middle.
inline HeadingSlopes enclose_heading_slopes(const SpatialLinkage& k, const SpatialBox& box, double centre,
                                            const Interval& heading_middle, const Interval& run_middle) {
    const HitchPlace<Interval> at = find_place(box);
    HeadingSlopes r;
    r.heading = enclose_heading(k, box, centre);
    r.run = find_heading_terms<Interval>(k, at, r.heading).run;
    find_heading_slopes(k, at, r);
    for (int pass = 0; pass < 2; ++pass) {
        Interval heading = heading_middle, run = run_middle;
        for (std::size_t i = 0; i < 3; ++i) {
            heading = heading + step(r.heading_by[i], box[i]);
            run = run + step(r.run_by[i], box[i]);
        }
        r.heading = narrow(r.heading, heading);
        r.run = narrow(r.run, run);
        find_heading_slopes(k, at, r);
    }
    return r;
}

inline void narrow_triangle(MastTriangle<SpatialJet>& t, const MastTriangle<Interval>& middle, const SpatialBox& box) {
    narrow_by_mean(t.to_pin.x, middle.to_pin.x, box);
    narrow_by_mean(t.to_pin.z, middle.to_pin.z, box);
    narrow_by_mean(t.beside, middle.beside, box);
    narrow_by_mean(t.upper, middle.upper, box);
}

/// Slopes of q over the box from the closed triangle.
inline std::array<Interval, 4> find_turn_slopes(const PlanarLinkage& k, const MastTriangle<SpatialJet>& t, const SpatialJet& e,
                                                const MastTurn<Interval>& turn) {
    const double mx = k.mast_pin.x(), mz = k.mast_pin.y();
    const Vec2<Interval> m{Interval(mx) * turn.cosine - Interval(mz) * turn.sine,
                           Interval(mx) * turn.sine + Interval(mz) * turn.cosine};
    const Vec2<Interval> line{t.to_pin.x.v - m.x, t.to_pin.z.v - m.z};
    const Interval lever = line.z * m.x - line.x * m.z;
    std::array<Interval, 4> slopes;
    for (std::size_t i = 0; i < 4; ++i) {
        slopes[i] = (line.x * t.to_pin.x.d[i] + line.z * t.to_pin.z.d[i] - e.v * e.d[i] + t.beside.v * t.beside.d[i]) / lever;
    }
    return slopes;
}

/// Cosine and sine of q over the box, with slopes.
inline MastTurn<SpatialJet> enclose_mast_turn(const PlanarLinkage& k, const MastTriangle<SpatialJet>& t, const SpatialJet& e,
                                              const MastTurn<Interval>& middle, const SpatialBox& box) {
    const MastTriangle<Interval> values{{t.to_pin.x.v, t.to_pin.z.v}, t.beside.v, t.upper.v};
    MastTurn<Interval> turn = solve_mast_turn<Interval>(k, values);
    for (Interval* side : {&turn.cosine, &turn.sine}) *side = narrow(*side, Interval(-1.0, 1.0));
    std::array<Interval, 4> slopes = find_turn_slopes(k, t, e, turn);
    for (int pass = 0; pass < 2; ++pass) {
        Interval all(0.0);
        for (std::size_t i = 0; i < 4; ++i) all = all + step(slopes[i], box[i]);
        const MastTurn<Interval> before = turn;
        turn.cosine = narrow(turn.cosine, middle.cosine - before.sine * all);
        turn.sine = narrow(turn.sine, middle.sine + before.cosine * all);
        slopes = find_turn_slopes(k, t, e, turn);
    }
    MastTurn<SpatialJet> r{SpatialJet(turn.cosine), SpatialJet(turn.sine)};
    for (std::size_t i = 0; i < 4; ++i) {
        r.cosine.d[i] = -(turn.sine * slopes[i]);
        r.sine.d[i] = turn.cosine * slopes[i];
    }
    return r;
}

inline SpatialBox find_middle(const SpatialBox& box) {
    return {Interval(box[0].middle()), Interval(box[1].middle()), Interval(box[2].middle()), Interval(box[3].middle())};
}

/// sin(chi) in the middle of the box, the start of its enclosure.
inline double find_heading_centre(const SpatialLinkage& k, const SpatialBox& box) {
    const std::optional<HitchHeading> heading = solve_heading(k, find_middle_place(box));
    return heading ? heading->sine : 0.0;
}

}  // namespace detail

/// Middle of the lower hitch points and the axes square to their line.
template <class T>
struct HitchEnclosure {
    Vec3<T> hitch;
    detail::PinAxis<T> axis;
};

/// The lower hitch points at a place given by thin intervals.
inline HitchEnclosure<Interval> enclose_hitch_point(const SpatialLinkage& k, const SpatialBox& point) {
    const Interval u = detail::enclose_heading(k, point, detail::find_heading_centre(k, point));
    const Interval run = detail::find_heading_terms<Interval>(k, detail::find_place(point), u).run;
    return {{run + Interval(k.side_view.lower_pivot.x()), point[1], point[0]}, detail::make_pin_axis(u, point[2])};
}

/// The lower hitch points over a box, with slopes; the upper link does not matter.
inline HitchEnclosure<SpatialJet> enclose_hitch(const SpatialLinkage& k, const SpatialBox& box) {
    const double centre = detail::find_heading_centre(k, box);
    const SpatialBox point = detail::find_middle(box);
    const Interval heading_middle = detail::enclose_heading(k, point, centre);
    const Interval run_middle = detail::find_heading_terms<Interval>(k, detail::find_place(point), heading_middle).run;
    const detail::HeadingSlopes h = detail::enclose_heading_slopes(k, box, centre, heading_middle, run_middle);
    SpatialJet u(h.heading), x(h.run + Interval(k.side_view.lower_pivot.x()));
    for (std::size_t i = 0; i < 3; ++i) u.d[i] = h.heading_by[i], x.d[i] = h.run_by[i];
    const SpatialJet tilt = SpatialJet::variable(box[2], 2);
    return {{x, SpatialJet::variable(box[1], 1), SpatialJet::variable(box[0], 0)}, detail::make_pin_axis(u, tilt)};
}

/// The pose at a place given by thin intervals. Means nothing where the links do not reach it.
inline SpatialPose<Interval> solve_spatial_point(const SpatialLinkage& k, const SpatialBox& point) {
    const HitchEnclosure<Interval> h = enclose_hitch_point(k, point);
    const detail::MastTriangle<Interval> t = detail::make_mast_triangle(k, h.hitch, h.axis, point[3]);
    return detail::make_spatial_pose(h.hitch, h.axis, detail::solve_mast_turn<Interval>(k.side_view, t));
}

/// Enclosure of all poses of the box with their slopes.
inline SpatialPose<SpatialJet> solve_spatial_jets(const SpatialLinkage& k, const SpatialBox& box) {
    const SpatialBox point = detail::find_middle(box);
    const HitchEnclosure<Interval> middle = enclose_hitch_point(k, point);
    const detail::MastTriangle<Interval> middle_triangle = detail::make_mast_triangle(k, middle.hitch, middle.axis, point[3]);
    const detail::MastTurn<Interval> middle_turn = detail::solve_mast_turn<Interval>(k.side_view, middle_triangle);
    const HitchEnclosure<SpatialJet> h = enclose_hitch(k, box);
    const SpatialJet e = SpatialJet::variable(box[3], 3);
    detail::MastTriangle<SpatialJet> triangle = detail::make_mast_triangle(k, h.hitch, h.axis, e);
    detail::narrow_triangle(triangle, middle_triangle, box);
    const detail::MastTurn<SpatialJet> turn = detail::enclose_mast_turn(k.side_view, triangle, e, middle_turn, box);
    SpatialPose<SpatialJet> pose = detail::make_spatial_pose(h.hitch, h.axis, turn);
    const SpatialPose<Interval> pose_middle = detail::make_spatial_pose(middle.hitch, middle.axis, middle_turn);
    narrow_by_mean(pose.rearward, pose_middle.rearward, box);
    narrow_by_mean(pose.right, pose_middle.right, box);
    narrow_by_mean(pose.upward, pose_middle.upward, box);
    return pose;
}

}  // namespace hitchwright
