// See finding_csv.h.
#include "report/finding_csv.h"

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/finding_text.h"

namespace hitchwright {
namespace {

template <class List, class F>
std::string join_words(const List& list, const F& word) {
    std::string text;
    for (const auto& item : list) {
        if (!text.empty()) text += ' ';
        text += word(item);
    }
    return text;
}

}  // namespace

std::string format_finding_csv(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    const FindingContext context = make_finding_context(setup, analysis, units);
    const std::string u = units == UnitSystem::inch ? "_in" : "_mm";
    std::string text =
        format_csv_line({"verdict", "kind", "severity", "subject", "other", "unit", "value", "limit", "margin", "band",
                         "bound_error", "ball_height" + u, "grade", "source", "remedies", "cautions", "text"});
    for (const Finding& f : analysis.findings) {
        const EdgeUnit unit = find_edge_unit(f.dimension, units);
        const auto number = [&](double v, bool there) {
            return there ? format_csv_number(v * unit.per_si) : std::string();
        };
        text += format_csv_line(
            {std::string(verdict_word(analysis.verdict)), std::string(finding_word(f.kind)),
             std::string(severity_word(f.severity)), format_csv_text(f.subject), format_csv_text(f.other),
             std::string(unit.name), number(f.value, true), number(f.limit, f.has_limit), number(f.margin, f.has_limit),
             number(f.band, f.band > 0.0), number(f.bound_error, true),
             f.has_height ? format_csv_number(f.height * find_edge_unit(Dimension::length, units).per_si) : "",
             f.rule.set ? std::string(grade_letter(f.rule.grade)) : "",
             f.rule.set ? format_csv_text(f.rule.source) : "",
             join_words(f.remedies, [](const Remedy& r) { return remedy_word(r.kind); }),
             join_words(f.cautions, [](Caution c) { return caution_word(c); }),
             format_csv_text(format_finding_sentence(f, context))});
    }
    return text;
}

}  // namespace hitchwright
