#include "geometry/hole_study.h"

#include <algorithm>
#include <cassert>
#include <utility>

#include "geometry/common_heights.h"
#include "geometry/hole_ranking.h"
#include "geometry/model_fit.h"
#include "geometry/variant.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(HoleResult);
HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(HoleStudy);

namespace {

bool wants_change(const Finding& f) { return f.severity == Severity::change; }
bool forbids(const Finding& f) { return f.severity == Severity::forbids; }

/// Findings that a cut of the shaft answers.
bool is_about_cut(const Finding& f) {
    return f.kind == FindingKind::cut || f.kind == FindingKind::gap_at_shortest ||
           (f.kind == FindingKind::guard_gap && f.other == "cured_by_cut");
}

/// Findings that another shaft, longer or with more overlap, answers.
bool is_about_shaft_length(const Finding& f) {
    switch (f.kind) {
        case FindingKind::no_cut_works:
        case FindingKind::separation:
        case FindingKind::gap_at_shortest:
        case FindingKind::overlap_at_longest:
        case FindingKind::overlap_in_work:
        case FindingKind::guard_gap:
        case FindingKind::guard_overlap: return true;
        default: return false;
    }
}

bool is_about_closing(const Finding& f) {
    return f.kind == FindingKind::linkage_cannot_close || f.kind == FindingKind::dead_centre_in_travel ||
           f.kind == FindingKind::travel_bound;
}

template <class P>
bool any(const std::vector<Finding>& findings, const P& p) {
    return std::any_of(findings.begin(), findings.end(), p);
}

HoleStanding find_standing(const Analysis& a) {
    if (any(a.findings, [](const Finding& f) { return forbids(f) && is_about_closing(f); })) return HoleStanding::does_not_close;
    const bool shaft_only = !any(a.findings, [](const Finding& f) { return forbids(f) && !is_about_shaft_length(f); });
    const bool out_of_reach =
        any(a.findings, [](const Finding& f) { return wants_change(f) && f.kind == FindingKind::upper_link_reach; });
    switch (a.verdict) {
        case Verdict::must_not_run:
            if (!shaft_only) return HoleStanding::must_not_run;
            return out_of_reach ? HoleStanding::link_out_of_reach : HoleStanding::other_shaft;
        case Verdict::too_close_to_call:
        case Verdict::not_known: return out_of_reach ? HoleStanding::link_out_of_reach : HoleStanding::not_decided;
        case Verdict::fits: return HoleStanding::fits;
        case Verdict::fits_after_change: break;
    }
    if (out_of_reach) return HoleStanding::link_out_of_reach;
    const bool cut_only = !any(a.findings, [](const Finding& f) { return wants_change(f) && !is_about_cut(f); });
    return cut_only ? HoleStanding::cut : HoleStanding::change;
}

/// The plain heights with the ends a condition states: those allow for the readings' errors.
std::vector<HeightRange> find_stated_heights(std::vector<HeightRange> heights, const Analysis& a, std::string_view what) {
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::joint_angle_over_travel || f.other != what) continue;
        for (const Remedy& r : f.remedies) {
            if (r.kind != RemedyKind::pto_off_above) continue;
            for (HeightRange& h : heights) {
                if (!h.contains(r.value)) continue;
                (r.subject == "below" ? h.low : h.high) = r.value;
            }
        }
    }
    return heights;
}

/// `setup`: without its direct readings; `base`: with them, where there are any.
HoleResult study_one(const Setup& setup, const std::optional<Analysis>& base, const HoleCombination& holes, const Mark& mark) {
    const Setup chosen = choose_holes(setup, holes);
    HoleResult r;
    r.numbers = find_hole_numbers(chosen, make_mounted_model(chosen), holes, mark);
    r.numbers.is_present = is_chosen(setup, holes);
    r.analysis = analyze(chosen, mark, BandEffort::second_order);
    if (base) keep_contradiction(*base, r.analysis);
    r.standing = find_standing(r.analysis);
    if (r.numbers.shaft) {
        r.work_heights = find_stated_heights(r.numbers.shaft->work_heights, r.analysis, "no_work");
        r.pto_heights = find_stated_heights(r.numbers.shaft->pto_heights, r.analysis, "pto_off");
        // Where work and PTO end at the same angle only the PTO's height is drawn in; no work goes on beyond it.
        r.work_heights = find_common_heights(r.work_heights, r.pto_heights);
    }
    const auto count = [&](Severity s) {
        return static_cast<int>(std::count_if(r.analysis.findings.begin(), r.analysis.findings.end(),
                                              [s](const Finding& f) { return f.severity == s; }));
    };
    r.changes = count(Severity::change);
    r.conditions = count(Severity::condition);
    return r;
}

}  // namespace

