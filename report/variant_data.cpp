// Variants as JSON and CSV; see variant_text.h.
#include "report/csv_text.h"
#include "report/finding_text.h"
#include "report/json_parts.h"
#include "report/variant_text.h"

namespace hitchwright {
namespace {

JsonValue word_or_null(const Finding* f) { return f == nullptr ? JsonValue() : JsonValue(severity_word(f->severity)); }

JsonValue sentence_or_null(const Finding* f, const FindingContext& context) {
    return f == nullptr ? JsonValue() : JsonValue(describe_finding(*f, context).headline);
}

JsonValue make_flip_json(const FindingDifference& d, const FindingContext& before, const FindingContext& after) {
    const Finding& any = d.new_finding != nullptr ? *d.new_finding : *d.old_finding;
    JsonObject o;
    o.add("kind", finding_word(any.kind)).add("subject", any.subject).add("other", any.other);
    o.add("before", word_or_null(d.old_finding)).add("after", word_or_null(d.new_finding));
    return o.add("before_text", sentence_or_null(d.old_finding, before)).add("after_text", sentence_or_null(d.new_finding, after)).build();
}

JsonValue make_variant_json(const VariantStudy& s, const VariantAnswer& a, UnitSystem units) {
    const FindingContext before = make_finding_context(s.setup, s.analysis, units), after = make_finding_context(a.setup, a.analysis, units);
    const Variant& v = a.variant;
    JsonArray flips;
    for (const FindingDifference& d : find_flips(s.analysis.findings, a.analysis.findings)) flips.push_back(make_flip_json(d, before, after));
    JsonObject o;
    o.add("switch", format_switch(v)).add("what", variant_word(v.kind)).add("text", say_variant(v));
    o.add("fitted", is_part(v.kind) ? JsonValue(v.fitted) : JsonValue()).add("from", v.from).add("to", v.to);
    o.add("verdict_before", verdict_word(s.analysis.verdict)).add("verdict", verdict_word(a.analysis.verdict));
    o.add("changes_verdict", s.analysis.verdict != a.analysis.verdict);
    o.add("link_set_anew", sets_link_anew(s.setup, v)).add("distances_left_out", drops_distances(s.setup, v));
    o.add("before", make_part_figures_json(summarize(s.analysis))).add("after", make_part_figures_json(summarize(a.analysis)));
    return o.add("flips", std::move(flips)).build();
}

std::string word_cell(const Finding* f) { return f == nullptr ? std::string() : std::string(severity_word(f->severity)); }

}  // namespace

JsonValue make_variants_json(const VariantStudy& study, UnitSystem units) {
    JsonArray list;
    for (const VariantAnswer& a : study.answers) list.push_back(make_variant_json(study, a, units));
    return list;
}

std::string format_variants_csv(const VariantStudy& study) {
    std::string text = format_csv_line({"what", "switch", "key", "subject", "other", "before", "after"});
    for (const VariantAnswer& a : study.answers) {
        const std::string id = format_csv_text(format_switch(a.variant));
        text += format_csv_line({"verdict", id, {}, {}, {}, std::string(verdict_word(study.analysis.verdict)), std::string(verdict_word(a.analysis.verdict))});
        for (const FindingDifference& d : find_flips(study.analysis.findings, a.analysis.findings)) {
            const Finding& any = d.new_finding != nullptr ? *d.new_finding : *d.old_finding;
            text += format_csv_line({"finding", id, std::string(finding_word(any.kind)), format_csv_text(any.subject), format_csv_text(any.other),
                                     word_cell(d.old_finding), word_cell(d.new_finding)});
        }
    }
    return text;
}

}  // namespace hitchwright
