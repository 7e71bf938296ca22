// See tyre_gap.h.
#include "geometry/tyre_gap.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "geometry/closeness.h"

namespace hitchwright {
namespace {

/// How far a point of the link lies outside the tyre's radius, and inwards of its face.
template <class T>
struct Apart {
    T outside, inwards;
};

template <class T>
Apart<T> find_apart(const SpatialLinkage& k, const TyreRoomParts& parts, TractorSide side, const Vec3<T>& ball, const T& along) {
    using std::sqrt;
    const double sign = find_side_sign(side);
    const Vec3<T> pivot{T(k.side_view.lower_pivot.x()), T(sign * k.half_spread_at_pivot), T(k.side_view.lower_pivot.y())};
    const Vec3<T> p = pivot + along * (ball - pivot);
    const T r = sqrt(square(p.x) + square(p.z - parts.radius));
    return {r - parts.radius, (parts.inner_face - parts.outer_half_width) - sign * p.y - parts.side_play * along};
}

double find_room(const Apart<double>& a) {
    if (a.outside < 0.0 && a.inwards < 0.0) return std::max(a.outside, a.inwards);
    return std::hypot(std::max(a.outside, 0.0), std::max(a.inwards, 0.0));
}

// Never falls with either number; that gives the value's enclosure from the four corners' two that matter.
Interval find_room(const Apart<Interval>& a) {
    return widen(find_room(Apart<double>{a.outside.lo, a.inwards.lo}), find_room(Apart<double>{a.outside.hi, a.inwards.hi}));
}

/// p / sqrt(p^2 + q^2) for numbers that are not negative, not both zero: rises with p, falls with q.
Interval find_share(const Interval& p, const Interval& q) {
    const auto at = [](double a, double b) { return Interval(a) / sqrt(square(Interval(a)) + square(Interval(b))); };
    return {at(p.lo, q.hi).lo, at(p.hi, q.lo).hi};
}

Interval find_hull(const Interval& a, const Interval& b) { return {std::min(a.lo, b.lo), std::max(a.hi, b.hi)}; }

template <std::size_t N>
IntervalJet<N> find_room(const Apart<IntervalJet<N>>& a) {
    IntervalJet<N> room(find_room(Apart<Interval>{a.outside.v, a.inwards.v}));
    if constexpr (N == 0) return room;
    // A slope of the room is a share of both ways' slopes: each 0 to 1, together 1 or more. Outside the tyre the shares are known.
    const Interval p(std::max(a.outside.v.lo, 0.0), std::max(a.outside.v.hi, 0.0)), q(std::max(a.inwards.v.lo, 0.0), std::max(a.inwards.v.hi, 0.0));
    const bool outside = p.lo > 0.0 || q.lo > 0.0;
    for (std::size_t i = 0; i < N; ++i) {
        const Interval &o = a.outside.d[i], &n = a.inwards.d[i];
        room.d[i] = find_hull(find_hull(o, n), o + n);
        if (outside) room.d[i] = detail::narrow(room.d[i], find_share(p, q) * o + find_share(q, p) * n);
    }
    return room;
}

/// What was found for the last few boxes. Most boxes of a search differ in the place along the link alone.
template <class Value>
class Remembered {
public:
    template <class Find>
    const Value& find(const IntervalBox<3>& at, const Find& find_new) {
        for (const auto& entry : entries_) {
            if (entry && entry->first == at) return entry->second;
        }
        auto& entry = entries_[next_];
        next_ = (next_ + 1) % entries_.size();
        return entry.emplace(at, find_new()).second;
    }

private:
    std::array<std::optional<std::pair<IntervalBox<3>, Value>>, 4> entries_;
    std::size_t next_ = 0;
};

/// Room as a function of height, sway, tilt and place along the link. Not to be shared between threads: it remembers.
class RoomFunction {
public:
    RoomFunction(const SpatialLinkage& linkage, const TyreRoomParts& parts, TractorSide side)
        : linkage_(linkage), parts_(parts), side_(side) {}

    IntervalJet<4> operator()(const std::array<IntervalJet<4>, 4>& x) const {
        const IntervalBox<4> box{x[0].v, x[1].v, x[2].v, x[3].v}, point = detail::find_middle(box);
        Apart<SpatialJet> a = find_apart(linkage_, parts_, side_, find_ball_over({box[0], box[1], box[2]}), x[3]);
        const Apart<Interval> middle = find_apart(linkage_, parts_, side_, find_ball_at({point[0], point[1], point[2]}), point[3]);
        narrow_by_mean(a.outside, middle.outside, box);
        narrow_by_mean(a.inwards, middle.inwards, box);
        return find_room(a);
    }
    IntervalJet<0> operator()(const std::array<IntervalJet<0>, 4>& x) const {
        return IntervalJet<0>(find_room(find_apart(linkage_, parts_, side_, find_ball_at({x[0].v, x[1].v, x[2].v}), x[3].v)));
    }

private:
    const Vec3<SpatialJet>& find_ball_over(const IntervalBox<3>& at) const {
        return over_.find(at, [&] {
            const HitchEnclosure<SpatialJet> h = enclose_hitch(linkage_, {at[0], at[1], at[2], Interval(linkage_.side_view.upper_length)});
            return find_ball(linkage_, h.hitch, h.axis.along, side_);
        });
    }
    const Vec3<Interval>& find_ball_at(const IntervalBox<3>& at) const {
        return points_.find(at, [&] {
            const HitchEnclosure<Interval> h = enclose_hitch_point(linkage_, {at[0], at[1], at[2], Interval(linkage_.side_view.upper_length)});
            return find_ball(linkage_, h.hitch, h.axis.along, side_);
        });
    }

    const SpatialLinkage& linkage_;
    const TyreRoomParts& parts_;
    TractorSide side_;
    mutable Remembered<Vec3<SpatialJet>> over_;
    mutable Remembered<Vec3<Interval>> points_;
};

}  // namespace

double find_tyre_room_at(const SpatialLinkage& k, const TyreRoomParts& parts, TractorSide side, const Vec3<double>& ball, double along) {
    return find_room(find_apart(k, parts, side, ball, along));
}

TyreRoom find_tyre_room(const SpatialLinkage& k, const TyreRoomParts& parts, const SpatialBox& box) {
    TyreRoom least;
    least.room = least.bound = std::numeric_limits<double>::infinity();
    least.converged = true;
    int evaluations = 0;
    // One side is the other's mirror image where sway and tilt go as far both ways but for how well their ends are known: the side that
    // is searched gets the farther end of both.
    constexpr double same_end = 1e-8;
    const auto is_even = [](const Interval& x) { return std::fabs(x.lo + x.hi) <= same_end; };
    const auto make_even = [](const Interval& x) { return find_hull(x, -x); };
    const bool mirrored = is_even(box[1]) && is_even(box[2]);
    const Interval sway = mirrored ? make_even(box[1]) : box[1], tilt = mirrored ? make_even(box[2]) : box[2];
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
        if (mirrored && side == TractorSide::right) break;
        const RoomFunction room(k, parts, side);
        const BoundedExtreme<4> e = find_minimum<4>(room, IntervalBox<4>{box[0], sway, tilt, Interval(0.0, 1.0)}, PlainCloseness{length_closeness});
        evaluations += e.evaluations;
        least.converged = least.converged && e.converged;
        least.bound = std::min(least.bound, e.bound);
        if (e.value >= least.room) continue;
        least.room = e.value;
        least.side = side;
        least.at = {e.at[0], e.at[1], e.at[2]};
        least.along = e.at[3];
    }
    least.evaluations = evaluations;
    return least;
}

}  // namespace hitchwright
