// What is seen of a drawn machine; see trace_machine.h.
#include <functional>

#include "geometry/drawn_extremes.h"
#include "geometry/trace_eyes.h"
#include "geometry/turn_limits.h"

namespace hitchwright::trace_eyes {
namespace {

class DrawnEye {
public:
    DrawnEye(const TraceMachine& machine, const DrawnModel& model, const Floor& floor)
        : setup_(machine.setup), m_(model), floor_(floor) {}

    Value see(const Seen& s) const {
        switch (s.kind) {
            case SeenKind::tail_height:
            case SeenKind::front_height:
                return see_spot(s.kind == SeenKind::tail_height);
            case SeenKind::pitch:
                return m_.level_pitch - floor_.slope;
            case SeenKind::drawbar_length:
                return m_.drawbar_length;
            case SeenKind::shaft_distance:
                return m_.has_shaft ? Value(find_state(m_.level_pitch, 0.0).shaft.length) : std::nullopt;
            case SeenKind::gap:
            case SeenKind::knocks:
                return see_length(s, [&](double length) { return find_gap(m_.halves, length); });
            case SeenKind::overlap:
            case SeenKind::comes_apart:
                return see_length(s, [&](double length) { return find_overlap(m_.halves, length); });
            case SeenKind::chatters:
                return see_joints(s);
            case SeenKind::tyre_meets_tongue:
                return see_tyre();
            case SeenKind::reading:
                return find_reading(setup_, s.key);
            default:
                return std::nullopt;
        }
    }

private:
    DrawnState<double> find_state(double pitch, double yaw) const {
        return find_drawn_state(m_, Attitude{pitch, 0.0, yaw});
    }

    Value see_spot(bool tail) const {
        const std::optional<Spot> spot = find_spot(setup_.implement, tail);
        if (!spot) return std::nullopt;
        const double c = std::cos(m_.level_pitch), s = std::sin(m_.level_pitch);
        const double x = m_.driveline.pin.x + c * spot->x - s * spot->z,
                     z = m_.driveline.pin.z + s * spot->x + c * spot->z;
        return floor_.height_of(x, z) - spot->radius;
    }

    Value see_length(const Seen& s, const std::function<double(double)>& left) const {
        if (!m_.has_shaft || !m_.has_halves) return std::nullopt;
        const auto at = [&](double pitch, double roll, double yaw) -> Value {
            return left(find_drawn_state(m_, Attitude{pitch, roll, yaw}).shaft.length);
        };
        const bool anywhere = is_complaint(s.kind) && s.place == SeenPlace::usual;
        if (!anywhere && s.place != SeenPlace::in_turns && s.place != SeenPlace::in_dips)
            return at(m_.level_pitch, 0.0, 0.0);
        const AttitudeBox& b = m_.box;
        if (s.place == SeenPlace::in_turns)
            return find_least(b.yaw.low, b.yaw.high, [&](double yaw) { return at(m_.level_pitch, 0.0, yaw); });
        Value worst;
        for (const double roll : {b.roll.low, 0.0, b.roll.high}) {
            if (s.place == SeenPlace::in_dips) {
                worst = least_of(
                    worst, find_least(b.pitch.low, b.pitch.high, [&](double pitch) { return at(pitch, roll, 0.0); }));
                continue;
            }
            worst =
                least_of(worst, find_least(b.pitch.low, b.pitch.high, [&](double pitch) {
                             return find_least(b.yaw.low, b.yaw.high, [&](double yaw) { return at(pitch, roll, yaw); });
                         }));
        }
        return worst;
    }

    Value find_room(double yaw) const {
        const DrivelineState s = find_driveline_state(m_, Attitude{m_.level_pitch, 0.0, yaw});
        return s.turns ? find_joint_room(setup_, s.tractor_angle, s.implement_angle, s.non_uniformity) : Value(-1.0);
    }
    Value see_joints(const Seen& s) const {
        if (!m_.has_shaft) return std::nullopt;
        if (s.place != SeenPlace::in_turns) return find_room(0.0);
        return find_least(m_.box.yaw.low, m_.box.yaw.high, [&](double yaw) { return find_room(yaw); });
    }

    /// Turn at which a tyre meets the tongue, beyond the turn that is driven; the nearer side.
    Value see_tyre() const {
        const Point pin(m_.driveline.pin.x, m_.driveline.pin.y);
        const PlanShape tyres = make_tyre_shapes(setup_), bars = make_bar_shapes(setup_.implement, pin);
        if (tyres.rectangles.empty() || bars.rectangles.empty()) return std::nullopt;
        Value worst;
        for (const TurnSide side : {TurnSide::left, TurnSide::right}) {
            const double driven = side == TurnSide::right ? m_.box.yaw.high : -m_.box.yaw.low;
            const PlanContact c = find_first_contact(bars.rectangles, tyres.rectangles, pin, side, 0.0);
            worst = least_of(worst, (c.found ? c.yaw : farthest_turn) - driven);
        }
        return worst;
    }

    const Setup& setup_;
    const DrawnModel& m_;
    const Floor& floor_;
};

}  // namespace

Value see_drawn(const TraceMachine& machine, const DrawnModel& model, const Floor& floor, const Seen& seen) {
    return DrawnEye(machine, model, floor).see(seen);
}

}  // namespace hitchwright::trace_eyes
