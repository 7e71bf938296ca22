#include "geometry/shaft_choice.h"

#include <algorithm>
#include <iterator>

namespace hitchwright {
namespace {

bool is_one_of(FindingKind kind, std::initializer_list<FindingKind> kinds) {
    return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

bool is_about_match(FindingKind kind) {
    return is_one_of(kind, {FindingKind::pto_spline_match, FindingKind::driveline_power, FindingKind::pto_type_match});
}
bool is_about_guard(FindingKind kind) { return is_one_of(kind, {FindingKind::guard_gap, FindingKind::guard_overlap}); }
bool is_about_length(FindingKind kind) {
    return is_one_of(kind, {FindingKind::gap_at_shortest, FindingKind::overlap_at_longest, FindingKind::overlap_in_work,
                            FindingKind::separation, FindingKind::cut, FindingKind::no_cut_works, FindingKind::joint_model});
}
bool is_about_shaft(FindingKind kind) { return is_about_match(kind) || is_about_guard(kind) || is_about_length(kind); }

/// The cut that the shaft needs anyway puts it right.
bool is_cured(const Finding& f) { return f.kind == FindingKind::guard_gap && f.other == "cured_by_cut"; }

bool is_bad(const Finding& f) { return f.severity < Severity::condition; }

template <class F>
bool any(const std::vector<Finding>& findings, const F& test) {
    return std::any_of(findings.begin(), findings.end(), test);
}

/// For want of a reading, not for its error.
bool is_missing(const Finding& f) { return f.severity == Severity::unknown && f.band <= 0.0; }

/// Without a plan all that is missing or does not close is the reason, else what is about the shaft.
std::vector<Finding> list_reasons(const Analysis& a, bool has_plan) {
    std::vector<Finding> reasons;
    for (const Finding& f : a.findings) {
        const bool about = is_about_shaft(f.kind) && f.severity < Severity::good;
        if (about || (!has_plan && f.severity <= Severity::unknown)) reasons.push_back(f);
    }
    return reasons;
}

ShaftSuits judge(const ShaftChoice& c) {
    const std::vector<Finding>& r = c.reasons;
    if (!c.has_plan || any(r, is_missing)) return ShaftSuits::not_known;
    if (any(r, [](const Finding& f) { return is_about_match(f.kind) && is_bad(f); })) return ShaftSuits::wrong_kind;
    if (any(r, [](const Finding& f) { return is_about_length(f.kind) && f.severity == Severity::forbids; })) {
        return ShaftSuits::no_cut_works;
    }
    if (any(r, [](const Finding& f) { return f.severity == Severity::unknown; })) return ShaftSuits::too_close_to_call;
    if (any(r, [](const Finding& f) { return is_about_guard(f.kind) && is_bad(f) && !is_cured(f); })) {
        return ShaftSuits::wrong_guard;
    }
    return c.plan.answer == CutAnswer::no_cut_needed ? ShaftSuits::as_it_is : ShaftSuits::after_cut;
}

double find_spare(const CutPlan& p, const CutLimits& limits) {
    const ShaftMargins& m = p.after;
    return std::min(m.gap - limits.gap_required, m.overlap - m.overlap_needed);
}

ShaftChoice make_choice(const ShaftCandidate& candidate, const Analysis& a) {
    ShaftChoice c;
    c.key = candidate.setup.driveline.key;
    c.name = candidate.setup.driveline.name;
    c.own = candidate.own;
    if (a.shaft && a.shaft->has_plan) {
        c.has_plan = true;
        c.plan = a.shaft->plan;
        c.closed_length = a.linkage->model.halves.closed_length;
        c.spare = find_spare(c.plan, a.shaft->limits);
    } else if (a.drawn && a.drawn->has_plan) {
        c.has_plan = true;
        c.plan = a.drawn->plan;
        c.closed_length = a.drawn->model.halves.closed_length;
        c.spare = find_spare(c.plan, a.drawn->limits);
    } else if (a.direct && a.direct->has_plan) {
        c.has_plan = true;
        c.plan = a.direct->plan;
        c.closed_length = a.direct->shaft.halves.closed_length;
        c.spare = find_spare(c.plan, a.direct->limits);
    }
    c.reasons = list_reasons(a, c.has_plan);
    c.suits = judge(c);
    return c;
}

double total_cut(const ShaftChoice& c) { return c.plan.recommended.a + c.plan.recommended.b; }

/// A cut changes lengths and guards, so that what was remarked on them uncut no longer counts.
std::ptrdiff_t count_remarks(const ShaftChoice& c) {
    const bool uncut = c.suits == ShaftSuits::as_it_is;
    return std::count_if(c.reasons.begin(), c.reasons.end(), [&](const Finding& f) {
        return f.severity == Severity::watch && (uncut || is_about_match(f.kind));
    });
}

bool is_better(const ShaftChoice& a, const ShaftChoice& b) {
    if (a.suits != b.suits) return a.suits < b.suits;
    const bool fits = a.suits == ShaftSuits::as_it_is || a.suits == ShaftSuits::after_cut;
    if (fits && count_remarks(a) != count_remarks(b)) return count_remarks(a) < count_remarks(b);
    if (a.suits == ShaftSuits::after_cut && total_cut(a) != total_cut(b)) return total_cut(a) < total_cut(b);
    return a.spare > b.spare;
}

bool is_part_of_travel(const Finding& f) { return f.kind == FindingKind::linkage_cannot_close && f.severity <= Severity::unknown; }

struct Judged {
    ShaftChoice choice;
    Analysis analysis;
};

bool is_same_matter(const Finding& a, const Finding& b) {
    return a.kind == b.kind && a.severity == b.severity && a.subject == b.subject && a.other == b.other;
}

/// What is wrong besides, whatever the shaft: found with every shaft that has a plan.
std::vector<Finding> find_common(const std::vector<Judged>& judged) {
    std::vector<Finding> common;
    bool first = true;
    for (const Judged& j : judged) {
        if (!j.choice.has_plan) continue;
        const std::vector<Finding>& own = j.analysis.findings;
        if (first) {
            std::copy_if(own.begin(), own.end(), std::back_inserter(common), [](const Finding& f) { return is_bad(f) && !is_about_shaft(f.kind); });
            first = false;
            continue;
        }
        std::erase_if(common, [&](const Finding& f) { return !any(own, [&](const Finding& g) { return is_same_matter(f, g); }); });
    }
    return common;
}

/// What only this shaft has wrong besides its length: its guard against the deck, a joint of its kind.
void add_own_reasons(const std::vector<Finding>& common, Judged& j) {
    if (!j.choice.has_plan) return;
    bool forbids = false;
    for (const Finding& f : j.analysis.findings) {
        if (!is_bad(f) || is_about_shaft(f.kind) || any(common, [&](const Finding& g) { return is_same_matter(f, g); })) continue;
        j.choice.reasons.push_back(f);
        forbids = forbids || f.severity == Severity::forbids;
    }
    const bool serves = j.choice.suits == ShaftSuits::as_it_is || j.choice.suits == ShaftSuits::after_cut;
    if (forbids && serves) j.choice.suits = ShaftSuits::other_reason;
}

}  // namespace

ShaftStudy study_shafts(const std::vector<ShaftCandidate>& candidates, const Mark& mark) {
    std::vector<Judged> judged;
    for (const ShaftCandidate& candidate : candidates) {
        Analysis a = analyze(candidate.setup, mark, BandEffort::second_order);
        judged.push_back({make_choice(candidate, a), std::move(a)});
    }
    const std::vector<Finding> others = find_common(judged);
    for (Judged& j : judged) add_own_reasons(others, j);
    std::stable_sort(judged.begin(), judged.end(), [](const Judged& a, const Judged& b) { return is_better(a.choice, b.choice); });
    ShaftStudy study;
    for (const Judged& j : judged) study.choices.push_back(j.choice);
    if (judged.empty()) return study;
    const Judged& best = judged.front();
    study.others = others;
    study.whole_travel = !any(best.analysis.findings, is_part_of_travel);
    if (best.choice.has_plan && study.whole_travel) {
        study.order = {true, best.choice.plan.closed_at_most, best.choice.plan.extended_at_least, best.choice.key};
    }
    return study;
}

}  // namespace hitchwright
