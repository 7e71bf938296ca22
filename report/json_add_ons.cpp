// Add-on parts and the floating link as JSON; see json_parts.h.
#include <optional>

#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/part_effect_text.h"

namespace hitchwright {
namespace {

JsonObject& add_optional(JsonObject& o, std::string_view key, const std::optional<double>& value, double per_si) {
    return value ? o.number(key, *value * per_si) : o.add(key, JsonValue());
}

JsonValue make_band_json(const std::optional<PitchBand>& band) {
    if (!band || !band->closure.closes()) return {};
    return JsonObject().angle("pitch_low", band->low).angle("pitch_high", band->high).build();
}

JsonValue make_stand_json(const FloatOnGround& on) {
    JsonObject o;
    o.add("state", float_state_word(on.pose.state));
    if (on.pose.state == FloatState::no_pitch) return o.add("pitch_deg", {}).add("left_to_stretch_mm", {}).add("left_to_close_mm", {}).build();
    return o.angle("pitch", on.pose.pitch).length("left_to_stretch", on.left_to_stretch).length("left_to_close", on.left_to_close).build();
}

JsonValue make_ground_following_json(const GroundFollowing& g) {
    const double degrees = find_edge_unit(Dimension::angle).per_si;
    JsonObject o;
    o.angle("hump_angle", g.hump_angle).add("hump_typed", g.hump_typed);
    o.angle("hollow_angle", g.hollow_angle).add("hollow_typed", g.hollow_typed);
    o.add("hump", make_stand_json(g.hump)).add("level", make_stand_json(g.level)).add("hollow", make_stand_json(g.hollow));
    add_optional(o, "falls_to_deg", g.falls_to, degrees);
    add_optional(o, "rises_to_deg", g.rises_to, degrees);
    o.length("slack_needed", g.slack_needed);
    return add_optional(o, "length_to_set_mm", g.length_to_set, 1e3).build();
}

JsonValue make_part_shaft_json(const ShaftFigures& s) {
    JsonObject o;
    o.length("shortest", s.shortest).length("longest", s.longest);
    add_optional(o, "gap_at_shortest_mm", s.gap, 1e3);
    add_optional(o, "overlap_at_longest_mm", s.overlap, 1e3);
    return o.angle("joint_angle_in_work", s.angle_in_work).angle("joint_angle_over_travel", s.angle_over_travel).build();
}

}  // namespace

JsonValue make_part_figures_json(const PartFigures& f) {
    JsonObject o;
    o.add("verdict", verdict_word(f.verdict));
    add_optional(o, "upper_link_length_mm", f.upper_link_length, 1e3);
    add_optional(o, "ball_height_at_top_mm", f.height_at_top, 1e3);
    add_optional(o, "pitch_at_top_deg", f.pitch_at_top, find_edge_unit(Dimension::angle).per_si);
    return o.number("lift_share", f.lift_share).add("shaft", f.shaft ? make_part_shaft_json(*f.shaft) : JsonValue()).build();
}

JsonValue make_part_effects_json(const Analysis& analysis) {
    JsonArray list;
    for (const PartEffect& e : analysis.part_effects) {
        list.push_back(JsonObject()
                           .add("part", part_word(e.part))
                           .add("name", e.name)
                           .add("with", make_part_figures_json(e.with))
                           .add("without", make_part_figures_json(e.without))
                           .build());
    }
    return list;
}

JsonValue make_floating_json(const Analysis& analysis) {
    if (!analysis.floating) return {};
    const FloatStudy& f = *analysis.floating;
    JsonArray edges;
    for (const DeckEdgeFloat& e : f.deck_edges) {
        edges.push_back(JsonObject()
                            .add("part", e.part)
                            .add("least", make_extreme_json(e.least, Dimension::length))
                            .length("at_longest", e.at_longest)
                            .length("at_shortest", e.at_shortest)
                            .build());
    }
    JsonObject o;
    o.add("at_lowest", make_band_json(f.at_low)).add("at_working", make_band_json(f.at_working));
    o.add("at_highest", make_band_json(f.at_high)).add("strap_without_stops", f.strap_without_stops);
    o.add("ground", f.ground ? make_ground_following_json(*f.ground) : JsonValue());
    return o.add("deck_edges", std::move(edges)).build();
}

}  // namespace hitchwright
