// What is seen of a mounted machine; see trace_machine.h.
#include <functional>

#include "geometry/clearance_pair.h"
#include "geometry/lift_study.h"
#include "geometry/link_length.h"
#include "geometry/pose_report.h"
#include "geometry/trace_eyes.h"

namespace hitchwright::trace_eyes {
namespace {

class MountedEye {
public:
    MountedEye(const TraceMachine& machine, const MountedModel& model, const Floor& floor)
        : setup_(machine.setup), m_(model), floor_(floor) {}

    Value see(const Seen& s) const {
        switch (s.kind) {
            case SeenKind::tail_height:
            case SeenKind::front_height:
                return see_spot(s);
            case SeenKind::pitch:
                return at_pose(s.place, s.height,
                               [&](const PoseReport& r) { return Value(r.pose.pitch - floor_.slope); });
            case SeenKind::ball_height:
                return see_ball(s.place);
            case SeenKind::shaft_distance:
                return see_shaft(s, [](const PoseReport& r) { return r.shaft_length; });
            case SeenKind::gap:
            case SeenKind::knocks:
                return see_length(s, [&](double length) { return find_gap(m_.halves, length); });
            case SeenKind::overlap:
            case SeenKind::comes_apart:
                return see_length(s, [&](double length) { return find_overlap(m_.halves, length); });
            case SeenKind::chatters:
                return see_joints(s);
            case SeenKind::tail_drags:
                return see_lowest(s);
            case SeenKind::deck_touches:
                return see_deck();
            case SeenKind::link_too_short:
                return see_reach(true);
            case SeenKind::link_too_long:
                return see_reach(false);
            case SeenKind::link_out_of_reach:
                return least_of(see_reach(true), see_reach(false));
            case SeenKind::reading:
                return find_reading(setup_, s.key);
            case SeenKind::will_not_lift:
                return see_lift(s);
            case SeenKind::drawbar_length:
            case SeenKind::tyre_meets_tongue:
            case SeenKind::stated:
                break;
        }
        return std::nullopt;
    }

private:
    /// Ball height in frame T at which the ball stands `above` the floor.
    double find_height(double above) const {
        if (floor_.is_level()) return above;
        double h = above;
        for (int i = 0; i < 12; ++i) {
            const Point ball = find_ball(m_.linkage, h);
            h += above - floor_.height_of(ball.x(), ball.y());
        }
        return h;
    }

    /// Where a place is; nothing for a working height nobody knows.
    Value find_place(SeenPlace place, double height) const {
        switch (place) {
            case SeenPlace::lowest:
                return m_.travel.low;
            case SeenPlace::raised:
                return m_.travel.high;
            case SeenPlace::at_height:
                return find_height(height);
            default:
                break;
        }
        return m_.has_working_height ? Value(find_height(m_.working_height)) : std::nullopt;
    }

    Value at_height(double h, const std::function<Value(const PoseReport&)>& f) const {
        const PoseReport r = make_pose_report(setup_, m_, h);
        return r.pose.closes ? f(r) : std::nullopt;
    }
    Value at_pose(SeenPlace place, double height, const std::function<Value(const PoseReport&)>& f) const {
        const Value h = find_place(place, height);
        return h ? at_height(*h, f) : std::nullopt;
    }

    double find_underside(const PoseReport& r, double x, double z, double radius) const {
        const Point at = place_point(r.pose, m_.coupled.lower_hook + Point(x, z));
        return floor_.height_of(at.x(), at.y()) - radius;
    }

    Value see_spot(const Seen& s) const {
        const std::optional<Spot> spot = find_spot(setup_.implement, s.kind == SeenKind::tail_height);
        if (!spot) return std::nullopt;
        return at_pose(s.place, s.height,
                       [&](const PoseReport& r) { return Value(find_underside(r, spot->x, spot->z, spot->radius)); });
    }

    Value see_ball(SeenPlace place) const {
        const Value h = find_place(place == SeenPlace::usual ? SeenPlace::raised : place, 0.0);
        if (!h) return std::nullopt;
        const Point ball = find_ball(m_.linkage, *h);
        return floor_.height_of(ball.x(), ball.y());
    }

    template <class F>
    Value see_shaft(const Seen& s, F&& f) const {
        if (!m_.has_shaft) return std::nullopt;
        return at_pose(s.place, s.height, [&](const PoseReport& r) { return Value(f(r)); });
    }

