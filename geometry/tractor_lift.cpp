// See tractor_lift.h.
#include "geometry/tractor_lift.h"

#include <algorithm>
#include <cmath>

#include "geometry/lower_link.h"
#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

/// Both ways between ball and arm agree better than this (m), but beyond the line of arm and rod.
constexpr double same_height = 1e-6;

std::optional<std::size_t> find_hole(const std::vector<LiftRodHole>& holes, const std::string& name) {
    const auto found = std::find_if(holes.begin(), holes.end(), [&](const LiftRodHole& h) { return h.name == name; });
    if (name.empty() || found == holes.end()) return std::nullopt;
    return static_cast<std::size_t>(found - holes.begin());
}

}  // namespace

RodHoles find_rod_holes(const Setup& s) {
    const std::vector<LiftRodHole>& list = s.tractor.lift_rod_holes;
    RodHoles holes;
    if (list.empty()) return holes;
    const std::optional<std::size_t> taped = find_hole(list, s.tractor.travel.lift_rod_hole);
    const std::string& name = s.choices.lift_rod_hole;
    std::optional<std::size_t> chosen = find_hole(list, name);
    if (!chosen && !name.empty()) {
        holes.status = RodHoles::Status::no_such_hole;
        return holes;
    }
    if (!chosen) chosen = taped;
    if (!chosen && list.size() == 1) chosen = 0;
    holes.status = chosen ? RodHoles::Status::ok : RodHoles::Status::not_chosen;
    holes.chosen = chosen.value_or(0);
    holes.taped = taped.value_or(holes.chosen);
    return holes;
}

Tractor put_rod_in_hole(Tractor t, std::size_t hole) {
    t.lift_rod.pin_along_link = t.lift_rod_holes[hole].pin_along_link;
    return t;
}

ResolvedTractor resolve_tractor(const Setup& s, const RodHoles& holes, const PinDecision* decided) {
    // While no hole is settled no number is given, but what else is missing can be said: any hole does for that.
    const bool listed = holes.status != RodHoles::Status::none_listed;
    ResolvedTractor r;
    r.as_taped = listed ? put_rod_in_hole(s.tractor, holes.taped) : s.tractor;
    if (!s.tractor.ball_readings.empty()) {
        const HiddenPins pins = find_hidden_pins(r.as_taped, decided);
        r.as_taped = apply_hidden_pins(r.as_taped, pins);
        r.decision = pins.decision;
    }
    if (const TyreChange tyres = find_tyre_change(s); tyres.moved()) r.as_taped = move_tractor(r.as_taped, tyres, r.as_taped);
    r.as_set = holes.moved() ? put_rod_in_hole(r.as_taped, holes.chosen) : r.as_taped;
    return r;
}

bool has_lift_linkage(const Tractor& t) {
    const LiftArmReadings& a = t.lift_arm;
    const LiftRodReadings& r = t.lift_rod;
    return a.pivot_x.known && a.pivot_z.known && a.length.known && a.half_spread.known && r.length.known && r.pin_along_link.known;
}

TractorLift make_tractor_lift(const Tractor& t, double link_length) {
    const LowerLinkReadings& l = t.lower_link;
    const ProjectedLength lower =
        project_length(LinkagePart::lower_link, link_length, l.half_spread_at_ball.value - l.half_spread_at_pivot.value);
    if (!lower.closure.closes()) return {lower.closure, {}};
    const ProjectedRodPin pin =
        project_rod_pin({link_length, l.half_spread_at_pivot.value, l.half_spread_at_ball.value,
                         t.lift_rod.pin_along_link.value, t.lift_rod.pin_off_link.value_or(0.0)});
    if (!pin.closure.closes()) return {pin.closure, {}};
    const ProjectedLength rod = project_lift_rod(t.lift_rod.length.value, t.lift_arm.half_spread.value, pin.half_spread);
    if (!rod.closure.closes()) return {rod.closure, {}};
    LiftLinkage lift;
    lift.arm_pivot = Point(t.lift_arm.pivot_x.value, t.lift_arm.pivot_z.value);
    lift.arm_length = t.lift_arm.length.value;
    lift.rod_length = rod.length;
    lift.lower_pivot = Point(l.pivot_x.value, l.pivot_z.value);
    lift.lower_length = lower.length;
    lift.rod_pin_along = pin.along;
    lift.rod_pin_offset = pin.offset;
    return {{}, lift};
}

CarriedHeight carry_height(const LiftLinkage& from, const LiftLinkage& to, double height) {
    const LiftPose taped = solve_lift_from_ball(from, height);
    if (!taped.closure.closes()) return {taped.closure};
    const LiftPose back = solve_lift_from_arm(from, taped.arm_angle);
    const Closure beyond{LinkagePart::lift_rod, Misfit::undefined, 0.0};
    if (!back.closure.closes() || std::fabs(back.ball_height - height) > same_height) return {beyond};
    const LiftPose moved = solve_lift_from_arm(to, taped.arm_angle);
    if (!moved.closure.closes()) return {moved.closure};
    const std::optional<double> before = find_arm_rate(from, taped), after = find_arm_rate(to, moved);
    if (!before || !after) return {beyond};
    return {{}, moved.ball_height, *after / *before};
}

}  // namespace hitchwright
