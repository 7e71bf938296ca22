// See direct_analysis.h.
#include "geometry/direct_analysis.h"

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/cut_finding.h"
#include "geometry/joint_findings.h"
#include "geometry/mounted_findings.h"
#include "geometry/ways_out.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(DirectAnalysis);

namespace {

/// Bend of a joint that nobody limits, while a reading is taken with the shaft off, rad.
constexpr double bend_without_limit = to_radians(50.0);

double find_bend_most(const Setup& s) {
    const LimitView a = find_joint_limits(s, JointEnd::tractor).stop, b = find_joint_limits(s, JointEnd::implement).stop;
    if (!a.set || !b.set) return bend_without_limit;
    return std::min(std::max(a.value, b.value), bend_without_limit);
}

const Limit curve_rule{0.0, true, Grade::P, "distances taped on the machine; a parabola of their squares in between"};

std::string word_of(DirectStatus status) {
    switch (status) {
        case DirectStatus::none: return "none";
        case DirectStatus::too_few: return "too_few";
        case DirectStatus::no_middle: return "no_middle";
        case DirectStatus::range_too_small: return "range_too_small";
        case DirectStatus::misses_travel: return "misses_travel";
        case DirectStatus::distance_missing: return "distance_missing";
        case DirectStatus::impossible: return "impossible";
        case DirectStatus::wide_angle: return "wide_angle";
        case DirectStatus::ok: return "ok";
    }
    return "none";
}

std::string word_of(LengthReference points) {
    switch (points) {
        case LengthReference::joint_centres: return "joint_centres";
        case LengthReference::locking_grooves: return "locking_grooves";
        case LengthReference::shaft_ends: return "shaft_ends";
    }
    return "joint_centres";
}

std::string word_of_cause(const DirectComparison& c) {
    switch (c.cause) {
        case DirectCause::unknown: return "contradiction";
        case DirectCause::one_reading: return "one_reading";
        case DirectCause::other_points: return "points_" + word_of(c.points);
        case DirectCause::upper_link_pin: return "upper_link_pin";
        case DirectCause::mast_pin: return "mast_pin";
        case DirectCause::drawbar_pin: return "drawbar_pin";
    }
    return "contradiction";
}

std::string name_reading(const Setup& s, std::size_t index) {
    const std::string& name = s.implement.attachment == Attachment::drawn ? s.turn_readings[index].name : s.direct_readings[index].name;
    return name.empty() ? std::to_string(index + 1) : name;
}

class DirectFindings {
public:
    DirectFindings(const Setup& setup, const DirectAnalysis& direct)
        : setup_(setup), d_(direct), drawn_(setup.implement.attachment == Attachment::drawn) {}

    std::vector<Finding> run() {
        if (d_.comparison) {
            compare();
            return out_;
        }
        source();
        if (!d_.has_plan) return out_;
        gap();
        overlap();
        cut();
        guard();
        return out_;
    }

private:
    static Finding make(FindingKind kind, const char* subject) {
        Finding f;
        f.kind = kind;
        f.subject = subject;
        return f;
    }

