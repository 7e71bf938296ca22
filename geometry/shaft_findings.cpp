// Findings about length, overlap, cut, guards and ripple of the shaft; see mounted_findings.h.
// Joint angles: joint_findings.cpp.
#include <algorithm>

#include "geometry/closeness.h"
#include "geometry/cut_finding.h"
#include "geometry/finding_band.h"
#include "geometry/joint_findings.h"
#include "geometry/mounted_findings.h"
#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

Finding make(FindingKind kind, const Limit& rule) {
    Finding f;
    f.kind = kind;
    f.subject = "shaft";
    f.rule = rule;
    return f;
}

void add_extreme(Finding& f, const TravelExtreme& e) {
    f.has_height = true;
    f.height = e.height;
    f.bound_error = find_bound_error(e);
}

class ShaftChecks {
public:
    ShaftChecks(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft, const ErrorModel& errors,
                const ErrorBands& bands)
        : setup_(setup), linkage_(linkage), shaft_(shaft), errors_(errors), bands_(bands) {}

    std::vector<Finding> run() {
        if (shaft_.has_plan) {
            gap();
            overlap();
            overlap_in_work();
            cut();
        }
        guard();
        ripple();
        return out_;
    }

private:
    bool no_cut_works() const { return shaft_.plan.answer == CutAnswer::no_cut_works; }

    void gap() {
        const CutPlan& p = shaft_.plan;
        Finding f = make(FindingKind::gap_at_shortest, setup_.rules.gap_required);
        f.value = p.uncut.gap;
        f.has_limit = true;
        f.limit = shaft_.limits.gap_required;
        f.margin = f.value - f.limit;
        set_band(f, bands_.gap);
        add_extreme(f, shaft_.travel.shortest);
        f.terms = {{"S_min", shaft_.travel.shortest.bound, Dimension::length, "shortest distance of the joint centres over the travel"},
                   {"S_0", p.uncut.closed_length, Dimension::length, "closed length of the shaft"},
                   {"gap_aimed", shaft_.limits.gap_aimed, Dimension::length, "gap a cut aims for"}};
        const bool kept = f.margin >= -cut_tolerance;
        f.severity = kept ? Severity::good : is_no_cut_certain() ? Severity::forbids : Severity::change;
        if (!kept) f.cautions = {Caution::parts_or_breaks};
        if (is_too_close(f)) doubt_it(f);
        else if (kept && !p.uncut.gap_aim_reached) f.severity = Severity::watch;
        out_.push_back(f);
    }

    void overlap() {
        const CutPlan& p = shaft_.plan;
        const bool apart = p.uncut.overlap < 0.0;
        const double share = shaft_.limits.overlap_fraction * longer_tube(linkage_.model.halves);
        Finding f = make(apart ? FindingKind::separation : FindingKind::overlap_at_longest,
                         share > shaft_.limits.overlap_least ? setup_.rules.overlap_fraction : setup_.rules.overlap_least);
        f.value = p.uncut.overlap;
        f.has_limit = true;
        f.limit = p.uncut.overlap_needed;
        f.margin = f.value - f.limit;
        set_band(f, bands_.overlap);
        add_extreme(f, shaft_.travel.longest);
        f.terms = overlap_terms();
        const bool assumed = linkage_.model.uncut.assumption != HalvesAssumption::none;
        if (assumed) f.terms.push_back({"tubes_assumed", 1.0, Dimension::ratio, "1: a tube was not measured but assumed"});
        const bool kept = f.margin >= -cut_tolerance;
        f.severity = kept ? Severity::good : Severity::forbids;
        if (!kept) {
            f.heights = find_heights_shorter_than(linkage_.model, linkage_.box, longest_allowed(f.limit));
            f.cautions = {Caution::parts_or_breaks, Caution::keep_from_turning_shaft};
            f.remedies = {{RemedyKind::longer_shaft, -f.margin, 0, ""}};
        }
        if (is_too_close(f)) doubt_it(f);
        else if (kept && (assumed || !p.uncut.overlap_aim_reached)) f.severity = Severity::watch;
        out_.push_back(f);
    }

    static double longer_tube(const TelescopingHalves& h) { return std::max(h.tube_a, h.tube_b); }
    /// Length at which just `needed` of overlap is left.
    double longest_allowed(double needed) const { return find_overlap(linkage_.model.halves, 0.0) - needed; }

    std::vector<Term> overlap_terms() const {
        const TelescopingHalves& h = linkage_.model.halves;
        return {{"S_max", shaft_.travel.longest.bound, Dimension::length, "longest distance of the joint centres over the travel"},
                {"S_0", h.closed_length, Dimension::length, "closed length of the shaft"},
                {"t_A", h.tube_a, Dimension::length, "free tube of the tractor half"},
                {"t_B", h.tube_b, Dimension::length, "free tube of the implement half"},
                {"f", shaft_.limits.overlap_fraction, Dimension::ratio, "share of the longer tube that must overlap"},
                {"O_least", shaft_.limits.overlap_least, Dimension::length, "least overlap as a length"}};
    }

