// A cut as JSON; see json_parts.h.
#include "geometry/setup_fields.h"
#include "report/cut_report.h"
#include "report/json_parts.h"

namespace hitchwright {
namespace {

JsonValue make_pair_json(const CutPair& cut) {
    return JsonObject().length("tractor_half", cut.a).length("implement_half", cut.b).build();
}

JsonValue make_margins_json(const ShaftMargins& m) {
    return JsonObject()
        .length("closed_length", m.closed_length)
        .length("gap", m.gap)
        .length("overlap", m.overlap)
        .length("overlap_needed", m.overlap_needed)
        .add("gap_aim_reached", m.gap_aim_reached)
        .add("overlap_aim_reached", m.overlap_aim_reached)
        .build();
}

JsonValue make_optional_length(const std::optional<double>& metres) {
    return metres ? JsonValue(*metres * 1e3) : JsonValue();
}

std::string_view reference_word(LengthReference reference) {
    for (const auto& choice : field::references) {
        if (choice.value == reference) return choice.word;
    }
    return "joint_centres";
}

std::string_view source_word(TravelSource source) {
    switch (source) {
        case TravelSource::linkage: return "linkage";
        case TravelSource::typed: return "typed";
        case TravelSource::direct_readings: return "direct_readings";
        case TravelSource::articulation: return "articulation";
    }
    return "linkage";
}

JsonValue make_limits_json(const CutCase& c) {
    return JsonObject()
        .add("rule_set", c.rule_set)
        .length("gap_required", c.limits.gap_required)
        .length("gap_aimed", c.limits.gap_aimed)
        .length("overlap_least", c.limits.overlap_least)
        .number("overlap_fraction", c.limits.overlap_fraction)
        .number("overlap_fraction_aimed", c.limits.overlap_fraction_aimed)
        .build();
}

JsonValue make_shaft_halves_json(const CutCase& c) {
    return JsonObject()
        .add("reference", reference_word(c.reference))
        .length("closed_length", c.halves.closed_length)
        .length("tractor_tube", c.halves.tube_a)
        .length("implement_tube", c.halves.tube_b)
        .add("assumption", halves_assumption_word(c.assumption))
        .add("cut_before", make_pair_json(c.made_before))
        .build();
}

JsonValue make_travel_json(const CutCase& c) {
    return JsonObject()
        .length("shortest", c.travel.shortest)
        .length("longest", c.travel.longest)
        .add("source", source_word(c.source))
        .add("model", c.model.empty() ? JsonValue() : JsonValue(c.model))
        .add("ball_height_at_shortest_mm", make_optional_length(c.height_at_shortest))
        .add("ball_height_at_longest_mm", make_optional_length(c.height_at_longest))
        .build();
}

JsonValue make_equal_json(const CutPlan& p) {
    if (!p.equal_possible) return {};
    return JsonObject().length("least", p.equal_least).length("most", p.equal_most).build();
}

JsonValue make_corners_json(const CutPlan& p) {
    JsonArray list;
    for (const CutPair& corner : p.admissible) list.push_back(make_pair_json(corner));
    return list;
}

}  // namespace

JsonValue make_cut_json(const CutCase& c, UnitSystem units) {
    const CutPlan& p = c.plan;
    JsonObject o;
    o.add("answer", cut_answer_word(p.answer))
        .add("text", format_cut_answer(c, units))
        .add("halves_status", halves_status_word(p.halves_status));
    o.add("obstacle", cut_obstacle_word(p.obstacle))
        .add("shaft", make_shaft_halves_json(c))
        .add("travel", make_travel_json(c))
        .add("limits", make_limits_json(c));
    o.add("recommended", make_pair_json(p.recommended)).length("recommended_step", p.recommended_step);
    o.add("least", make_pair_json(p.least_cut)).length("least_total", p.least_total).add("equal", make_equal_json(p));
    o.add("to_aim", make_pair_json(p.to_aim))
        .add("to_aim_admissible", p.to_aim_admissible)
        .add("admissible_corners", make_corners_json(p));
    o.add("uncut", make_margins_json(p.uncut)).add("after", make_margins_json(p.after));
    o.length("closed_at_most", p.closed_at_most)
        .length("extended_at_least", p.extended_at_least)
        .length("overlap_short_by", p.overlap_short_by);
    o.add("gap_band_mm", make_optional_length(c.gap_band)).add("overlap_band_mm", make_optional_length(c.overlap_band));
    o.add("note", c.note.empty() ? JsonValue() : JsonValue(c.note));
    return o.build();
}

}  // namespace hitchwright
