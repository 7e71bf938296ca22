// Loads as JSON; keys: docs/json.md.
#include "geometry/load_findings.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/load_report.h"

namespace hitchwright {
namespace {

JsonValue make_optional(const std::optional<double>& v) { return v ? JsonValue(*v) : JsonValue(); }

JsonValue make_pair_json(const LiftStudy& l) {
    if (!l.pair) return {};
    return JsonObject()
        .number("ratio", l.pair->ratio)
        .number("least", l.pair->least)
        .number("most", l.pair->most)
        .number("beyond", l.pair->beyond)
        .build();
}

JsonValue make_capacity_json(const LiftStudy& l) {
    if (!l.least_capacity) return {};
    const TravelExtreme& e = *l.least_capacity;
    return JsonObject()
        .number("value_kg", e.value)
        .number("bound_kg", e.bound)
        .length("at_ball_height", e.height)
        .build();
}

JsonValue make_lift_json(const LoadAnswer& a) {
    if (!a.analysis.lift) return {};
    const LiftStudy& l = *a.analysis.lift;
    JsonArray rows, holes, missing;
    for (const LiftRow& r : a.rows) {
        rows.push_back(JsonObject()
                           .length("ball_height", r.height)
                           .number("load_rise", r.rise)
                           .add("force_at_balls_N", make_optional(r.at_balls))
                           .add("needed_at_balls_N", make_optional(r.needed))
                           .add("carries_kg", make_optional(r.capacity))
                           .build());
    }
    for (const LiftHole& h : a.holes) {
        holes.push_back(JsonObject()
                            .add("tractor_pin", h.tractor_pin)
                            .add("mast_pin", h.mast_pin)
                            .add("rod_hole", h.rod_hole)
                            .add("in_use", h.is_present)
                            .add("closes", h.closes)
                            .add("answer", lift_answer_word(h.lift.answer))
                            .add("least_capacity", make_capacity_json(h.lift))
                            .add("lifted", make_heights_json(h.lift.lifted))
                            .build());
    }
    for (const std::string& key : l.missing) missing.push_back(key);
    JsonObject o;
    o.add("answer", lift_answer_word(l.answer))
        .add("force_source", ball_force_word(l.force.source))
        .add("whole_travel", l.whole_travel);
    o.add("mass_kg", l.mass_known ? JsonValue(l.mass) : JsonValue()).number("coupler_mass_kg", l.coupler_mass);
    o.length("load_behind_balls", l.load_at.x()).length("load_above_balls", l.load_at.y());
    o.add("least_capacity", make_capacity_json(l)).number("band_kg", l.band.width).add("widest_reading", l.band.widest.reading);
    o.add("lifted", make_heights_json(l.lifted))
        .add("published_pair", make_pair_json(l))
        .add("missing", std::move(missing));
    return o.add("rows", std::move(rows)).add("holes", std::move(holes)).build();
}

JsonValue make_axles_json(const Analysis& analysis) {
    if (!analysis.axles) return {};
    const AxleStudy& x = *analysis.axles;
    JsonArray missing, states, shares, carried;
    for (const std::string& key : x.missing) missing.push_back(key);
    for (const AxleState& s : x.states) {
        states.push_back(JsonObject()
                             .add("state", load_state_word(s.state))
                             .length("ball_height", s.height)
                             .length("load_behind_axle", s.load_x)
                             .number("front_kg", s.loads.front)
                             .number("rear_kg", s.loads.rear)
                             .number("total_kg", s.loads.total())
                             .build());
    }
    for (const FrontShare& f : x.shares) {
        if (!x.known) break;
        shares.push_back(JsonObject()
                             .add("base", load_base_word(f.base))
                             .number("base_kg", f.base_mass)
                             .number("share", f.share)
                             .number("wanted", f.wanted)
                             .add("front_ballast_kg", make_optional(f.ballast))
                             .add("binds", f.base == x.binding)
                             .build());
    }
    for (const CarriedLoad& c : x.carried) {
        carried.push_back(JsonObject()
                              .add("part", carrying_part_word(c.part))
                              .add("state", load_state_word(c.state))
                              .number("most_kg", c.most)
                              .number("allowed_kg", c.allowed)
                              .build());
    }
    JsonObject o;
    o.add("known", x.known)
        .add("missing", std::move(missing))
        .add("states", std::move(states))
        .add("front_shares", std::move(shares));
    o.number("front_band_kg", x.front_band.width).add("widest_reading", x.front_band.widest.reading);
    o.number("rear_share", x.rear_share)
        .number("rear_wanted", x.rear_wanted)
        .add("rear_ballast_kg", make_optional(x.rear_ballast_least));
    return o.add("limits", std::move(carried)).build();
}

}  // namespace

std::string format_load_json(const LoadAnswer& a, UnitSystem units) {
    const FindingContext context = make_finding_context(a.setup, a.analysis, units);
    JsonArray findings;
    for (const Finding* f : list_load_findings(a.analysis)) findings.push_back(make_finding_json(*f, context));
    JsonObject o;
    o.add("schema", "hitchwright.load").add("schema_version", json_version).add("setup", make_setup_json(a.setup));
    o.add("lift", make_lift_json(a)).add("axles", make_axles_json(a.analysis)).add("findings", std::move(findings));
    const std::vector<Caution> cautions{Caution::weigh_before_relying, Caution::never_under_raised,
                                        Caution::nobody_between, Caution::rops_and_belt, Caution::manual_rules};
    return format_json_value(o.add("cautions", make_cautions_json(cautions)).build());
}

}  // namespace hitchwright
