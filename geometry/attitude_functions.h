// Length and joint angles over boxes of attitudes, as the searches of bounded_extreme.h ask for them.
//
// What find_drawn_state (drawn_kernel.h) makes of a box is a whole state; a search for the length needs the length
// alone. With plain joints each function here makes only what it needs, with the slopes of attitude_jets.h and the same
// narrowing by mean-value forms. A search asks for the middle of a box right after the box: what was made there is kept
// and not made again. Wide-angle joints take the general way.
#pragma once

#include "geometry/attitude_jets.h"

namespace hitchwright {

namespace detail {

/// Sines and cosines of the sides asked for last: of two boxes next to each other two sides are the same.
class TurnMemo {
public:
    AttitudeJets make(const IntervalBox<3>& box) {
        for (std::size_t i = 0; i < 3; ++i) {
            if (known_ && box[i] == at_[i]) continue;
            at_[i] = box[i];
            turns_[i] = Turn(box[i]);
        }
        known_ = true;
        return {turns_[0], turns_[1], turns_[2]};
    }
    AttitudeKernel<Interval> make_kernel(const IntervalBox<3>& box) {
        const AttitudeJets j = make(box);
        return {j.cos_yaw, j.sin_yaw, j.cos_pitch, j.sin_pitch, j.cos_roll, j.sin_roll};
    }

private:
    bool known_ = false;
    IntervalBox<3> at_;
    std::array<Turn, 3> turns_{Turn(Interval(0.0)), Turn(Interval(0.0)), Turn(Interval(0.0))};
};

/// What was made at the point asked for last.
template <class Value>
class PointMemo {
public:
    template <class Make>
    const Value& get(const IntervalBox<3>& at, const Make& make) {
        if (known_ && at == at_) return value_;
        known_ = true;
        at_ = at;
        return value_ = make();
    }

private:
    bool known_ = false;
    IntervalBox<3> at_;
    Value value_;
};

/// The length of V with its slopes.
inline IntervalJet<3> find_length(const Vec3<IntervalJet<3>>& v) {
    IntervalJet<3> length(sqrt(square(v.x.v) + square(v.y.v) + square(v.z.v)));
    for (std::size_t i = 0; i < 3; ++i)
        length.d[i] = (v.x.v * v.x.d[i] + v.y.v * v.y.d[i] + v.z.v * v.z.d[i]) / length.v;
    return length;
}
inline Interval find_length(const Vec3<Interval>& v) { return sqrt(square(v.x) + square(v.y) + square(v.z)); }

/// Shaft from joint to joint with plain joints: V and its length, both frame T.
template <class T>
struct PlainShaft {
    Vec3<T> along;
    T length;
};
template <class T, class Turned>
PlainShaft<T> find_plain_shaft(const DrawnDriveline& d, const Turned& turned) {
    const Vec3<T> joint = add_constant(d.pin, turned.turn(d.ends.implement_joint));
    const Vec3<T> v = add_constant(-1.0 * d.ends.tractor_joint, joint);
    return {v, find_length(v)};
}

inline IntervalBox<3> get_sides(const std::array<IntervalJet<0>, 3>& x) { return {x[0].v, x[1].v, x[2].v}; }

}  // namespace detail

/// The shaft's length over (yaw, pitch, roll). Not to be shared between threads: it remembers.
class LengthOverBox {
public:
    explicit LengthOverBox(const DrawnDriveline& d) : d_(d), plain_(d.ends.wide_angle == WideAngleEnd::none) {}

    IntervalJet<3> operator()(const std::array<IntervalJet<3>, 3>& x) const {
        if (!plain_) return find_drawn_state(d_, x[0], x[1], x[2]).shaft.length;
        const IntervalBox<3> box = get_sides(x);
        IntervalJet<3> length = detail::find_plain_shaft<IntervalJet<3>>(d_, boxes_.make(box)).length;
        narrow_by_mean(length, find_at(find_middle(box)), box);
        return length;
    }
    IntervalJet<0> operator()(const std::array<IntervalJet<0>, 3>& x) const {
        if (!plain_) return find_drawn_state(d_, x[0], x[1], x[2]).shaft.length;
        return find_at(detail::get_sides(x));
    }

private:
    const Interval& find_at(const IntervalBox<3>& at) const {
        return length_.get(at, [&] { return detail::find_plain_shaft<Interval>(d_, points_.make_kernel(at)).length; });
    }

