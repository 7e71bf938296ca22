// The greatest length of a shaft with plain joints over a whole turn, at a pitch and a roll: a search over attitudes for the
// longest has two variables left instead of three.
//
// With P from joint 1 to the pin, K_I joint 2 from the pin and u = Ry(-pitch) Rx(roll) K_I, at yaw y
//   S^2 = |P|^2 + |K_I|^2 + 2 (P_z u_z + A cos y + B sin y),   A = P_x u_x + P_y u_y,   B = P_y u_x - P_x u_y
// so that over y the length has one wave: greatest at its crest, sqrt(A^2 + B^2) = |P_xy| sqrt(|K_I|^2 - u_z^2), when that lies
// in the range, else at an end. Which of them is told by the wave's slopes at the ends of the range:
//                        rising at the low end    falling at the high end
//   less than half a turn     both: the crest is in the range; else: it is not
//   half a turn or more       either: the crest is in the range; neither: it is not
// Where a box leaves several open the value is in the hull of theirs, and so is the slope: the greatest of smooth functions
// changes as one that is greatest. Lengths m, angles rad.
#pragma once

#include "geometry/attitude_jets.h"

namespace hitchwright {

/// Greatest length over `yaw` as a function of (pitch, roll), for find_maximum<2>. Plain joints only.
class LongestOverTurn {
public:
    LongestOverTurn(const DrawnDriveline& d, const Interval& yaw)
        : to_pin_(d.pin - d.ends.tractor_joint),
          joint_(d.ends.implement_joint),
          yaw_(yaw),
          low_(Interval(yaw.lo)),
          high_(Interval(yaw.hi)) {
        const auto squared = [](const Vec3<double>& a) { return square(Interval(a.x)) + square(Interval(a.y)) + square(Interval(a.z)); };
        joint_squared_ = squared(joint_);
        // P is a rounded difference: of machines of some metres these square metres are many times what that changes.
        constant_ = squared(to_pin_) + joint_squared_ + Interval(-1.0e-14, 1.0e-14);
        beside_ = sqrt(square(Interval(to_pin_.x)) + square(Interval(to_pin_.y)));
    }

    template <std::size_t N>
    IntervalJet<N> operator()(const std::array<IntervalJet<N>, 2>& x) const {
        const Wave<IntervalJet<N>> w = find_wave(cos(x[0]), sin(x[0]), cos(x[1]), sin(x[1]));
        const Crest crest = find_crest_place(find_slope(w, low_), find_slope(w, high_));
        Hull<N> level;
        if (crest != Crest::inside) {
            level.add_end(find_height(w, low_));
            if (yaw_.lo < yaw_.hi) level.add_end(find_height(w, high_));
        }
        if (crest != Crest::outside) level.add_crest(find_crest(w.up));
        return sqrt(IntervalJet<N>(constant_) + 2.0 * (to_pin_.z * w.up + level.hull));
    }

    /// The yaw at which the length is greatest.
    double find_yaw(double pitch, double roll) const {
        const Wave<double> w = find_wave(std::cos(pitch), std::sin(pitch), std::cos(roll), std::sin(roll));
        const double crest = std::atan2(w.second, w.first);
        for (const double turn : {0.0, -2.0 * std::numbers::pi, 2.0 * std::numbers::pi}) {
            if (yaw_.contains(crest + turn)) return crest + turn;
        }
        const auto height = [&](double yaw) { return w.first * std::cos(yaw) + w.second * std::sin(yaw); };
        return height(yaw_.lo) > height(yaw_.hi) ? yaw_.lo : yaw_.hi;
    }

private:
    /// A cos y + B sin y, and u_z.
    template <class T>
    struct Wave {
        T first, second, up;
    };
    template <class T>
    Wave<T> find_wave(const T& cos_pitch, const T& sin_pitch, const T& cos_roll, const T& sin_roll) const {
        const T y = joint_.y * cos_roll - joint_.z * sin_roll, z = joint_.y * sin_roll + joint_.z * cos_roll;
        const T along = joint_.x * cos_pitch - z * sin_pitch;
        return {to_pin_.x * along + to_pin_.y * y, to_pin_.y * along - to_pin_.x * y, joint_.x * sin_pitch + z * cos_pitch};
    }

    template <std::size_t N>
    static IntervalJet<N> find_height(const Wave<IntervalJet<N>>& w, const detail::Turn& at) {
        return IntervalJet<N>(at.cosine) * w.first + IntervalJet<N>(at.sine) * w.second;
    }
    template <std::size_t N>
    static Interval find_slope(const Wave<IntervalJet<N>>& w, const detail::Turn& at) {
        return at.cosine * w.second.v - at.sine * w.first.v;
    }
    template <std::size_t N>
    IntervalJet<N> find_crest(const IntervalJet<N>& up) const {
        return IntervalJet<N>(beside_) * sqrt(IntervalJet<N>(joint_squared_) - square(up));
    }

    enum class Crest { inside, outside, unknown };

    Crest find_crest_place(const Interval& low_slope, const Interval& high_slope) const {
        constexpr double half_turn = std::numbers::pi, rounding = 1.0e-9;  // a crest this near to an end is as high as the end
        const double turn = yaw_.hi - yaw_.lo;
        const bool rises = low_slope.lo > 0.0, sinks = high_slope.hi < 0.0;  // into the range from either end
        const bool falls = low_slope.hi < 0.0, climbs = high_slope.lo > 0.0;
        if (turn == 0.0) return Crest::outside;
        if (turn < half_turn - rounding) return falls || climbs ? Crest::outside : rises && sinks ? Crest::inside : Crest::unknown;
        if (turn < half_turn + rounding) return falls && climbs ? Crest::outside : rises && sinks ? Crest::inside : Crest::unknown;
        if (turn < 2.0 * half_turn - rounding) return falls && climbs ? Crest::outside : rises || sinks ? Crest::inside : Crest::unknown;
        return turn >= 2.0 * half_turn + rounding || rises || sinks ? Crest::inside : Crest::unknown;
    }

    /// Values and slopes that are possible. The greatest is not below any end, but below a crest that is out of the range.
    template <std::size_t N>
    struct Hull {
        IntervalJet<N> hull;
        bool any = false;

        void add_end(const IntervalJet<N>& end) {
            const double least = any ? std::max(hull.v.lo, end.v.lo) : end.v.lo;
            widen(end);
            hull.v.lo = least;
        }
        void add_crest(const IntervalJet<N>& crest) {
            const double least = any ? hull.v.lo : crest.v.lo;
            widen(crest);
            hull.v.lo = least;
        }

    private:
        void widen(const IntervalJet<N>& other) {
            if (!any) hull = other;
            any = true;
            hull.v = {std::min(hull.v.lo, other.v.lo), std::max(hull.v.hi, other.v.hi)};
            for (std::size_t i = 0; i < N; ++i) hull.d[i] = {std::min(hull.d[i].lo, other.d[i].lo), std::max(hull.d[i].hi, other.d[i].hi)};
        }
    };

    Vec3<double> to_pin_, joint_;
    Interval yaw_;
    detail::Turn low_, high_;
    Interval joint_squared_, constant_, beside_;
};

}  // namespace hitchwright