    /// One finding for all readings: the one that is farthest off for its band.
    void compare() {
        const DirectComparison& c = *d_.comparison;
        if (c.checks.empty()) return;
        const auto worst = std::max_element(c.checks.begin(), c.checks.end(), [](const DirectCheck& a, const DirectCheck& b) {
            return a.agrees != b.agrees ? a.agrees : std::fabs(a.off) * b.band < std::fabs(b.off) * a.band;
        });
        Finding f = make(FindingKind::direct_reading, "");
        f.subject = name_reading(setup_, worst->reading);
        f.value = worst->off;
        f.has_limit = true;
        f.limit = direct_doubt * worst->band;
        f.margin = f.limit - std::fabs(worst->off);
        if (drawn_) {
            f.has_attitude = true;
            f.attitude.yaw = setup_.turn_readings[worst->reading].turn.value;
        } else {
            f.has_height = true;
            f.height = setup_.direct_readings[worst->reading].ball_height.value;
        }
        f.rule = {0.0, true, Grade::D, "the reading, simulated as it was taken"};
        for (const DirectCheck& check : c.checks) {
            const std::string name = name_reading(setup_, check.reading);
            f.terms.push_back({"read " + name, check.predicted + check.off, Dimension::length, "as taped"});
            f.terms.push_back({"computed " + name, check.predicted, Dimension::length, "between the same points"});
        }
        if (!c.agree) {
            f.severity = Severity::unknown;
            f.other = word_of_cause(c);
            if (c.cause == DirectCause::upper_link_pin || c.cause == DirectCause::mast_pin || c.cause == DirectCause::drawbar_pin) f.subject = c.subject;
            f.remedies = {{RemedyKind::measure, 0.0, 0.0, drawn_ ? "turn_reading" : "direct_reading"}};
            if (c.cause == DirectCause::unknown && !worst->widest.empty()) {
                f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, worst->widest});
            }
            f.cautions = {Caution::measure_before_cutting, Caution::stop_before_touching};
        }
        out_.push_back(f);
    }

    /// Where the lengths come from, and how far that goes.
    void source() {
        const DirectTravel& t = d_.travel;
        Finding f = make(FindingKind::direct_travel, "shaft");
        f.other = word_of(t.status);
        f.rule = curve_rule;
        f.value = static_cast<double>(setup_.direct_readings.size());
        f.dimension = Dimension::ratio;
        f.cautions = {Caution::stop_before_touching};
        if (t.status != DirectStatus::ok) {
            f.severity = Severity::unknown;
            f.terms = {{"missed_by", t.missed_by, Dimension::length, "travel beyond the readings"},
                       {"missed_high", t.missed_high ? 1.0 : 0.0, Dimension::ratio, "1: at the top"}};
            for (const std::string& key : t.missing) f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, key});
            if (t.missing.empty()) f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, "direct_reading"});
            out_.push_back(f);
            return;
        }
        f.severity = t.rough ? Severity::unknown : Severity::watch;
        f.terms = {{"lowest", t.lengths.front().height, Dimension::length, "lowest height read"},
                   {"highest", t.lengths.back().height, Dimension::length, "highest height read"},
                   {"curve", curve_allowance, Dimension::length, "allowed for the curve between readings"},
                   {"travel_assumed", t.travel_assumed ? 1.0 : 0.0, Dimension::ratio, "1: the readings' ends are taken for the travel's"}};
        if (t.rough) {
            f.other = "rough";
            const DirectLength& l = t.lengths[t.roughest];
            f.subject = l.name;
            f.has_height = true;
            f.height = l.height;
            f.terms.push_back({"off", l.off, Dimension::length, "from the curve through all readings"});
            f.remedies = {{RemedyKind::measure, 0.0, 0.0, "direct_reading"}};
        }
        out_.push_back(f);
        for (Finding& o : report_obstacles(d_.shaft.obstacles)) out_.push_back(std::move(o));
    }

    static void place(Finding& f, const DirectExtreme& e) {
        f.has_height = true;
        f.height = e.height;
    }

    void call_too_close(Finding& f) const {
        if (!(f.band > 0.0 && std::fabs(f.margin) < f.band)) return;
        f.severity = Severity::unknown;
        f.remedies = {{RemedyKind::measure, f.band, 0.0, "direct_reading"}};
        f.cautions = {Caution::measure_before_cutting, Caution::stop_before_touching};
    }

    bool no_cut_works() const { return d_.plan.answer == CutAnswer::no_cut_works; }

    void gap() {
        const CutPlan& p = d_.plan;
        Finding f = make(FindingKind::gap_at_shortest, "shaft");
        f.rule = setup_.rules.gap_required;
        f.value = p.uncut.gap;
        f.has_limit = true;
        f.limit = d_.limits.gap_required;
        f.margin = f.value - f.limit;
        f.band = d_.gap_band;
        place(f, d_.travel.shortest);
        f.terms = {{"S_min", d_.travel.shortest.length, Dimension::length, "shortest distance of the joint centres, from direct readings"},
                   {"S_0", p.uncut.closed_length, Dimension::length, "closed length of the shaft"},
                   {"gap_aimed", d_.limits.gap_aimed, Dimension::length, "gap a cut aims for"}};
        const bool kept = f.margin >= -cut_tolerance;
        f.severity = kept ? (p.uncut.gap_aim_reached ? Severity::good : Severity::watch) : no_cut_works() ? Severity::forbids : Severity::change;
        if (!kept) f.cautions = {Caution::parts_or_breaks};
        call_too_close(f);
        out_.push_back(f);
    }

    void overlap() {
        const CutPlan& p = d_.plan;
        const TelescopingHalves& h = d_.shaft.halves;
        const double share = d_.limits.overlap_fraction * std::max(h.tube_a, h.tube_b);
        Finding f = make(p.uncut.overlap < 0.0 ? FindingKind::separation : FindingKind::overlap_at_longest, "shaft");
        f.rule = share > d_.limits.overlap_least ? setup_.rules.overlap_fraction : setup_.rules.overlap_least;
        f.value = p.uncut.overlap;
        f.has_limit = true;
        f.limit = p.uncut.overlap_needed;
        f.margin = f.value - f.limit;
        f.band = d_.overlap_band;
        place(f, d_.travel.longest);
        f.terms = {{"S_max", d_.travel.longest.length, Dimension::length, "longest distance of the joint centres, from direct readings"},
                   {"S_0", h.closed_length, Dimension::length, "closed length of the shaft"},
                   {"t_A", h.tube_a, Dimension::length, "free tube of the tractor half"},
                   {"t_B", h.tube_b, Dimension::length, "free tube of the implement half"},
                   {"f", d_.limits.overlap_fraction, Dimension::ratio, "share of the longer tube that must overlap"},
                   {"O_least", d_.limits.overlap_least, Dimension::length, "least overlap as a length"},
                   {"heights_unknown", 1.0, Dimension::ratio, "1: heights with enough overlap are not computed"}};
        const bool assumed = d_.shaft.uncut.assumption != HalvesAssumption::none;
        if (assumed) f.terms.push_back({"tubes_assumed", 1.0, Dimension::ratio, "1: a tube was not measured but assumed"});
        const bool kept = f.margin >= -cut_tolerance;
        f.severity = !kept ? Severity::forbids : assumed || !p.uncut.overlap_aim_reached ? Severity::watch : Severity::good;
        if (!kept) {
            f.cautions = {Caution::parts_or_breaks, Caution::keep_from_turning_shaft};
            f.remedies = {{RemedyKind::longer_shaft, -f.margin, 0, ""}};
        }
        call_too_close(f);
        out_.push_back(f);
    }

    void cut() {
        const CutPlan& p = d_.plan;
        if (p.answer == CutAnswer::no_cut_needed) return;
        Finding f = make_cut_finding(p, {d_.travel.shortest.length, d_.travel.longest.length, 0.0}, 0.0, setup_.rules.gap_required);
        std::erase(f.cautions, Caution::measure_before_cutting);  // it was
        if (no_cut_works()) {
            f.remedies = {{RemedyKind::order_shaft, p.closed_at_most, p.extended_at_least, ""}};
            doubt(f, -p.overlap_short_by, d_.overlap_band + 2.0 * d_.gap_band, p.obstacle != CutObstacle::tubes_used_up);
        } else {
            f.remedies = {make_cut_remedy(p)};
            doubt(f, p.after.overlap - p.after.overlap_needed, d_.overlap_band, true);
            doubt(f, p.after.gap, d_.gap_band, true);
        }
        out_.push_back(f);
    }

    /// The guards lose what the tubes lose, so that a cut of the tubes puts a gap right.
    void guard() {
        if (!d_.shaft.has_guard) return;
        const GuardResult g = check_guard_tubes(d_.shaft.halves, d_.shaft.guard, d_.travel.shortest.length, d_.travel.longest.length);
        if (g.status != HalvesStatus::ok) return;
        Finding gap = make(FindingKind::guard_gap, "shaft");
        gap.rule = {0.0, true, Grade::D, "guard tubes must not bottom"};
        gap.value = gap.margin = g.gap_at_shortest;
        gap.has_limit = true;
        place(gap, d_.travel.shortest);
        gap.band = d_.gap_band;
        gap.severity = gap.value < 0.0 ? Severity::change : gap.margin < gap.band ? Severity::watch : Severity::good;
        if (gap.value < 0.0) {
            gap.cautions = {Caution::guards_complete};
            if (is_gap_cured()) gap.other = "cured_by_cut";
        }
        out_.push_back(gap);
        Finding overlap = make(FindingKind::guard_overlap, "shaft");
        overlap.rule = setup_.rules.guard_overlap;
        overlap.value = g.overlap_at_longest;
        overlap.has_limit = true;
        overlap.limit = setup_.rules.guard_overlap.set ? setup_.rules.guard_overlap.value : 0.0;
        overlap.margin = overlap.value - overlap.limit;
        place(overlap, d_.travel.longest);
        overlap.band = d_.overlap_band;
        overlap.severity = overlap.value <= 0.0 ? Severity::forbids : overlap.margin < 0.0 ? Severity::change
                           : overlap.margin < overlap.band ? Severity::watch : Severity::good;
        if (overlap.margin < 0.0) overlap.cautions = {Caution::guards_complete, Caution::keep_from_turning_shaft};
        out_.push_back(overlap);
    }

    bool is_gap_cured() const {
        if (no_cut_works() || d_.plan.answer == CutAnswer::no_cut_needed) return false;
        const CutHalves steel = cut_halves(d_.shaft.halves, d_.plan.recommended), guard = cut_halves(d_.shaft.guard, d_.plan.recommended);
        if (steel.status != CutStatus::ok || guard.status != CutStatus::ok) return false;
        return check_guard_tubes(steel.halves, guard.halves, d_.travel.shortest.length, d_.travel.longest.length).gap_at_shortest >= 0.0;
    }

    static void doubt(Finding& f, double margin, double band, bool possible) {
        if (!possible || band <= 0.0 || std::fabs(margin) >= band) return;
        f.severity = Severity::unknown;
        f.margin = margin;
        f.band = band;
        f.remedies.insert(f.remedies.begin(), {RemedyKind::measure, band, 0.0, "direct_reading"});
    }

    const Setup& setup_;
    const DirectAnalysis& d_;
    bool drawn_;
    std::vector<Finding> out_;
};

}  // namespace

