// The answer of `shafts` as CSV and JSON; see shaft_choice_text.h.
#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/shaft_choice_text.h"

namespace hitchwright {
namespace {

bool is_cut(const ShaftChoice& c) { return c.suits == ShaftSuits::after_cut; }

/// With the recommended cut made where it makes the shaft fit, else as it is.
const ShaftMargins& find_left(const ShaftChoice& c) { return is_cut(c) ? c.plan.after : c.plan.uncut; }

void add_length(JsonObject& o, std::string_view key, double metres, bool there) {
    if (there) o.length(key, metres);
    else o.add(std::string(key) + "_mm", JsonValue());
}

JsonValue make_choice_json(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    const FindingContext context = make_finding_context(setup, {}, units);
    JsonObject o;
    o.add("key", find_shaft_key(c)).add("name", c.name).add("own", c.own).add("suits", shaft_suits_word(c.suits));
    add_length(o, "closed_length", c.closed_length, c.has_plan);
    add_length(o, "cut_tractor_half", c.plan.recommended.a, is_cut(c));
    add_length(o, "cut_implement_half", c.plan.recommended.b, is_cut(c));
    add_length(o, "gap", find_left(c).gap, c.has_plan);
    add_length(o, "overlap", find_left(c).overlap, c.has_plan);
    add_length(o, "overlap_needed", find_left(c).overlap_needed, c.has_plan);
    JsonArray findings;
    for (const Finding& f : c.reasons) findings.push_back(make_finding_json(f, context));
    return o.add("reason", format_shaft_reason(c, setup, units)).add("findings", std::move(findings)).build();
}

JsonValue make_order_json(const ShaftToOrder& o) {
    if (!o.known) return {};
    return JsonObject()
        .length("closed_at_most", o.closed_at_most)
        .length("reaches_at_least", o.reaches_at_least)
        .add("joints_like", o.joints_like.empty() ? "own" : o.joints_like)
        .build();
}

}  // namespace

std::string format_shaft_choices_csv(const Setup& setup, const ShaftStudy& study, UnitSystem units) {
    const EdgeUnit unit = find_edge_unit(Dimension::length, units);
    const auto heading = [&](const char* key) { return std::string(key) + "_" + std::string(unit.name); };
    const auto number = [&](double metres, bool there) { return there ? format_csv_number(metres * unit.per_si) : std::string(); };
    std::string text = format_csv_line({"key", "name", "own", "suits", heading("closed_length"), heading("cut_tractor_half"),
                                        heading("cut_implement_half"), heading("gap"), heading("overlap"), heading("overlap_needed"), "reason"});
    for (const ShaftChoice& c : study.choices) {
        text += format_csv_line({format_csv_text(find_shaft_key(c)), format_csv_text(c.name), c.own ? "true" : "false",
                                 std::string(shaft_suits_word(c.suits)), number(c.closed_length, c.has_plan),
                                 number(c.plan.recommended.a, is_cut(c)), number(c.plan.recommended.b, is_cut(c)),
                                 number(find_left(c).gap, c.has_plan), number(find_left(c).overlap, c.has_plan),
                                 number(find_left(c).overlap_needed, c.has_plan), format_csv_text(format_shaft_reason(c, setup, units))});
    }
    return text;
}

std::string format_shaft_choices_json(const Setup& setup, const ShaftStudy& study, UnitSystem units) {
    const FindingContext context = make_finding_context(setup, {}, units);
    JsonArray shafts, others;
    for (const ShaftChoice& c : study.choices) shafts.push_back(make_choice_json(c, setup, units));
    for (const Finding& f : study.others) others.push_back(make_finding_json(f, context));
    JsonObject o;
    o.add("schema", "hitchwright.shafts").add("schema_version", json_version).add("setup", make_setup_json(setup));
    o.add("text", format_shaft_answer(study)).add("whole_travel", study.whole_travel).add("shafts", std::move(shafts));
    o.add("order", make_order_json(study.order)).add("other_findings", std::move(others));
    return format_json_value(o.add("cautions", make_cautions_json(list_cutting_cautions())).build());
}

}  // namespace hitchwright
