// Linkage, shaft, clearances and positions as JSON; see json_parts.h.
#include <fmt/format.h>

#include <optional>

#include "geometry/setup_fields.h"
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

JsonObject& add_optional(JsonObject& o, std::string_view key, const std::optional<double>& value, double per_si = 1.0) {
    return value ? o.number(key, *value * per_si) : o.add(key, JsonValue());
}

std::string_view upper_link_kind_word(UpperLinkKind kind) {
    for (const auto& choice : field::upper_link_kinds) {
        if (choice.value == kind) return choice.word;
    }
    return "rigid";
}

std::string_view clearance_kind_word(ClearanceKind kind) {
    switch (kind) {
        case ClearanceKind::guard_to_deck_edge:
            return "guard_to_deck_edge";
        case ClearanceKind::guard_to_drawbar:
            return "guard_to_drawbar";
        case ClearanceKind::point_to_tyre:
            return "point_to_tyre";
        case ClearanceKind::point_to_cab:
            return "point_to_cab";
        case ClearanceKind::point_to_upper_link:
            return "point_to_upper_link";
    }
    return "point_to_upper_link";
}

std::string_view bound_word(const TravelEnd& end, bool stop, std::string_view stop_word) {
    if (stop) return stop_word;
    return end.bound == TravelBound::typed ? "typed" : "lift_arm";
}

JsonValue make_travel_json(const MountedModel& m) {
    return JsonObject()
        .length("low", m.travel.low)
        .length("high", m.travel.high)
        .add("low_by", bound_word(m.travel_bounds.low, m.lower_stop_binds, "lower_stop"))
        .add("high_by", bound_word(m.travel_bounds.high, m.lift_stop_binds, "lift_stop"))
        .build();
}

JsonValue make_upper_link_json(const Setup& s, const LinkageAnalysis& l) {
    const MountedModel& m = l.model;
    JsonObject o;
    o.add("tractor_pin", m.tractor_pin < s.tractor.upper_link_pins.size()
                             ? s.tractor.upper_link_pins[m.tractor_pin].name
                             : std::string());
    o.add("mast_pin",
          m.mast_pin < s.implement.mast_pins.size() ? s.implement.mast_pins[m.mast_pin].name : std::string());
    o.add("lift_rod_hole", m.rod_hole.empty() ? JsonValue() : JsonValue(m.rod_hole));
    o.length("length", m.linkage.upper_length);
    o.add("length_from", m.upper_link_source == UpperLinkSource::typed ? "typed" : "working_pitch");
    o.add("kind", upper_link_kind_word(m.float_kind)).length("slack", m.slack);
    add_optional(o, "turns", l.turns);
    add_optional(o, "pitch_per_turn_deg", l.pitch_per_turn, find_edge_unit(Dimension::angle).per_si);
    std::optional<double> shorten, lengthen;
    if (l.reach) shorten = l.reach->thread_left_to_shorten, lengthen = l.reach->thread_left_to_lengthen;
    o.add("reaches", l.reach ? JsonValue(l.reach->within) : JsonValue());
    add_optional(o, "thread_left_to_shorten_mm", shorten, 1e3);
    add_optional(o, "thread_left_to_lengthen_mm", lengthen, 1e3);
    return o.build();
}

JsonValue make_dead_centres_json(const std::vector<DeadCentre>& dead_centres) {
    JsonArray list;
    for (const DeadCentre& d : dead_centres) {
        list.push_back(JsonObject()
                           .length("ball_height", d.height)
                           .add("kind", d.kind == DeadCentreKind::stretched ? "stretched" : "folded")
                           .build());
    }
    return list;
}

JsonValue make_transport_json(const LinkageAnalysis& l) {
    if (l.transport_height <= 0.0 || !l.transport.closure.closes() || l.transport.past_dead_centre) return {};
    return JsonObject()
        .length("ball_height", l.transport_height)
        .add("height_grade", grade_letter(l.transport_grade))
        .angle("pitch", l.transport.pitch)
        .length("upper_link_length", l.transport.upper_length)
        .build();
}

JsonValue make_float_json(const LinkageAnalysis& l) {
    if (!l.working_band_of_pitch || !l.working_band_of_pitch->closure.closes()) return {};
    JsonObject o;
    o.angle("pitch_low", l.working_band_of_pitch->low).angle("pitch_high", l.working_band_of_pitch->high);
    o.add("state", l.working_float ? JsonValue(float_state_word(l.working_float->state)) : JsonValue());
    std::optional<double> hollow, hump;
    if (l.working_float) hollow = l.working_float->hollow_left, hump = l.working_float->hump_left;
    add_optional(o, "hollow_left_mm", hollow, 1e3);
    add_optional(o, "hump_left_mm", hump, 1e3);
    return o.build();
}

JsonValue make_shaft_extremes_json(const ShaftExtremes& e) {
    JsonObject o;
    o.add("shortest", make_extreme_json(e.shortest, Dimension::length))
        .add("longest", make_extreme_json(e.longest, Dimension::length))
        .add("tractor_joint_angle", make_extreme_json(e.tractor_angle, Dimension::angle))
        .add("implement_joint_angle", make_extreme_json(e.implement_angle, Dimension::angle));
    if (e.turns)
        o.add("non_uniformity", make_extreme_json(e.non_uniformity, Dimension::ratio));
    else
        o.unknown("non_uniformity", "a joint reaches 90 deg and cannot turn there");
    return o.build();
}

JsonValue make_joint_heights_json(const std::vector<HeightRange>& free, const std::vector<HeightRange>& on,
                                  const std::vector<HeightRange>& reach) {
    return JsonObject()
        .add("work", make_heights_json(free))
        .add("pto_on", make_heights_json(on))
        .add("reachable", make_heights_json(reach))
        .build();
}