DirectAnalysis analyze_direct(const Setup& s, const MountedModelResult& mounted, const std::optional<ModelFit>& fit, const Mark& mark) {
    DirectAnalysis d;
    if (mounted.linkage_ok && mounted.model.has_shaft) {
        d.comparison = fit ? make_direct_comparison(s, *fit) : DirectComparison{};
        return d;
    }
    d.travel = find_direct_travel(s, find_bend_most(s));
    d.shaft = make_shaft_halves(s);
    if (d.travel.status != DirectStatus::ok || !d.shaft.known) return d;
    d.limits = make_cut_limits(s.rules);
    d.plan = plan_cut(d.shaft.halves, {d.travel.shortest.length, d.travel.longest.length, 0.0}, d.limits, mark);
    d.has_plan = is_answered(d.plan);
    const Driveline& k = s.driveline;
    d.gap_band = std::hypot(d.travel.shortest.error, k.closed_length.tolerance);
    d.overlap_band = std::hypot(d.travel.longest.error, k.closed_length.tolerance,
                                std::hypot(k.tractor_tube.tolerance, k.implement_tube.tolerance));
    return d;
}

std::vector<Finding> check_direct(const Setup& setup, const DirectAnalysis& direct) { return DirectFindings(setup, direct).run(); }

}  // namespace hitchwright
