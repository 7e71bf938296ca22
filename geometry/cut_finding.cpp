#include "geometry/cut_finding.h"

#include <algorithm>

namespace hitchwright {

Finding make_cut_finding(const CutPlan& p, const ShaftTravel& travel, double plan_error, const Limit& gap_required) {
    const bool none_works = p.answer == CutAnswer::no_cut_works;
    Finding f;
    f.kind = none_works ? FindingKind::no_cut_works : FindingKind::cut;
    f.subject = "shaft";
    f.severity = none_works ? Severity::forbids : Severity::change;
    f.rule = gap_required;
    f.cautions = {Caution::stop_before_touching, Caution::measure_before_cutting, Caution::guards_complete, Caution::tug_both_ends};
    f.terms = {{"S_min", travel.shortest, Dimension::length, "shortest distance of the joint centres"},
               {"S_max", travel.longest, Dimension::length, "longest distance of the joint centres"},
               {"S_0", p.uncut.closed_length, Dimension::length, "closed length of the shaft"},
               {"c_least_A", p.least_cut.a, Dimension::length, "least cut of the tractor half"},
               {"c_least_B", p.least_cut.b, Dimension::length, "least cut of the implement half"}};
    f.value = none_works ? p.overlap_short_by : std::max(p.recommended.a, p.recommended.b);
    f.bound_error = plan_error;
    return f;
}

Remedy make_cut_remedy(const CutPlan& p) {
    const CutPair& c = p.recommended;
    if (c.b <= 0.0) return {RemedyKind::cut_tractor_half, c.a, c.b, ""};
    if (c.a <= 0.0) return {RemedyKind::cut_implement_half, c.b, c.b, ""};
    return {RemedyKind::cut_both_halves, c.a, c.b, ""};
}

}  // namespace hitchwright
