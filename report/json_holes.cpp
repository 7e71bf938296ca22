// The hole study as JSON; see json_parts.h.
#include "report/cut_report.h"
#include "report/edge_units.h"
#include "report/hole_words.h"
#include "report/json_parts.h"

namespace hitchwright {
namespace {

JsonObject& add_optional(JsonObject& o, std::string_view key, const std::optional<double>& value, double per_si = 1.0) {
    return value ? o.number(key, *value * per_si) : o.add(key, JsonValue());
}
std::optional<double> when(bool there, double value) { return there ? std::optional(value) : std::nullopt; }
JsonObject& add_angle(JsonObject& o, std::string_view key, const std::optional<double>& radians) {
    return add_optional(o, key, radians, find_edge_unit(Dimension::angle).per_si);
}

JsonValue make_point_json(const std::optional<RaisedPoint>& p) {
    if (!p) return {};
    return JsonObject().add("name", p->name).length("height", p->height).build();
}

std::string_view load_point_word(LoadPoint point) {
    switch (point) {
        case LoadPoint::centre_of_gravity:
            return "centre_of_gravity";
        case LoadPoint::centre_of_gravity_height_unknown:
            return "centre_of_gravity_height_unknown";
        case LoadPoint::behind_610:
            return "behind_610";
    }
    return "behind_610";
}

JsonValue make_lift_json(const LiftRatio& lift) {
    JsonObject o;
    o.add("load", load_point_word(lift.point)).length("load_x", lift.at.x()).length("load_z", lift.at.y());
    if (!lift.known) {
        o.unknown("least_ratio", "the travel comes too near a dead centre, or the lower link stands upright");
        return o.add("rise_most", JsonValue()).add("rise_least", JsonValue()).add("load_rises", JsonValue()).build();
    }
    if (lift.worst()) o.number("least_ratio", *lift.worst());
    else o.unknown("least_ratio", "the load does not rise here");
    o.add("rise_most", make_extreme_json(lift.rise_most, Dimension::ratio));
    o.add("rise_least", make_extreme_json(lift.rise_least, Dimension::ratio));
    return o.add("load_rises", !lift.load_stops()).build();
}

JsonValue make_room_json(const DeadCentreRoom& r) {
    JsonObject o;
    o.angle("angle", r.angle).length("ball_height", r.height);
    o.add("kind", r.nearer == DeadCentreKind::stretched ? "stretched" : "folded");
    add_optional(o, "nearest_outside_mm", r.beyond, 1e3);
    return add_optional(o, "nearest_outside_by_mm", r.beyond ? std::optional(r.beyond_by) : std::nullopt, 1e3).build();
}

std::string_view joint_word(JointEnd joint) { return joint == JointEnd::tractor ? "tractor" : "implement"; }

JsonValue make_hole_shaft_json(const HoleShaft& s, const HoleResult& r) {
    JsonObject o;
    o.add("shortest", make_extreme_json(s.shortest, Dimension::length));
    o.add("longest", make_extreme_json(s.longest, Dimension::length));
    o.add("angle_in_work", make_extreme_json(s.work_angle, Dimension::angle)).add("joint_in_work", joint_word(s.work_joint));
    o.add("angle_over_travel", make_extreme_json(s.travel_angle, Dimension::angle)).add("joint_over_travel", joint_word(s.travel_joint));
    o.add("work_heights", make_heights_json(r.work_heights)).add("pto_heights", make_heights_json(r.pto_heights));
    if (!s.has_plan) {
        o.add("gap_mm", JsonValue()).add("overlap_mm", JsonValue()).add("cut_answer", JsonValue());
        return o.add("cut_tractor_half_mm", JsonValue()).add("cut_implement_half_mm", JsonValue()).build();
    }
    o.length("gap", s.plan.uncut.gap).length("overlap", s.plan.uncut.overlap).add("cut_answer", cut_answer_word(s.plan.answer));
    const bool works = s.plan.answer != CutAnswer::no_cut_works;
    add_optional(o, "cut_tractor_half_mm", works ? std::optional(s.plan.recommended.a) : std::nullopt, 1e3);
    return add_optional(o, "cut_implement_half_mm", works ? std::optional(s.plan.recommended.b) : std::nullopt, 1e3).build();
}

JsonValue make_hole_link_json(const HoleNumbers& n) {
    JsonObject o;
    o.length("length", n.upper_length).add("length_from", n.for_working_attitude ? "working_pitch" : "typed");
    add_optional(o, "turns", n.turns);
    o.add("reaches", n.reach ? JsonValue(n.reach->within) : JsonValue());
    add_optional(o, "thread_left_to_shorten_mm", n.reach ? std::optional(n.reach->thread_left_to_shorten) : std::nullopt, 1e3);
    return add_optional(o, "thread_left_to_lengthen_mm", n.reach ? std::optional(n.reach->thread_left_to_lengthen) : std::nullopt, 1e3).build();
}

JsonValue make_numbers_json(const HoleResult& r) {
    const HoleNumbers& n = r.numbers;
    JsonObject o;
    o.add("travel", make_range_json(n.travel)).add("whole_travel", n.whole_travel).add("upper_link", make_hole_link_json(n));
    add_optional(o, "lift_share_low", when(n.rod_lift_share.low > 0.0, n.rod_lift_share.low));
    add_optional(o, "lift_share_top", when(n.rod_lift_share.high > 0.0, n.rod_lift_share.high));
    o.angle("pitch_low", n.pitch_low);
    add_angle(o, "pitch_working_deg", n.pitch_working);
    o.angle("pitch_top", n.pitch_top);
    add_angle(o, "transport_pitch_deg", n.transport_pitch);
    add_optional(o, "transport_height_mm", n.transport_height > 0.0 ? std::optional(n.transport_height) : std::nullopt, 1e3);
    add_optional(o, "inverse_hitch_distance_per_m", n.inverse_hitch_distance);
    o.add("tail_at_top", make_point_json(n.tail)).add("lowest_at_top", make_point_json(n.lowest));
    o.add("lift", make_lift_json(n.lift)).add("dead_centre", make_room_json(n.dead_centre));
    o.add("shaft", n.shaft ? make_hole_shaft_json(*n.shaft, r) : JsonValue());
    return o.add("evaluations", n.evaluations).build();
}

JsonArray make_text_list(const std::vector<std::string>& texts) { return {texts.begin(), texts.end()}; }

/// What speaks for it and against it beside the first choice; of the first choice beside the next.
void add_reasons(JsonObject& o, const HoleStudy& study, std::size_t index, const SafeWords& words) {
    const std::size_t other = index > 0 ? 0 : 1;
    HoleReasons reasons;
    if (other < study.results.size()) {
        reasons = list_hole_reasons(study.results[index], study.results[other], study.judged_by, words);
    }
    o.add("better", make_text_list(reasons.better)).add("worse", make_text_list(reasons.worse));
}

}  // namespace

JsonValue make_hole_json(const Setup& setup, const HoleStudy& study, std::size_t index, UnitSystem units) {
    const HoleResult& r = study.results[index];
    const Setup chosen = find_hole_setup(setup, r);
    const FindingContext context = make_finding_context(chosen, r.analysis, units);
    JsonArray findings;
    for (const Finding& f : r.analysis.findings) findings.push_back(make_finding_json(f, context));
    JsonObject o;
    o.add("place", static_cast<int>(r.place)).add("tractor_hole", r.numbers.tractor_pin).add("mast_hole", r.numbers.mast_pin);
    o.add("lift_rod_hole", r.numbers.rod_hole.empty() ? JsonValue() : JsonValue(r.numbers.rod_hole));
    o.add("present", r.numbers.is_present).add("verdict", verdict_word(r.analysis.verdict));
    o.add("standing", hole_standing_word(r.standing)).add("changes", r.changes).add("conditions", r.conditions);
    o.add("decided_by", r.place == study.results.front().place ? JsonValue() : JsonValue(hole_measure_word(r.decided_by)));
    add_optional(o, "points", find_hole_measure(r, HoleMeasure::points));
    add_reasons(o, study, index, SafeWords{units});
    o.add("why", r.standing < HoleStanding::not_decided ? say_why_behind(setup, study, r, units) : say_obstacles(setup, r, units, 2));
    if (r.numbers.has_numbers) o.add("numbers", make_numbers_json(r));
    else o.unknown("numbers", "a reading is missing or the linkage does not close: see findings");
    return o.add("findings", std::move(findings)).build();
}

}  // namespace hitchwright