JsonValue make_guard_json(const ShaftAnalysis& s) {
    if (!s.has_guard || s.guard.status != HalvesStatus::ok) return {};
    return JsonObject()
        .add("bottom_before_steel", s.guard.bottom_before_steel)
        .length("gap_at_shortest", s.guard.gap_at_shortest)
        .length("overlap_at_longest", s.guard.overlap_at_longest)
        .build();
}

}  // namespace

JsonValue make_extreme_json(const TravelExtreme& e, Dimension dimension) {
    JsonObject o;
    const EdgeUnit unit = find_edge_unit(dimension);
    const bool plain = dimension == Dimension::ratio;
    o.number(plain ? "value" : fmt::format("value_{}", unit.name), e.value * unit.per_si);
    o.number(plain ? "bound" : fmt::format("bound_{}", unit.name), e.bound * unit.per_si);
    return o.length("ball_height", e.height)
        .length("upper_link_length", e.upper_length)
        .add("converged", e.converged)
        .build();
}

JsonValue make_pose_json(const PoseReport& p, const SweepContents& contents) {
    if (!p.pose.closes) return {};
    JsonObject o;
    o.length("ball_height", p.pose.ball_height)
        .angle("pitch", p.pose.pitch)
        .angle("upper_link_angle", p.pose.upper_link_angle)
        .angle("lower_link_angle", p.pose.lower_link_angle)
        .length("upper_link_length", p.upper_length);
    add_optional(o, "inverse_hitch_distance_per_m", p.inverse_hitch_distance);
    const auto when = [&](bool there, std::string_view key, double value) {
        there ? o.number(key, value) : o.add(key, JsonValue());
    };
    const double degrees = find_edge_unit(Dimension::angle).per_si;
    when(contents.shaft, "shaft_length_mm", p.shaft_length * 1e3);
    when(contents.halves, "gap_mm", p.gap * 1e3);
    when(contents.halves, "overlap_mm", p.overlap * 1e3);
    when(contents.shaft, "tractor_joint_angle_deg", p.tractor_angle * degrees);
    when(contents.shaft, "implement_joint_angle_deg", p.implement_angle * degrees);
    when(contents.shaft, "non_uniformity", p.non_uniformity);
    o.add("float_state", contents.floating ? JsonValue(float_state_word(p.float_state)) : JsonValue());
    return o.build();
}

JsonValue make_linkage_json(const Setup& setup, const Analysis& analysis) {
    if (!analysis.linkage) return {};
    const LinkageAnalysis& l = *analysis.linkage;
    const MountedModel& m = l.model;
    const SweepContents contents{m.has_shaft, m.has_shaft && m.has_halves, m.float_kind != UpperLinkKind::rigid};
    JsonObject o;
    o.add("upper_link", make_upper_link_json(setup, l)).add("travel", make_travel_json(m));
    if (m.has_working_height)
        o.length("working_height", m.working_height);
    else
        o.add("working_height_mm", JsonValue());
    o.angle("working_pitch", m.working_pitch);
    o.add("working_band", JsonObject()
                              .length("low", m.working_band.low)
                              .length("high", m.working_band.high)
                              .add("typed", m.working_band_typed)
                              .build());
    o.add("pitch", JsonObject()
                       .add("least", make_extreme_json(l.pitch.least, Dimension::angle))
                       .add("greatest", make_extreme_json(l.pitch.greatest, Dimension::angle))
                       .build());
    o.add("dead_centres", make_dead_centres_json(l.dead_centres))
        .add("transport", make_transport_json(l))
        .add("float", make_float_json(l));
    add_optional(o, "inverse_vertical_convergence_per_m", l.inverse_vertical_convergence);
    add_optional(o, "inverse_horizontal_convergence_per_m", l.inverse_horizontal_convergence);
    o.add("poses", JsonObject()
                       .add("lowest", make_pose_json(l.low, contents))
                       .add("working", make_pose_json(l.working, contents))
                       .add("highest", make_pose_json(l.high, contents))
                       .build());
    return o.build();
}

JsonValue make_shaft_json(const Analysis& analysis) {
    if (!analysis.shaft) return {};
    const ShaftAnalysis& s = *analysis.shaft;
    JsonObject o;
    o.add("travel", make_shaft_extremes_json(s.travel)).add("working_band", make_shaft_extremes_json(s.work));
    o.add("heights",
          JsonObject()
              .add("tractor_joint", make_joint_heights_json(s.tractor_free, s.tractor_on, s.tractor_reach))
              .add("implement_joint", make_joint_heights_json(s.implement_free, s.implement_on, s.implement_reach))
              .build());
    return o.add("guard", make_guard_json(s)).build();
}

JsonValue make_clearances_json(const Analysis& analysis) {
    JsonArray list;
    for (const Clearance& c : analysis.clearances) {
        list.push_back(JsonObject()
                           .add("kind", clearance_kind_word(c.kind))
                           .add("part", c.part)
                           .add("side_view_only", c.side_view_only)
                           .add("least", make_extreme_json(c.least, Dimension::length))
                           .build());
    }
    return list;
}

JsonValue make_ground_json(const Analysis& analysis) {
    JsonArray list;
    for (const GroundClearance& g : analysis.ground) {
        JsonObject o;
        o.add("part", g.part).add("rests_on_ground", g.rests_on_ground).length("at_top", g.at_top);
        if (g.has_working)
            o.length("at_working", g.at_working);
        else
            o.add("at_working_mm", JsonValue());
        list.push_back(o.length("least_over_travel", g.least_over_travel).build());
    }
    return list;
}

}  // namespace hitchwright
