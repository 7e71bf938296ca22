// diff as JSON and CSV.
#include "cli/difference_output.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/finding_text.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/output_number.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

template <class T>
std::string_view value_word(const T& was, const T& is) {
    return !was ? "added" : !is ? "gone" : "changed";
}

std::string_view finding_change(const FindingDifference& d) {
    return d.old_finding == nullptr ? "appeared" : d.new_finding == nullptr ? "gone" : "changed";
}

/// A reading of either side, of which there may be none.
const Reading* find_reading(const std::optional<SetupValue>& value) {
    return value && value->reading ? &*value->reading : nullptr;
}

EdgeUnit find_unit(const ValueDifference& d, UnitSystem units) {
    const std::optional<SetupValue>& any = d.new_value ? d.new_value : d.old_value;
    return find_edge_unit(any->dimension, units);
}

void add_number(JsonObject& o, std::string_view key, bool known, double value) {
    if (known)
        o.number(key, round_for_output(value));
    else
        o.add(key, JsonValue());
}

void add_side(JsonObject& o, const std::string& side, const std::optional<SetupValue>& value, double per_si) {
    const Reading* r = find_reading(value);
    const bool own = r != nullptr && value->has_origin;
    add_number(o, side + "_number", r != nullptr, r == nullptr ? 0.0 : r->value * per_si);
    o.add(side + "_text", value && r == nullptr ? JsonValue(value->text) : JsonValue());
    add_number(o, side + "_tolerance", own, own ? r->tolerance * per_si : 0.0);
    o.add(side + "_origin", own ? JsonValue(origin_word(r->origin)) : JsonValue());
}

JsonValue make_value_json(const ValueDifference& d) {
    const EdgeUnit unit = find_unit(d, UnitSystem::millimetre);
    const Reading *was = find_reading(d.old_value), *is = find_reading(d.new_value);
    JsonObject o;
    o.add("key", d.key).add("change", value_word(d.old_value, d.new_value));
    o.add("unit", was != nullptr || is != nullptr ? JsonValue(unit.name) : JsonValue());
    add_side(o, "old", d.old_value, unit.per_si);
    add_side(o, "new", d.new_value, unit.per_si);
    const bool both = was != nullptr && is != nullptr;
    add_number(o, "difference", both, both ? (is->value - was->value) * unit.per_si : 0.0);
    return o.build();
}

JsonValue make_state_json(const Finding* f, const FindingContext& context) {
    if (f == nullptr) return {};
    const EdgeUnit unit = find_edge_unit(f->dimension);
    JsonObject o;
    o.add("severity", severity_word(f->severity)).add("mark", finding_mark(*f)).add("unit", unit.name);
    o.number("value", round_for_output(f->value * unit.per_si));
    add_number(o, "limit", f->has_limit, f->limit * unit.per_si);
    add_number(o, "margin", f->has_limit, f->margin * unit.per_si);
    return o.add("text", format_finding_sentence(*f, context)).build();
}

std::string number_cell(bool known, double value) {
    return known ? format_csv_number(round_for_output(value)) : std::string{};
}

std::string value_cell(const std::optional<SetupValue>& value, double per_si) {
    const Reading* r = find_reading(value);
    if (r != nullptr) return number_cell(true, r->value * per_si);
    return value ? format_csv_text(value->text) : std::string{};
}

std::string tolerance_cell(const std::optional<SetupValue>& value, double per_si) {
    const Reading* r = find_reading(value);
    const bool own = r != nullptr && value->has_origin;
    return number_cell(own, own ? r->tolerance * per_si : 0.0);
}

std::string origin_cell(const std::optional<SetupValue>& value) {
    const Reading* r = find_reading(value);
    return r != nullptr && value->has_origin ? std::string(origin_word(r->origin)) : std::string{};
}