    /// The readings decide less than the limit asks: neither yes nor no.
    void doubt_it(Finding& f) const {
        f.remedies.clear();
        call_too_close(f, errors_);
        f.cautions = {Caution::measure_before_cutting, Caution::stop_before_touching};
    }

    void overlap_in_work() {
        if (!setup_.rules.overlap_fraction_work.set || setup_.rules.overlap_fraction_work.value <= 0.0) return;
        Finding f = make(FindingKind::overlap_in_work, setup_.rules.overlap_fraction_work);
        f.value = find_overlap(linkage_.model.halves, shaft_.work.longest.bound);
        f.has_limit = true;
        f.limit = setup_.rules.overlap_fraction_work.value * longer_tube(linkage_.model.halves);
        f.margin = f.value - f.limit;
        add_extreme(f, shaft_.work.longest);
        f.terms = overlap_terms();
        f.terms[0] = {"S_work", shaft_.work.longest.bound, Dimension::length, "longest distance of the joint centres in the working band"};
        f.terms[4].value = setup_.rules.overlap_fraction_work.value;
        set_band(f, bands_.overlap_in_work);
        f.severity = f.margin >= -cut_tolerance ? Severity::good : Severity::forbids;
        if (f.severity == Severity::forbids) {
            f.remedies = {{RemedyKind::longer_shaft, -f.margin, 0, ""}};
            f.cautions = {Caution::parts_or_breaks};
        }
        if (is_too_close(f)) doubt_it(f);
        out_.push_back(f);
    }

    void cut() {
        const CutPlan& p = shaft_.plan;
        if (p.answer == CutAnswer::no_cut_needed) return;
        Finding f = make_cut_finding(p, {shaft_.travel.shortest.bound, shaft_.travel.longest.bound, 0.0}, shaft_.plan_error, setup_.rules.gap_required);
        if (no_cut_works()) {
            f.remedies = find_ways_out(setup_, linkage_, shaft_, millimetre_mark);
            if (!is_no_cut_certain()) set_doubt(f, -p.overlap_short_by, widen(bands_.overlap, find_no_cut_band()));
        } else {
            describe_cut(p, f);
            doubt_cut(p, f);
        }
        out_.push_back(f);
    }

    /// The readings may be off by enough that a cut works after all. Each half that is cut carries the error of the
    /// shortest length over to the overlap.
    double find_no_cut_band() const {
        return std::max(bands_.overlap.width, bands_.overlap_in_work.width) + count_halves_cut() * bands_.gap.width;
    }
    int count_halves_cut() const {
        const CutPair& cut = shaft_.plan.least_cut;
        return (cut.a > 0.0 ? 1 : 0) + (cut.b > 0.0 ? 1 : 0);
    }
    bool is_no_cut_certain() const {
        const CutPlan& p = shaft_.plan;
        const double band = find_no_cut_band();
        return no_cut_works() && (p.obstacle == CutObstacle::tubes_used_up || band <= 0.0 ||
                                  !is_within(p.overlap_short_by, band, {&bands_.overlap, &bands_.overlap_in_work, &bands_.gap}));
    }

    /// The cut is right by the readings, but they may be off by more than the overlap it leaves to spare, or by the
    /// whole gap: once cut, a tube does not grow again.
    void doubt_cut(const CutPlan& p, Finding& f) const {
        const double overlap = p.after.overlap - p.after.overlap_needed;
        const double in_work = p.after.overlap_in_work - p.after.overlap_in_work_needed;
        const auto doubt = [&](double spare, const ErrorBand& band) {
            if (band.width > 0.0 && is_within(spare, band.width, {&band})) set_doubt(f, spare, band);
        };
        if (p.after.overlap_in_work_needed > 0.0) doubt(in_work, bands_.overlap_in_work);
        doubt(overlap, bands_.overlap);
        doubt(p.after.gap, bands_.gap);
    }

    /// Undecided because of the readings; what to do stays, a closer reading comes first.
    void set_doubt(Finding& f, double margin, const ErrorBand& band) const {
        const bool of_gap = bands_.gap.widest.share > bands_.overlap.widest.share;
        f.severity = Severity::unknown;
        f.margin = margin;
        set_band(f, band);
        f.has_height = true;
        f.height = of_gap ? shaft_.travel.shortest.height : shaft_.travel.longest.height;
        const std::vector<Remedy> retakes = list_retakes(errors_, of_gap ? bands_.gap : bands_.overlap, margin);
        f.remedies.insert(f.remedies.begin(), retakes.begin(), retakes.end());
    }

    /// A band that others add to.
    static ErrorBand widen(ErrorBand band, double width) {
        band.below = band.above = band.width = width;
        return band;
    }

    static void describe_cut(const CutPlan& p, Finding& f) {
        f.has_limit = p.equal_possible;
        f.limit = p.equal_most;
        f.margin = p.equal_possible ? p.equal_most - f.value : 0.0;
        f.remedies = {make_cut_remedy(p)};
    }