    const DrawnDriveline& d_;
    mutable detail::TurnMemo boxes_, points_;
    bool plain_;
    mutable detail::PointMemo<Interval> length_;
};

/// 1 - cos B of a joint over (yaw, pitch, roll): find_joint_versine. Not to be shared between threads: it remembers.
class VersineOverBox {
public:
    VersineOverBox(const DrawnDriveline& d, JointEnd joint)
        : d_(d),
          joint_(joint),
          plain_(d.ends.wide_angle == WideAngleEnd::none),
          to_pin_(d.pin - d.ends.tractor_joint) {}

    IntervalJet<3> operator()(const std::array<IntervalJet<3>, 3>& x) const {
        if (!plain_) return find_joint_versine(d_, x[0], x[1], x[2], joint_);
        const IntervalBox<3> box = get_sides(x);
        const AttitudeJets turned = boxes_.make(box);
        Plain<IntervalJet<3>> p = find_plain<IntervalJet<3>>(turned);
        const Plain<Interval>& middle = find_at(find_middle(box));
        narrow_by_mean(p.length, middle.length, box);
        narrow_by_mean(p.cosine, middle.cosine, box);
        return finish(p, turned);
    }
    IntervalJet<0> operator()(const std::array<IntervalJet<0>, 3>& x) const {
        if (!plain_) return find_joint_versine(d_, x[0], x[1], x[2], joint_);
        const IntervalBox<3> at = detail::get_sides(x);
        return finish(find_at(at), points_.make_kernel(at));
    }

private:
    template <class T>
    struct Plain {
        Vec3<T> turned_joint;  ///< R K_I
        T length, cosine;
    };

    template <class T, class Turned>
    Plain<T> find_plain(const Turned& turned) const {
        const detail::PlainShaft<T> s = detail::find_plain_shaft<T>(d_, turned);
        const T along = joint_ == JointEnd::tractor ? dot_constant(d_.ends.stub_axis, s.along)
                                                    : dot(turned.turn(d_.ends.input_axis), s.along);
        return {turned.turn(d_.ends.implement_joint), s.length, along / s.length};
    }

    /// sin^2 B/(1 + cos B); beyond 120 deg the cosine is the better one.
    template <class T, class Turned>
    T finish(const Plain<T>& p, const Turned& turned) const {
        if (!(detail::find_least(p.cosine) > -0.5)) return 1.0 - p.cosine;
        const Vec3<T> across =
            joint_ == JointEnd::tractor
                ? cross_constant(d_.ends.stub_axis, add_constant(to_pin_, p.turned_joint))
                : cross_constant(d_.ends.input_axis, add_constant(d_.ends.implement_joint, turned.turn_back(to_pin_)));
        return (square(across.x) + square(across.y) + square(across.z)) / (square(p.length) * (1.0 + p.cosine));
    }

    const Plain<Interval>& find_at(const IntervalBox<3>& at) const {
        return plain_at_.get(at, [&] { return find_plain<Interval>(points_.make_kernel(at)); });
    }

