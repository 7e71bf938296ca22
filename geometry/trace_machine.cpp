#include "geometry/trace_machine.h"

#include <cmath>

#include "geometry/ground_contact.h"
#include "geometry/joint_findings.h"
#include "geometry/lift_study.h"
#include "geometry/standing_tractor.h"
#include "geometry/trace_eyes.h"
#include "geometry/tractor_lift.h"
#include "geometry/visit_readings.h"

namespace hitchwright {
namespace trace_eyes {

std::optional<Floor> Floor::make(const TraceMachine& m) {
    if (m.rear_tyre == 0.0 && m.front_tyre == 0.0) return Floor{};
    const Reading &r = m.setup.tractor.tyre.rear_radius, &w = m.setup.tractor.mass.wheelbase;
    if (!r.known || !w.known) return std::nullopt;
    const double f = m.setup.tractor.tyre.front_radius.value_or(r.value);
    double slope = 0.0;
    for (int i = 0; i < 8; ++i) {
        const double sine = (f + m.front_tyre - r.value - m.rear_tyre - (f - r.value) * std::cos(slope)) / w.value;
        if (!(std::fabs(sine) < 0.5)) return std::nullopt;
        slope = std::asin(sine);
    }
    return Floor{slope, r.value - (r.value + m.rear_tyre) / std::cos(slope)};
}

std::optional<Spot> find_spot(const Implement& implement, bool tail) {
    std::optional<Spot> found;
    bool edge = false;
    for (const ImplementPoint& p : implement.points) {
        if (!p.x.known || !p.z.known) continue;
        const bool better = !found || (tail                  ? p.x.value > found->x
                                       : p.deck_edge != edge ? p.deck_edge
                                                             : p.x.value < found->x);
        if (!better) continue;
        found = Spot{p.x.value, p.z.value, 0.0};
        edge = p.deck_edge;
    }
    if (!tail) return found;
    for (const GroundContact& c : implement.ground_contacts) {
        if (c.x.known && c.z.known && (!found || c.x.value > found->x))
            found = Spot{c.x.value, c.z.value, c.radius.value_or(0.0)};
    }
    return found;
}

Value find_reading(const Setup& setup, const std::string& key) {
    Setup copy = setup;
    Value found;
    visit_readings(copy, [&](const std::string& k, const Reading& r, const FieldSpec&) {
        if (k == key && r.known) found = r.value;
    });
    return found;
}

Value find_joint_room(const Setup& s, double tractor, double implement, double non_uniformity) {
    Value room;
    const auto take = [&](const LimitView& limit, double value) {
        if (limit.set && limit.value > 0.0) room = least_of(room, (limit.value - value) / limit.value);
    };
    take(find_joint_limits(s, JointEnd::tractor).free, tractor);
    take(find_joint_limits(s, JointEnd::implement).free, implement);
    take(s.rules.non_uniformity, non_uniformity);
    return room;
}

}  // namespace trace_eyes

namespace {

using trace_eyes::Floor;
using trace_eyes::Value;

/// The level attitude on a floor that slopes in frame T.
void lay_on_floor(const Setup& s, const Floor& floor, DrawnModel& m) {
    if (m.level_source != LevelPitchSource::wheels) {
        m.level_pitch += floor.slope;
        return;
    }
    std::vector<Contact> contacts;
    for (const GroundContact& c : s.implement.ground_contacts)
        contacts.push_back({Point(c.x.value, c.z.value), c.radius.value_or(0.0)});
    const GroundLine ground{Point(0.0, floor.at_axle), floor.slope};
    const GroundRest rest = solve_ground_rest(Point(m.driveline.pin.x, m.driveline.pin.z), contacts, ground);
    if (rest.state == GroundState::rests) m.level_pitch = rest.pitch;
}

/// Ends of the travel as the lift arm leaves them after its rod was changed; false: it cannot be carried over.
bool carry_travel(const TraceMachine& machine, Setup& s) {
    Tractor before = machine.setup.tractor, after = before;
    before.lift_rod = *machine.taped_rod;
    const RodHoles holes = find_rod_holes(machine.setup);
    if (holes.status == RodHoles::Status::ok) {
        before = put_rod_in_hole(before, holes.taped);
        after = put_rod_in_hole(after, holes.taped);
    }
    if (!has_lift_linkage(before)) return false;
    const double length = before.lower_link.length.value;
    const TractorLift from = make_tractor_lift(before, length), to = make_tractor_lift(after, length);
    if (!from.closure.closes() || !to.closure.closes()) return false;
    for (Reading* r : {&s.tractor.travel.ball_height_low, &s.tractor.travel.ball_height_high}) {
        if (!r->known) continue;
        const CarriedHeight c = carry_height(from.linkage, to.linkage, r->value);
        if (!c.closure.closes()) return false;
        r->value = c.height;
    }
    return true;
}

/// A level floor moves nothing; a floating link that rests on the ground is not laid on a sloping one.
bool rests_on_ground(const Setup& s) {
    return s.implement.upper_link_float.kind != UpperLinkKind::rigid && !s.implement.ground_contacts.empty();
}

}  // namespace

TraceMachine make_believed_machine(const Setup& setup) {
    TraceMachine machine{setup, 0.0, 0.0, std::nullopt};
    if (setup.implement.attachment == Attachment::drawn || setup.choices.upper_link_length.known) return machine;
    const MountedModelResult r = make_mounted_model(setup, nullptr, RangeSearch::at_a_few_heights);
    if (r.linkage_ok)
        machine.setup.choices.upper_link_length =
            make_reading(r.model.linkage.upper_length, Origin::computed, field::pin_error);
    return machine;
}

std::vector<std::optional<double>> predict_seen(const TraceMachine& as_read, std::span<const Seen> seen) {
    std::vector<Value> out(seen.size());
    std::optional<TraceMachine> moved;
    if (find_tyre_change(as_read.setup).moved()) {
        moved = as_read;
        moved->setup = stand_on_tyres(as_read.setup);
    }
    const TraceMachine& machine = moved ? *moved : as_read;
    const std::optional<Floor> floor = Floor::make(machine);
    if (!floor) return out;
    const auto look = [&](const auto& eye) {
        for (std::size_t i = 0; i < seen.size(); ++i) out[i] = eye(seen[i]);
        for (Value& v : out) {
            if (v && !std::isfinite(*v)) v.reset();
        }
    };
    if (machine.setup.implement.attachment == Attachment::drawn) {
        DrawnModelResult r = make_drawn_model(machine.setup);
        if (!r.hitch_ok) return out;
        if (!floor->is_level()) lay_on_floor(machine.setup, *floor, r.model);
        look([&](const Seen& s) { return trace_eyes::see_drawn(machine, r.model, *floor, s); });
        return out;
    }
    if (!floor->is_level() && rests_on_ground(machine.setup)) return out;
    Setup carried;
    const bool other_rod = machine.taped_rod.has_value();
    if (other_rod) {
        carried = machine.setup;
        if (!carry_travel(machine, carried)) return out;
    }
    const MountedModelResult r = make_mounted_model(other_rod ? carried : machine.setup, nullptr, RangeSearch::at_a_few_heights);
    if (r.linkage_ok) look([&](const Seen& s) { return trace_eyes::see_mounted(machine, r.model, *floor, s); });
    return out;
}

std::string find_seen_obstacle(const TraceMachine& machine, const Seen& seen) {
    if (predict_seen(machine, {&seen, 1}).front()) return {};
    const bool drawn = machine.setup.implement.attachment == Attachment::drawn;
    switch (seen.kind) {
        case SeenKind::will_not_lift: {
            if (drawn) return "a drawn implement is not lifted";
            const MountedModelResult r = make_mounted_model(machine.setup, nullptr, RangeSearch::at_a_few_heights);
            if (!r.linkage_ok) break;
            const LiftStudy study = study_lift_alone(machine.setup, r.model);
            return study.missing.empty() ? "the load does not rise everywhere" : study.missing.front();
        }
        case SeenKind::stated:
            return "no line of a specification list holds these words";
        case SeenKind::drawbar_length:
        case SeenKind::tyre_meets_tongue:
            if (!drawn) return "a mounted implement does not hang on the drawbar";
            break;
        case SeenKind::ball_height:
        case SeenKind::tail_drags:
        case SeenKind::deck_touches:
        case SeenKind::link_too_short:
        case SeenKind::link_too_long:
        case SeenKind::link_out_of_reach:
            if (drawn) return "a drawn implement is not lifted";
            break;
        default:
            break;
    }
    if (drawn) {
        const DrawnModelResult r = make_drawn_model(machine.setup);
        for (const auto* list : {&r.hitch_obstacles, &r.shaft_obstacles})
            if (!list->empty() && (list == &r.hitch_obstacles || seen.kind != SeenKind::tail_height))
                return list->front().key;
    } else {
        const MountedModelResult r = make_mounted_model(machine.setup, nullptr, RangeSearch::at_a_few_heights);
        for (const auto* list : {&r.linkage_obstacles, &r.shaft_obstacles})
            if (!list->empty()) return list->front().key.empty() ? "the linkage does not close" : list->front().key;
    }
    if (seen.kind == SeenKind::tail_height || seen.kind == SeenKind::front_height || seen.kind == SeenKind::tail_drags)
        return "implement.point";
    if (seen.kind == SeenKind::deck_touches) return "driveline.guard.radius, or a point with deck_edge = true";
    if (seen.kind == SeenKind::tyre_meets_tongue)
        return "tractor.tyre.rear_track, tractor.tyre.rear_width or implement.tongue_bar";
    if (seen.kind == SeenKind::reading) return "no known reading has this key";
    if (seen_dimension(seen.kind) == Dimension::length && seen.place == SeenPlace::at_height)
        return "the linkage has no position at this height";
    return "a reading this needs is not known";
}

}  // namespace hitchwright
