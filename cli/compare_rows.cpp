// See compare_rows.h.
#include "cli/compare_rows.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/finding_text.h"
#include "report/safe_words.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

/// True when the number is the finding's answer; else only words are.
bool has_number(const Finding& f) { return f.has_limit || f.value != 0.0; }

CompareSide make_side(const Finding* f, const FindingContext& context, UnitSystem units) {
    if (f == nullptr) return {};
    CompareSide side{std::string(finding_mark(*f)), {}, describe_finding(*f, context).headline};
    if (!has_number(*f)) return side;
    side.number = format_decimal_quantity(f->value, f->dimension, units);
    if (f->has_limit) side.number += fmt::format(" (limit {})", format_decimal_quantity(f->limit, f->dimension, units));
    return side;
}

std::string say_change(const FindingDifference& d, UnitSystem units) {
    if (d.old_finding == nullptr) return "new";
    if (d.new_finding == nullptr) return "gone";
    if (!differs(d)) return "same";
    const Finding &a = *d.old_finding, &b = *d.new_finding;
    const bool one_measure = a.dimension == b.dimension && has_number(a) && has_number(b);
    const double change = b.value - a.value;
    const std::string none = format_decimal_quantity(0.0, b.dimension, units);
    const std::string size = format_decimal_quantity(std::fabs(change), b.dimension, units);
    if (one_measure && size != none) return (change > 0.0 ? "+" : "-") + size;
    if (one_measure && a.has_limit && b.has_limit && a.limit != b.limit) return "another limit";
    return d.changed_severity() ? "another weight" : "by less than shown";
}

}  // namespace

std::vector<CompareRow> list_compare_rows(const SetupDifference& d, UnitSystem units) {
    const FindingContext was = make_finding_context(d.old_setup, *d.old_judgement.analysis, units);
    const FindingContext is = make_finding_context(d.new_setup, *d.new_judgement.analysis, units);
    std::vector<CompareRow> rows;
    for (const FindingDifference& f : match_findings(d.old_judgement.analysis->findings, d.new_judgement.analysis->findings)) {
        CompareRow row;
        row.question = name_question(f.new_finding != nullptr ? *f.new_finding : *f.old_finding);
        row.a = make_side(f.old_finding, was, units);
        row.b = make_side(f.new_finding, is, units);
        row.change = say_change(f, units);
        row.flips = f.flipped();
        row.differs = differs(f);
        row.findings = f;
        rows.push_back(std::move(row));
    }
    return rows;
}

}  // namespace hitchwright