    /// What is left at a place, or where it is least over travel and slack.
    Value see_length(const Seen& s, const std::function<double(double)>& left) const {
        if (!m_.has_halves) return std::nullopt;
        if (s.place != SeenPlace::usual && s.place != SeenPlace::in_dips)
            return see_shaft(s, [&](const PoseReport& r) { return left(r.shaft_length); });
        Value worst;
        const HeightRange lengths = effective_upper_lengths(m_);
        for (const double e : {lengths.low, lengths.high}) {
            worst = least_of(worst, find_least(m_.travel.low, m_.travel.high, [&](double h) -> Value {
                                 PlanarLinkage k = m_.linkage;
                                 k.upper_length = e;
                                 if (!closes_at(k, h)) return std::nullopt;
                                 return left(find_shaft_state(m_.ends, solve_kernel<double>(k, h, e)).length);
                             }));
            if (lengths.low == lengths.high) break;
        }
        return worst;
    }

    Value find_room(const PoseReport& r) const {
        return r.turns ? find_joint_room(setup_, r.tractor_angle, r.implement_angle, r.non_uniformity) : Value(-1.0);
    }
    Value see_joints(const Seen& s) const {
        if (!m_.has_shaft) return std::nullopt;
        if (s.place != SeenPlace::usual)
            return at_pose(s.place, s.height, [&](const PoseReport& r) { return find_room(r); });
        return find_least(m_.travel.low, m_.travel.high,
                          [&](double h) { return at_height(h, [&](const PoseReport& r) { return find_room(r); }); });
    }

    /// Something of the implement on the floor, wheels too: with the hitch up nothing may be.
    Value see_lowest(const Seen& s) const {
        return at_pose(s.place == SeenPlace::usual ? SeenPlace::raised : s.place, s.height, [&](const PoseReport& r) {
            Value least;
            for (const ImplementPoint& p : setup_.implement.points)
                least = least_of(least, find_underside(r, p.x.value, p.z.value, 0.0));
            for (const GroundContact& c : setup_.implement.ground_contacts)
                least = least_of(least, find_underside(r, c.x.value, c.z.value, c.radius.value_or(0.0)));
            return least;
        });
    }

    Value see_deck() const {
        if (!m_.has_shaft) return std::nullopt;
        Value worst;
        Clearance like;
        like.kind = ClearanceKind::guard_to_deck_edge;
        const HeightRange lengths = effective_upper_lengths(m_);
        for (const ImplementPoint& p : setup_.implement.points) {
            if (!p.deck_edge) continue;
            like.part = p.name;
            const PairRooms room(setup_, m_, std::span(&like, 1));
            for (const double e : {lengths.low, lengths.high}) {
                const auto at = [&](double h) { return room.find_at(0, {{h, h}, {e, e}}); };
                worst = least_of(worst, find_least(m_.travel.low, m_.travel.high, at));
                if (lengths.low == lengths.high) break;
            }
        }
        return worst;
    }

    /// Thread left with the link set for the working attitude: to lengthen it, or to shorten it.
    Value see_reach(bool lengthen) const {
        const UpperLinkReadings& u = setup_.tractor.upper_link;
        const Reading& end = lengthen ? u.length_most : u.length_least;
        if (!end.known || !m_.has_working_height) return std::nullopt;
        const WantedLength w = solve_upper_link_length(find_linkage_to_strap(m_), m_.working_height, m_.working_pitch);
        if (!w.closure.closes()) return std::nullopt;
        return lengthen ? end.value - w.length : w.length - end.value;
    }

    /// What is lifted beyond the implement's mass, as a share of it: where it is least, or at a place.
    Value see_lift(const Seen& s) const {
        const LiftStudy study = study_lift_alone(setup_, m_);
        if (!study.mass_known || study.strap_held || study.point == LoadPoint::behind_610 || study.pieces.empty()) return std::nullopt;
        if (s.place == SeenPlace::usual) return study.least_capacity ? Value(study.least_capacity->value / study.mass - 1.0) : std::nullopt;
        const Value h = find_place(s.place, s.height);
        if (!h) return std::nullopt;
        const LiftRow row = find_lift_row(study, m_, *h);
        return row.capacity ? Value(*row.capacity / study.mass - 1.0) : std::nullopt;
    }

    const Setup& setup_;
    const MountedModel& m_;
    const Floor& floor_;
};

}  // namespace

Value see_mounted(const TraceMachine& machine, const MountedModel& model, const Floor& floor, const Seen& seen) {
    return MountedEye(machine, model, floor).see(seen);
}

}  // namespace hitchwright::trace_eyes