HoleSearch::HoleSearch(Setup setup, const Mark& mark, HoleWish wish) : setup_(std::move(setup)), mark_(mark) {
    study_.wish = study_.judged_by = wish;
    const std::vector<HoleCombination> all = list_hole_combinations(setup_);
    study_.combinations = all.size();
    const bool drawn = setup_.implement.attachment == Attachment::drawn;
    if (drawn || all.empty()) study_.findings = analyze(setup_, mark_, BandEffort::second_order).findings;
    if (drawn || all.size() > most_hole_combinations) return;
    to_do_ = all;
    study_.typed_link_ignored = setup_.choices.upper_link_length.known && !to_do_.empty() &&
                                !choose_holes(setup_, to_do_.front()).choices.upper_link_length.known;
}

bool HoleSearch::step() {
    if (finished()) return false;
    // What was read directly was read with the present holes: it belongs to the machine, not to the other holes.
    if (!prepared_) {
        fitted_ = apply_fit(setup_);
        if (fitted_ != setup_) base_ = analyze_alone(setup_, mark_, BandEffort::second_order);
        prepared_ = true;
    }
    study_.results.push_back(study_one(fitted_, base_, to_do_[done()], mark_));
    return true;
}

HoleStudy HoleSearch::take() {
    assert(finished());
    rank_holes(study_);
    return std::move(study_);
}

HoleStudy study_holes(const Setup& setup, const Mark& mark, HoleWish wish) {
    HoleSearch search(setup, mark, wish);
    while (search.step()) {}
    return search.take();
}

std::string_view hole_wish_word(HoleWish w) {
    switch (w) {
        case HoleWish::general: return "general";
        case HoleWish::level_carry: return "level-carry";
        case HoleWish::tail_high: return "tail-high";
        case HoleWish::most_lift: return "most-lift";
        case HoleWish::shallow_joints: return "shallow-joints";
    }
    return "general";
}

std::string_view hole_standing_word(HoleStanding s) {
    switch (s) {
        case HoleStanding::fits: return "fits";
        case HoleStanding::cut: return "cut";
        case HoleStanding::change: return "change";
        case HoleStanding::not_decided: return "not_decided";
        case HoleStanding::other_shaft: return "other_shaft";
        case HoleStanding::link_out_of_reach: return "link_out_of_reach";
        case HoleStanding::must_not_run: return "must_not_run";
        case HoleStanding::does_not_close: return "does_not_close";
    }
    return "does_not_close";
}

std::string_view hole_measure_word(HoleMeasure m) {
    switch (m) {
        case HoleMeasure::standing: return "standing";
        case HoleMeasure::changes: return "changes";
        case HoleMeasure::load_rises: return "load_rises";
        case HoleMeasure::points: return "points";
        case HoleMeasure::joint_angle: return "joint_angle";
        case HoleMeasure::joint_angle_in_work: return "joint_angle_in_work";
        case HoleMeasure::lift_ratio: return "lift_ratio";
        case HoleMeasure::pitch_change: return "pitch_change";
        case HoleMeasure::tail_height: return "tail_height";
        case HoleMeasure::pitch_top: return "pitch_top";
        case HoleMeasure::thread_left: return "thread_left";
    }
    return "standing";
}

const std::vector<HoleWish>& all_hole_wishes() {
    static const std::vector<HoleWish> all{HoleWish::general, HoleWish::level_carry, HoleWish::tail_high,
                                           HoleWish::most_lift, HoleWish::shallow_joints};
    return all;
}

}  // namespace hitchwright