    void guard() {
        if (!shaft_.has_guard || shaft_.guard.status != HalvesStatus::ok) return;
        guard_gap(shaft_.guard);
        guard_overlap(shaft_.guard, "");
        if (!is_cut_planned()) return;
        // Both guards lose what the tubes lose, also when that is more than they have.
        GuardResult after = shaft_.guard;
        after.overlap_at_longest -= shaft_.plan.recommended.a + shaft_.plan.recommended.b;
        if (!keeps_guard_overlap(after)) guard_overlap(after, "after_cut");
    }

    bool is_cut_planned() const {
        return shaft_.has_plan && !no_cut_works() && shaft_.plan.answer != CutAnswer::no_cut_needed;
    }
    double guard_overlap_needed() const { return setup_.rules.guard_overlap.set ? setup_.rules.guard_overlap.value : 0.0; }
    bool keeps_guard_overlap(const GuardResult& g) const { return g.overlap_at_longest >= guard_overlap_needed(); }

    /// The guards lose what the tubes lose.
    GuardResult find_guard_after_cut() const {
        const CutHalves steel = cut_halves(linkage_.model.halves, shaft_.plan.recommended);
        const CutHalves guard = cut_halves(linkage_.model.guard, shaft_.plan.recommended);
        if (steel.status != CutStatus::ok || guard.status != CutStatus::ok) return {};
        return check_guard_tubes(steel.halves, guard.halves, shaft_.travel.shortest.bound, shaft_.travel.longest.bound);
    }

    void guard_gap(const GuardResult& g) {
        Finding f = make(FindingKind::guard_gap, Limit{0.0, true, Grade::D, "guard tubes must not bottom"});
        f.value = f.margin = g.gap_at_shortest;
        f.has_limit = true;
        add_extreme(f, shaft_.travel.shortest);
        set_band(f, bands_.guard_gap);
        f.severity = f.value < 0.0 ? Severity::change : f.margin < f.band ? Severity::watch : Severity::good;
        if (f.value < 0.0) {
            f.cautions = {Caution::guards_complete};
            const GuardResult after = is_cut_planned() ? find_guard_after_cut() : GuardResult{};
            if (after.status == HalvesStatus::ok && after.gap_at_shortest >= 0.0) f.other = "cured_by_cut";
        }
        out_.push_back(f);
    }

    void guard_overlap(const GuardResult& g, const char* when) {
        Finding f = make(FindingKind::guard_overlap, setup_.rules.guard_overlap);
        f.other = when;
        f.value = g.overlap_at_longest;
        f.has_limit = true;
        f.limit = guard_overlap_needed();
        f.margin = f.value - f.limit;
        add_extreme(f, shaft_.travel.longest);
        set_band(f, bands_.guard_overlap);
        f.severity = f.value <= 0.0    ? Severity::forbids
                     : f.margin < 0.0    ? Severity::change
                     : f.margin < f.band ? Severity::watch
                                         : Severity::good;
        if (f.margin < 0.0) {
            f.cautions = {Caution::guards_complete, Caution::keep_from_turning_shaft};
            f.remedies = {{RemedyKind::match_part, -f.margin, 0, "longer guard tubes"}};
        }
        out_.push_back(f);
    }

    void ripple() {
        if (!shaft_.work.turns) return;  // the joint angle is what is wrong then
        const Limit& rule = setup_.rules.non_uniformity;
        Finding f = make(FindingKind::non_uniformity, rule);
        f.dimension = Dimension::ratio;
        f.value = shaft_.work.non_uniformity.bound;
        f.has_limit = rule.set;
        f.limit = rule.value;
        f.margin = f.limit - f.value;
        set_band(f, bands_.non_uniformity);
        add_extreme(f, shaft_.work.non_uniformity);
        if (linkage_.working.pose.closes) {
            f.terms = {{"B1", linkage_.working.tractor_angle, Dimension::angle, "joint angle at the tractor, working pose"},
                       {"B2", linkage_.working.implement_angle, Dimension::angle, "joint angle at the implement, working pose"}};
        }
        if (linkage_.model.ends.wide_angle != WideAngleEnd::none) {
            f.terms.push_back({"wide_angle", 1.0, Dimension::ratio, "1: a wide-angle joint, even in itself, leaves the plain joint's ripple"});
        }
        f.terms.push_back({"g", linkage_.model.ends.yoke_phase_error, Dimension::angle, "phase error of the inner yokes"});
        f.severity = rule.set && f.margin < 0.0 ? Severity::watch : Severity::good;
        out_.push_back(f);
    }

    const Setup& setup_;
    const LinkageAnalysis& linkage_;
    const ShaftAnalysis& shaft_;
    const ErrorModel& errors_;
    const ErrorBands& bands_;
    std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> check_shaft(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft,
                                 const ErrorModel& errors, const ErrorBands& bands) {
    std::vector<Finding> out = ShaftChecks(setup, linkage, shaft, errors, bands).run();
    for (Finding& f : check_joint_angles(setup, linkage, shaft, errors, bands)) out.push_back(std::move(f));
    return out;
}

}  // namespace hitchwright