    const DrawnDriveline& d_;
    mutable detail::TurnMemo boxes_, points_;
    JointEnd joint_;
    bool plain_;
    Vec3<double> to_pin_;
    mutable detail::PointMemo<Plain<Interval>> plain_at_;
};

/// The square of the non-uniformity over (yaw, pitch, roll): find_non_uniformity_squared. Not to be shared between
/// threads: it remembers.
///
/// Two plain joints: with V from joint to joint, P from joint 1 to the pin, N1 = u_A.V, N2 = u_B.V and T = S t the shaft's
/// length S falls out of (F^2/p)^2 - 4 = ((c1 - c2)^2 + t^2) ((c1 + c2)^2 + t^2)/(c1 c2)^2:
///   NU^2 = (N1/N2 - N2/N1)^2 + 2 (T/N1)^2 + 2 (T/N2)^2 + (T/N1 T/N2)^2
///   N1 = u_A.P + u_A.R K_I,   N2 = u_BI.K_I + P.R u_BI,   T = (P x u_A).R u_BI + u_A.R (u_BI x K_I)
/// with yokes in one plane (g = 0), each of the three linear in turned vectors, so that boxes lose little; else
///   T cos g + (u_A x V).(V x u_B)/S sin g   in place of T,   V x u_B = P x R u_BI - R (u_BI x K_I)
class RippleOverBox {
public:
    explicit RippleOverBox(const DrawnDriveline& d)
        : d_(d),
          plain_(d.ends.wide_angle == WideAngleEnd::none && !d.fixed.fitted),
          to_pin_(d.pin - d.ends.tractor_joint),
          lever_(cross(d.ends.input_axis, d.ends.implement_joint)) {}

    IntervalJet<3> operator()(const std::array<IntervalJet<3>, 3>& x) const {
        if (!plain_) return find_non_uniformity_squared(d_, find_drawn_state(d_, x[0], x[1], x[2]));
        const IntervalBox<3> box = get_sides(x);
        Plain<IntervalJet<3>> p = find_plain<IntervalJet<3>>(boxes_.make(box));
        const Plain<Interval>& middle = find_at(find_middle(box));
        narrow_by_mean(p.along_stub, middle.along_stub, box);
        narrow_by_mean(p.along_input, middle.along_input, box);
        narrow_by_mean(p.out_of_plane, middle.out_of_plane, box);
        return finish(p);
    }
    IntervalJet<0> operator()(const std::array<IntervalJet<0>, 3>& x) const {
        if (!plain_) return find_non_uniformity_squared(d_, find_drawn_state(d_, x[0], x[1], x[2]));
        return finish(find_at(detail::get_sides(x)));
    }

private:
    template <class T>
    struct Plain {
        T along_stub, along_input, out_of_plane;  ///< N1, N2, T
    };

    template <class T, class Turned>
    Plain<T> find_plain(const Turned& turned) const {
        const DrivelineEnds& e = d_.ends;
        const Vec3<T> joint = turned.turn(e.implement_joint), axis = turned.turn(e.input_axis), lever = turned.turn(lever_);
        Plain<T> p{dot_constant(e.stub_axis, joint) + dot(e.stub_axis, to_pin_),
                   dot_constant(to_pin_, axis) + dot(e.input_axis, e.implement_joint),
                   dot_constant(cross(to_pin_, e.stub_axis), axis) + dot_constant(e.stub_axis, lever)};
        if (e.yoke_phase_error == 0.0) return p;
        const Vec3<T> v = add_constant(to_pin_, joint);
        const T together = dot(cross_constant(e.stub_axis, v), cross_constant(to_pin_, axis) - lever);
        p.out_of_plane = std::cos(e.yoke_phase_error) * p.out_of_plane + std::sin(e.yoke_phase_error) * together / detail::find_length(v);
        return p;
    }

    template <class T>
    static T finish(const Plain<T>& p) {
        const T first = p.out_of_plane / p.along_stub, second = p.out_of_plane / p.along_input;
        const T ratio = p.along_stub / p.along_input, uneven = ratio - T(1.0) / ratio;
        return square(uneven) + 2.0 * (square(first) + square(second)) + square(first * second);
    }

    const Plain<Interval>& find_at(const IntervalBox<3>& at) const {
        return plain_at_.get(at, [&] { return find_plain<Interval>(points_.make_kernel(at)); });
    }

    const DrawnDriveline& d_;
    mutable detail::TurnMemo boxes_, points_;
    bool plain_;
    Vec3<double> to_pin_, lever_;  ///< P, and u_BI x K_I
    mutable detail::PointMemo<Plain<Interval>> plain_at_;
};

}  // namespace hitchwright
