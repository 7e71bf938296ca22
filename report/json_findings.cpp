// Findings, remedies, cautions and readings as JSON; see json_parts.h.
#include "geometry/visit_readings.h"
#include "report/caution_text.h"
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/measure_hint.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

/// What a remedy's numbers are: most are lengths.
Dimension find_remedy_dimension(const Remedy& r, const Finding& f) {
    switch (r.kind) {
        case RemedyKind::other_upper_link_pin:
        case RemedyKind::other_mast_pin:
        case RemedyKind::turn_at_most:
        case RemedyKind::crossing_angle:
            return Dimension::angle;
        case RemedyKind::front_ballast:
        case RemedyKind::rear_ballast:
            return Dimension::mass;
        case RemedyKind::match_part:
        case RemedyKind::set_to_specification:
        case RemedyKind::measure:
            return f.dimension;
        default:
            return Dimension::length;
    }
}

/// The kind carries no number at all, or this one has none.
bool has_value(const Remedy& r) { return r.value != 0.0; }
bool has_second(const Remedy& r) {
    return r.second != 0.0 && (r.kind == RemedyKind::cut_both_halves || r.kind == RemedyKind::order_shaft ||
                               r.kind == RemedyKind::working_height || r.kind == RemedyKind::drawbar_length || r.kind == RemedyKind::bushing ||
                               (r.kind == RemedyKind::measure && find_reading_spec(r.subject)));
}

/// Of the error a reading is to be taken again with.
EdgeUnit find_reading_unit(const Remedy& r) {
    const std::optional<FieldSpec> spec = find_reading_spec(r.subject);
    return find_edge_unit(spec ? spec->dimension : Dimension::length);
}

void add_number(JsonObject& o, std::string_view key, double si, const EdgeUnit& unit, bool there) {
    if (there)
        o.number(key, si * unit.per_si);
    else
        o.add(key, JsonValue());
}

JsonValue make_rule_json(const Limit& rule) {
    if (!rule.set) return {};
    return JsonObject().add("grade", grade_letter(rule.grade)).add("source", rule.source).build();
}

JsonValue make_terms_json(const std::vector<Term>& terms) {
    JsonArray list;
    for (const Term& t : terms) {
        const EdgeUnit unit = find_edge_unit(t.dimension);
        list.push_back(JsonObject()
                           .add("symbol", t.symbol)
                           .number("value", t.value * unit.per_si)
                           .add("unit", unit.name)
                           .add("meaning", t.meaning)
                           .build());
    }
    return list;
}

}  // namespace

JsonValue make_attitude_json(const Attitude& a) {
    return JsonObject().angle("yaw", a.yaw).angle("pitch", a.pitch).angle("roll", a.roll).build();
}

JsonValue make_remedy_json(const Remedy& r, const Finding& f, const FindingContext& context) {
    const EdgeUnit unit = find_edge_unit(find_remedy_dimension(r, f));
    JsonObject o;
    o.add("kind", remedy_word(r.kind)).add("unit", unit.name);
    add_number(o, "value", r.value, unit, has_value(r));
    add_number(o, "second", r.second, r.kind == RemedyKind::measure ? find_reading_unit(r) : unit, has_second(r));
    return o.add("subject", r.subject).add("text", format_remedy(r, f, context)).build();
}

JsonValue make_cautions_json(const std::vector<Caution>& cautions) {
    JsonArray list;
    for (const Caution c : cautions)
        list.push_back(JsonObject().add("word", caution_word(c)).add("text", caution_sentence(c)).build());
    return list;
}

JsonValue make_finding_json(const Finding& f, const FindingContext& context) {
    const EdgeUnit unit = find_edge_unit(f.dimension);
    JsonArray remedies;
    for (const Remedy& r : f.remedies) remedies.push_back(make_remedy_json(r, f, context));
    JsonObject o;
    o.add("kind", finding_word(f.kind)).add("severity", severity_word(f.severity)).add("mark", finding_mark(f));
    o.add("subject", f.subject).add("other", f.other).add("unit", unit.name);
    add_number(o, "value", f.value, unit, true);
    add_number(o, "limit", f.limit, unit, f.has_limit);
    add_number(o, "margin", f.margin, unit, f.has_limit);
    add_number(o, "band", f.band, unit, f.band != 0.0);
    o.add("error", make_error_json(f));
    add_number(o, "bound_error", f.bound_error, unit, true);
    if (f.has_height)
        o.length("ball_height", f.height);
    else
        o.add("ball_height_mm", JsonValue());
    o.add("attitude", f.has_attitude ? make_attitude_json(f.attitude) : JsonValue());
    o.add("heights_inside", make_heights_json(f.heights))
        .add("rule", make_rule_json(f.rule))
        .add("terms", make_terms_json(f.terms));
    o.add("remedies", std::move(remedies)).add("cautions", make_cautions_json(f.cautions));
    return o.add("text", format_finding_sentence(f, context)).build();
}

JsonValue make_unjudged_json(const Analysis& analysis) {
    JsonArray list;
    for (const Unjudged& u : analysis.unjudged) {
        const JsonArray keys(u.readings.begin(), u.readings.end());
        list.push_back(JsonObject().add("question", u.question).add("missing", keys).build());
    }
    return list;
}

JsonValue make_range_json(const HeightRange& range) {
    return JsonObject().length("low", range.low).length("high", range.high).build();
}

JsonValue make_heights_json(const std::vector<HeightRange>& heights) {
    JsonArray list;
    for (const HeightRange& r : heights) list.push_back(make_range_json(r));
    return list;
}

JsonValue make_inputs_json(const Setup& setup) {
    Setup copy = setup;
    JsonArray list;
    visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
        if (!r.known) return;
        const EdgeUnit unit = find_edge_unit(spec.dimension);
        list.push_back(JsonObject()
                           .add("key", key)
                           .number("value", r.value * unit.per_si)
                           .add("unit", unit.name)
                           .number("tolerance", r.tolerance * unit.per_si)
                           .add("origin", origin_word(r.origin))
                           .build());
    });
    return list;
}

JsonValue make_setup_json(const Setup& s) {
    JsonObject o;
    o.add("key", s.key)
        .add("name", s.name)
        .add("note", s.note)
        .add("tractor", s.tractor.name)
        .add("implement", s.implement.name);
    o.add("driveline", s.has_driveline ? JsonValue(s.driveline.name) : JsonValue());
    return o.add("rules", JsonObject().add("key", s.rules.key).add("name", s.rules.name).build()).build();
}

}  // namespace hitchwright
