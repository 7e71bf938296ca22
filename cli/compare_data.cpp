// compare as JSON and CSV.
#include "cli/compare_output.h"
#include "cli/compare_rows.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/finding_text.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/output_number.h"

namespace hitchwright {
namespace {

std::string_view change_word(const CompareRow& r) {
    if (r.findings.old_finding == nullptr) return "appeared";
    if (r.findings.new_finding == nullptr) return "gone";
    return r.flips ? "flipped" : r.differs ? "changed" : "same";
}

void add_number(JsonObject& o, std::string_view key, bool known, double value) {
    if (known) o.number(key, round_for_output(value));
    else o.add(key, JsonValue());
}

JsonValue make_side_json(const Finding* f, const CompareSide& side) {
    if (f == nullptr) return {};
    const EdgeUnit unit = find_edge_unit(f->dimension);
    JsonObject o;
    o.add("severity", severity_word(f->severity)).add("mark", side.mark).add("unit", unit.name);
    o.number("value", round_for_output(f->value * unit.per_si));
    add_number(o, "limit", f->has_limit, f->limit * unit.per_si);
    add_number(o, "margin", f->has_limit, f->margin * unit.per_si);
    return o.add("text", side.headline).build();
}

std::string number_cell(const Finding* f, double Finding::* member, bool limited, double per_si) {
    if (f == nullptr || (limited && !f->has_limit)) return {};
    return format_csv_number(round_for_output(f->*member * per_si));
}

std::string format_row(const CompareRow& r, UnitSystem units) {
    const Finding *a = r.findings.old_finding, *b = r.findings.new_finding;
    const Finding& any = b != nullptr ? *b : *a;
    const EdgeUnit unit = find_edge_unit(any.dimension, units);
    const auto word = [](const Finding* f) { return f == nullptr ? std::string() : std::string(severity_word(f->severity)); };
    const bool both = a != nullptr && b != nullptr;
    return format_csv_line({"finding", std::string(change_word(r)), std::string(finding_word(any.kind)), format_csv_text(any.subject), format_csv_text(any.other),
                            std::string(unit.name), number_cell(a, &Finding::value, false, unit.per_si), number_cell(b, &Finding::value, false, unit.per_si),
                            both ? format_csv_number(round_for_output((b->value - a->value) * unit.per_si)) : std::string(),
                            number_cell(a, &Finding::limit, true, unit.per_si), number_cell(b, &Finding::limit, true, unit.per_si),
                            number_cell(a, &Finding::margin, true, unit.per_si), number_cell(b, &Finding::margin, true, unit.per_si), word(a), word(b)});
}

}  // namespace

std::string format_comparison_json(const SetupDifference& d, UnitSystem units) {
    JsonArray rows;
    for (const CompareRow& r : list_compare_rows(d, units)) {
        const Finding& any = r.findings.new_finding != nullptr ? *r.findings.new_finding : *r.findings.old_finding;
        JsonObject o;
        o.add("change", change_word(r)).add("kind", finding_word(any.kind)).add("subject", any.subject).add("other", any.other);
        rows.push_back(o.add("a", make_side_json(r.findings.old_finding, r.a)).add("b", make_side_json(r.findings.new_finding, r.b)).build());
    }
    JsonObject o;
    o.add("schema", "hitchwright.compare").add("schema_version", json_version).add("differs", d.any());
    o.add("a", make_judgement_json(d.old_judgement)).add("b", make_judgement_json(d.new_judgement));
    o.add("findings", std::move(rows)).add("variants", JsonValue());
    return format_json_value(o.add("cautions", make_cautions_json(list_cautions({&d.old_judgement, &d.new_judgement}))).build());
}

std::string format_comparison_csv(const SetupDifference& d, UnitSystem units) {
    std::string text = format_csv_line({"what", "change", "key", "subject", "other", "unit", "a", "b", "difference", "a_limit", "b_limit", "a_margin",
                                        "b_margin", "a_word", "b_word"});
    const std::string_view a = verdict_word(d.old_judgement.analysis->verdict), b = verdict_word(d.new_judgement.analysis->verdict);
    text += format_csv_line({"verdict", a == b ? "same" : "flipped", {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, std::string(a), std::string(b)});
    for (const CompareRow& r : list_compare_rows(d, units)) text += format_row(r, units);
    return text;
}

std::string format_variants_json(const VariantStudy& study, const std::string& sentence, UnitSystem units) {
    bool differ = false;
    for (const VariantAnswer& a : study.answers) differ = differ || !compare_findings(study.analysis.findings, a.analysis.findings).empty();
    JsonObject o;
    o.add("schema", "hitchwright.compare").add("schema_version", json_version).add("differs", differ);
    o.add("a", JsonObject().add("verdict", verdict_word(study.analysis.verdict)).add("text", sentence).build()).add("b", JsonValue());
    o.add("findings", JsonValue()).add("variants", make_variants_json(study, units));
    return format_json_value(o.add("cautions", make_cautions_json(list_variant_cautions(study))).build());
}

}  // namespace hitchwright