std::string format_value_row(const ValueDifference& d, UnitSystem units) {
    const EdgeUnit unit = find_unit(d, units);
    const Reading *was = find_reading(d.old_value), *is = find_reading(d.new_value);
    const bool both = was != nullptr && is != nullptr;
    return format_csv_line({"value",
                            std::string(value_word(d.old_value, d.new_value)),
                            format_csv_text(d.key),
                            {},
                            {},
                            was != nullptr || is != nullptr ? std::string(unit.name) : std::string{},
                            value_cell(d.old_value, unit.per_si),
                            value_cell(d.new_value, unit.per_si),
                            number_cell(both, both ? (is->value - was->value) * unit.per_si : 0.0),
                            tolerance_cell(d.old_value, unit.per_si),
                            tolerance_cell(d.new_value, unit.per_si),
                            origin_cell(d.old_value),
                            origin_cell(d.new_value)});
}

std::string format_finding_row(const FindingDifference& d, UnitSystem units) {
    const Finding *was = d.old_finding, *is = d.new_finding;
    const Finding& any = is != nullptr ? *is : *was;
    const EdgeUnit unit = find_edge_unit(any.dimension, units);
    const auto value = [&](const Finding* f) {
        return number_cell(f != nullptr, f == nullptr ? 0.0 : f->value * unit.per_si);
    };
    const auto word = [](const Finding* f) {
        return f == nullptr ? std::string{} : std::string(severity_word(f->severity));
    };
    const bool both = was != nullptr && is != nullptr;
    return format_csv_line({"finding",
                            std::string(finding_change(d)),
                            std::string(finding_word(any.kind)),
                            format_csv_text(any.subject),
                            format_csv_text(any.other),
                            std::string(unit.name),
                            value(was),
                            value(is),
                            number_cell(both, both ? (is->value - was->value) * unit.per_si : 0.0),
                            {},
                            {},
                            word(was),
                            word(is)});
}

}  // namespace

std::string format_difference_json(const SetupDifference& d, UnitSystem units) {
    const FindingContext was = make_finding_context(d.old_setup, *d.old_judgement.analysis, units);
    const FindingContext is = make_finding_context(d.new_setup, *d.new_judgement.analysis, units);
    JsonArray values, findings;
    for (const ValueDifference& v : d.values) values.push_back(make_value_json(v));
    for (const FindingDifference& f : d.findings) {
        const Finding& any = f.new_finding != nullptr ? *f.new_finding : *f.old_finding;
        JsonObject o;
        o.add("change", finding_change(f))
            .add("kind", finding_word(any.kind))
            .add("subject", any.subject)
            .add("other", any.other);
        o.add("old", make_state_json(f.old_finding, was)).add("new", make_state_json(f.new_finding, is));
        findings.push_back(o.build());
    }
    JsonObject o;
    o.add("schema", "hitchwright.diff").add("schema_version", json_version).add("differs", d.any());
    o.add("old", make_judgement_json(d.old_judgement)).add("new", make_judgement_json(d.new_judgement));
    o.add("values", std::move(values)).add("findings", std::move(findings));
    return format_json_value(
        o.add("cautions", make_cautions_json(list_cautions({&d.old_judgement, &d.new_judgement}))).build());
}

std::string format_difference_csv(const SetupDifference& d, UnitSystem units) {
    std::string text = format_csv_line({"what", "change", "key", "subject", "other", "unit", "old", "new", "difference",
                                        "old_tolerance", "new_tolerance", "old_word", "new_word"});
    const std::string_view was = verdict_word(d.old_judgement.analysis->verdict),
                           is = verdict_word(d.new_judgement.analysis->verdict);
    text += format_csv_line({"verdict",
                             was == is ? "same" : "changed",
                             {},
                             {},
                             {},
                             {},
                             {},
                             {},
                             {},
                             {},
                             {},
                             std::string(was),
                             std::string(is)});
    for (const ValueDifference& v : d.values) text += format_value_row(v, units);
    for (const FindingDifference& f : d.findings) text += format_finding_row(f, units);
    return text;
}

}  // namespace hitchwright
