#include "geometry/shaft_choice.h"

#include <algorithm>
#include <array>

#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

bool is_one_of(FindingKind kind, std::initializer_list<FindingKind> kinds) {
    return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

bool is_about_match(FindingKind kind) {
    return is_one_of(kind, {FindingKind::pto_spline_match, FindingKind::driveline_power, FindingKind::pto_type_match});
}

bool is_about_length(FindingKind kind) {
    return is_one_of(kind, {FindingKind::gap_at_shortest, FindingKind::overlap_at_longest, FindingKind::overlap_in_work,
                            FindingKind::separation, FindingKind::cut, FindingKind::no_cut_works, FindingKind::guard_gap,
                            FindingKind::guard_overlap, FindingKind::joint_model});
}

Setup put_in(const Setup& setup, const Driveline& shaft) {
    Setup s = setup;
    s.has_driveline = true;
    s.driveline = shaft;
    s.choices.cut_tractor_half = s.choices.cut_implement_half = Reading{};
    return s;
}

ShaftSuits judge(const ShaftChoice& c) {
    bool close = false, wrong = false;
    for (const Finding& f : c.reasons) {
        close = close || f.severity == Severity::unknown;
        wrong = wrong || (is_about_match(f.kind) && f.severity < Severity::condition);
    }
    if (!c.has_plan) return ShaftSuits::not_known;
    if (wrong) return ShaftSuits::wrong_kind;
    if (c.plan.answer == CutAnswer::no_cut_works && !close) return ShaftSuits::no_cut_works;
    if (close) return ShaftSuits::too_close_to_call;
    return c.plan.answer == CutAnswer::no_cut_needed ? ShaftSuits::as_it_is : ShaftSuits::after_cut;
}

ShaftChoice study(const Setup& setup, const Driveline& shaft, const Mark& mark) {
    ShaftChoice c;
    c.key = shaft.key;
    c.name = shaft.name;
    const Setup s = put_in(setup, shaft);
    const Analysis a = analyze(s, mark);
    if (a.shaft && a.shaft->has_plan) {
        c.has_plan = true;
        c.plan = a.shaft->plan;
        c.closed_length = a.linkage->model.halves.closed_length;
    }
    for (const Finding& f : a.findings) {
        if ((is_about_length(f.kind) || is_about_match(f.kind) || f.kind == FindingKind::missing_reading) &&
            f.severity < Severity::good) {
            c.reasons.push_back(f);
        }
    }
    c.suits = judge(c);
    return c;
}

double total_cut(const ShaftChoice& c) { return c.plan.recommended.a + c.plan.recommended.b; }

bool is_better(const ShaftChoice& a, const ShaftChoice& b) {
    if (a.suits != b.suits) return a.suits < b.suits;
    if (a.suits == ShaftSuits::after_cut && total_cut(a) != total_cut(b)) return total_cut(a) < total_cut(b);
    return a.plan.after.overlap > b.plan.after.overlap;
}

}  // namespace

std::vector<ShaftChoice> study_shafts(const Setup& setup, const std::vector<Driveline>& shafts, const Mark& mark) {
    std::vector<ShaftChoice> choices;
    for (const Driveline& shaft : shafts) choices.push_back(study(setup, shaft, mark));
    std::stable_sort(choices.begin(), choices.end(), is_better);
    return choices;
}

ShaftToOrder find_shaft_to_order(const Setup& setup, const std::vector<Driveline>& shafts, const Mark& mark) {
    ShaftToOrder order;
    if (!setup.has_driveline && shafts.empty()) return order;
    const Analysis a = analyze(setup.has_driveline ? setup : put_in(setup, shafts.front()), mark);
    if (!a.shaft) return order;
    order.known = true;
    order.closed_at_most = a.shaft->travel.shortest.bound - make_cut_limits(setup.rules).gap_required;
    order.reaches_at_least = a.shaft->travel.longest.bound;
    return order;
}

}  // namespace hitchwright
