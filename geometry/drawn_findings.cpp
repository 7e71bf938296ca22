// Findings of a drawn set-up; see drawn_analysis.h.
#include <algorithm>
#include <cmath>

#include "geometry/carried_bands.h"
#include "geometry/closeness.h"
#include "geometry/cut_finding.h"
#include "geometry/drawbar_figures.h"
#include "geometry/drawn_analysis.h"
#include "geometry/finding_band.h"
#include "geometry/joint_findings.h"

namespace hitchwright {
namespace {

class DrawnFindings {
public:
    DrawnFindings(const ErrorModel& errors, const DrawnAnalysis& drawn) : errors_(errors), setup_(errors.setup()), d_(drawn), m_(drawn.model) {}

    std::vector<Finding> run() {
        hitch();
        load();
        play();
        for (std::size_t i = 0; i < d_.turns.size(); ++i) turn_limit(d_.turns[i], d_.turn_bands[i]);
        if (m_.has_shaft) {
            straight_angles();
            ripple();
            angles();
        }
        if (d_.has_plan) {
            gap();
            overlap();
            cut();
            guard();
        }
        if (d_.ditch) ditch();
        return out_;
    }

private:
    static Finding make(FindingKind kind, const std::string& subject, const Limit& rule) {
        Finding f;
        f.kind = kind;
        f.subject = subject;
        f.rule = rule;
        return f;
    }
    static Limit rule_of(const Figure& figure, const char* source) { return {figure.value, true, figure.grade, source}; }

    /// Length, height and drop of the drawbar against the figures for the PTO.
    void hitch() {
        const DrawbarFigures figures = find_drawbar_figures(setup_.tractor.pto.type);
        const DrawbarPin& pin = setup_.tractor.drawbar_pins[m_.pin];
        if (figures.length.value > 0.0) {
            Finding f = make(FindingKind::drawbar_length, pin.name, rule_of(figures.length, "drawbar length for the PTO type"));
            f.value = m_.drawbar_length;
            f.has_limit = true;
            f.limit = figures.length.value;
            f.margin = figures.length_tolerance - std::fabs(f.value - f.limit);
            set_band(f, d_.bands.drawbar_length);
            f.terms = {{"tolerance", figures.length_tolerance, Dimension::length, "printed figures differ by as much"}};
            f.severity = f.margin >= -cut_tolerance ? Severity::good : Severity::watch;
            if (f.severity == Severity::watch) add_pins_on_figure(figures, f);
            f.cautions = {Caution::hitch_to_drawbar_only};
            out_.push_back(f);
        }
        band(FindingKind::drawbar_height, m_.drawbar_top, d_.bands.drawbar_top, figures.top_low, figures.top_high);
        band(FindingKind::drawbar_drop, m_.pto_above_drawbar, d_.bands.pto_above_drawbar, figures.drop_low, figures.drop_high);
    }

    void add_pins_on_figure(const DrawbarFigures& figures, Finding& f) const {
        const double end = m_.drawbar_length - setup_.tractor.drawbar_pins[m_.pin].length.value;
        for (const DrawbarPin& pin : setup_.tractor.drawbar_pins) {
            if (pin.name == f.subject || !pin.length.known) continue;
            if (std::fabs(pin.length.value + end - figures.length.value) <= figures.length_tolerance)
                f.remedies.push_back({RemedyKind::other_drawbar_pin, 0.0, 0.0, pin.name});
        }
    }

    void band(FindingKind kind, double value, const ErrorBand& error, const Figure& low, const Figure& high) {
        if (!(low.value > 0.0) || !(high.value > 0.0)) return;
        Finding f = make(kind, "drawbar", rule_of(low, "usual band for the PTO type"));
        f.value = value;
        f.has_limit = true;
        const bool below = value - low.value < high.value - value;
        f.limit = below ? low.value : high.value;
        f.margin = below ? value - low.value : high.value - value;
        set_band(f, error);
        f.terms = {{"low", low.value, Dimension::length, "least"}, {"high", high.value, Dimension::length, "most"}};
        f.severity = f.margin >= 0.0 ? Severity::good : Severity::watch;
        out_.push_back(f);
    }

    void load() {
        const Reading& load = setup_.implement.drawn.vertical_load;
        const Reading& most = setup_.tractor.drawbar_pins[m_.pin].vertical_load_most;
        if (!load.known || !most.known) return;
        Finding f = make(FindingKind::drawbar_load, setup_.tractor.drawbar_pins[m_.pin].name, {most.value, true, Grade::B, "the tractor's own figure"});
        f.dimension = Dimension::mass;
        f.value = load.value;
        f.has_limit = true;
        f.limit = most.value;
        f.margin = most.value - load.value;
        set_band(f, d_.bands.vertical_load);
        f.severity = f.margin >= 0.0 ? Severity::good : Severity::forbids;
        f.cautions = {Caution::weigh_before_relying};
        doubt_if_close(f, errors_);
        if (f.severity != Severity::good) {
            for (const DrawbarPin& pin : setup_.tractor.drawbar_pins) {
                if (pin.name != f.subject && pin.vertical_load_most.known && pin.vertical_load_most.value >= load.value)
                    f.remedies.push_back({RemedyKind::other_drawbar_pin, 0.0, 0.0, pin.name});
            }
        }
        out_.push_back(f);
    }

    /// A clevis that does not let the implement stand level on its wheels.
    void play() {
        const Reading& play = setup_.implement.drawn.pitch_play;
        if (setup_.implement.drawn.hitch != DrawnHitchKind::clevis || !play.known) return;
        Finding f = make(FindingKind::hitch_play, "clevis", {0.0, true, Grade::D, "free play as typed"});
        f.dimension = Dimension::angle;
        f.value = std::fabs(m_.level_pitch);
        f.has_limit = true;
        f.limit = play.value;
        f.margin = f.limit - f.value;
        f.severity = Severity::change;
        f.cautions = {Caution::hitch_to_drawbar_only};
        set_band(f, d_.bands.level_pitch);
        doubt_if_close(f, errors_);
        if (m_.level_outside_play || f.severity == Severity::unknown) out_.push_back(f);
    }

    /// What stops a turn first, and what is left to the turn driven.
    void turn_limit(const TurnResult& turn, const ErrorBand& band) {
        const bool left = turn.side == TurnSide::left;
        const auto first = std::find_if(turn.stops.begin(), turn.stops.end(), [](const TurnStop& s) { return s.reached; });
        Finding f = make(FindingKind::turn_limit, left ? "left" : "right", find_turn_rule());
        f.dimension = Dimension::angle;
        f.has_limit = true;
        f.limit = left ? -m_.box.yaw.low : m_.box.yaw.high;  // the turn driven
        f.value = first == turn.stops.end() ? farthest_turn : first->yaw;
        f.margin = f.value - f.limit;
        set_band(f, band);
        const BoxBound bound = left ? m_.bounds.turn_left : m_.bounds.turn_right;
        f.terms = {{"typed", bound == BoxBound::typed ? 1.0 : 0.0, Dimension::ratio, "1: the turn driven was typed"}};
        if (d_.steady) {
            f.terms.push_back({"steady", d_.steady->yaw, Dimension::angle, "turn that the tightest circle forward comes to"});
            f.terms.push_back({"folds", d_.steady->folds ? 1.0 : 0.0, Dimension::ratio, "1: it goes on folding"});
        }
        for (const TurnStop& s : turn.stops) {
            if (s.reached) f.terms.push_back({word_of(s), s.yaw, Dimension::angle, "turn at which it stops"});
        }
        if (first != turn.stops.end()) {
            f.other = word_of(*first);
            if (first->kind == TurnLimitKind::tyre) f.subject += ":" + first->tyre + ":" + first->bar;
        }
        const double sure = f.margin - band.below;
        f.severity = sure >= -1.0e-9 ? Severity::good : Severity::condition;
        if (f.severity == Severity::condition) {
            if (band.below > 0.0) f.terms.push_back({"allowance", band.below, Dimension::angle, "for the readings' errors, in the turn named"});
            f.remedies = {{RemedyKind::turn_at_most, std::max(0.0, f.value - band.below), 0.0, left ? "left" : "right"}};
            f.cautions = {Caution::turn_with_pto_off};
            // Already so straight on: what to do stands with gap, overlap or joint.
            if (first->from_straight) {
                f.severity = Severity::forbids;
                f.remedies.clear();
            }
        }
        out_.push_back(f);
    }

    Limit find_turn_rule() const { return find_drawn_limits(setup_).turn; }

    static std::string word_of(const TurnStop& s) {
        switch (s.kind) {
            case TurnLimitKind::tyre: return "tyre";
            case TurnLimitKind::tractor_joint: return "tractor_joint";
            case TurnLimitKind::implement_joint: return "implement_joint";
            case TurnLimitKind::bottoming: return "bottoming";
            case TurnLimitKind::separation: return "separation";
        }
        return "tyre";
    }

    /// Straight and level, as the machine works most: what mounted implements are held to in their working band.
    void straight_angles() {
        for (const JointEnd joint : {JointEnd::tractor, JointEnd::implement}) {
            const bool tractor = joint == JointEnd::tractor;
            if (!std::isfinite(tractor ? d_.straight.tractor_angle : d_.straight.implement_angle)) continue;  // no shaft reaches there
            const JointLimits limits = find_joint_limits(setup_, joint);
            const ErrorBand& band = tractor ? d_.bands.straight_tractor_angle : d_.bands.straight_implement_angle;
            Finding f = make(FindingKind::joint_angle_in_work, tractor ? "tractor joint" : "implement joint", limits.free);
            f.dimension = Dimension::angle;
            f.value = tractor ? d_.straight.tractor_angle : d_.straight.implement_angle;
            f.has_limit = limits.free.set;
            f.limit = limits.free.value;
            f.margin = f.limit - f.value;
            set_band(f, band);
            f.has_attitude = true;
            f.attitude = {m_.level_pitch, 0.0, 0.0};
            if (f.has_limit && is_too_close(f)) {
                call_too_close(f, errors_);
                f.cautions = {Caution::stop_before_touching};
            } else if (f.has_limit && f.margin < 0.0) {
                f.severity = Severity::forbids;
                add_straighter_positions(f);
                f.cautions = {Caution::parts_or_breaks, Caution::keep_from_turning_shaft};
            } else if (limits.watch.set && f.value > limits.watch.value) {
                f.severity = Severity::watch;
                f.kind = FindingKind::joint_angle_watch;
                f.rule = limits.watch;
                f.limit = limits.watch.value;
                f.margin = f.limit - f.value;
                set_band(f, {});
            }
            out_.push_back(f);
        }
    }

    /// Positions in which both joints keep their free limit straight and level.
    void add_straighter_positions(Finding& f) const {
        const JointLimits t = find_joint_limits(setup_, JointEnd::tractor), i = find_joint_limits(setup_, JointEnd::implement);
        for (const PinStudy& p : d_.positions.pins) {
            if (p.pin == m_.pin || !p.model.has_shaft) continue;
            const DrivelineState s = find_driveline_state(p.model, {p.model.level_pitch, 0.0, 0.0});
            const bool keeps = (!t.free.set || s.tractor_angle <= t.free.value) && (!i.free.set || s.implement_angle <= i.free.value);
            if (keeps) f.remedies.push_back({RemedyKind::other_drawbar_pin, 0.0, 0.0, p.name});
        }
    }

    /// Judged straight and level; over the level turn it is told.
    void ripple() {
        if (!d_.straight.turns) return;  // the joint angle is what is wrong then
        const Limit& rule = setup_.rules.non_uniformity;
        Finding f = make(FindingKind::non_uniformity, "shaft", rule);
        f.dimension = Dimension::ratio;
        f.value = d_.straight.non_uniformity;
        f.has_limit = rule.set;
        f.limit = rule.value;
        f.margin = f.limit - f.value;
        set_band(f, d_.bands.straight_non_uniformity);
        f.has_attitude = true;
        f.attitude = {m_.level_pitch, 0.0, 0.0};
        f.terms = {{"B1", d_.straight.tractor_angle, Dimension::angle, "joint angle at the tractor, straight and level"},
                   {"B2", d_.straight.implement_angle, Dimension::angle, "joint angle at the implement, straight and level"},
                   {"g", m_.driveline.ends.yoke_phase_error, Dimension::angle, "phase error of the inner yokes"}};
        if (m_.driveline.ends.wide_angle != WideAngleEnd::none)
            f.terms.push_back({"wide_angle", 1.0, Dimension::ratio, "1: a wide-angle joint, even in itself, leaves the plain joint's ripple"});
        if (d_.turn.turns) f.terms.push_back({"turn", d_.turn.non_uniformity.bound, Dimension::ratio, "greatest over the level turn"});
        f.severity = rule.set && f.margin < 0.0 ? Severity::watch : Severity::good;
        out_.push_back(f);
    }

    /// Greatest angles over the whole box, against what a joint can bend; over the turn they are in the turn's finding.
    void angles() {
        for (const JointEnd joint : {JointEnd::tractor, JointEnd::implement}) {
            const bool tractor = joint == JointEnd::tractor;
            const JointLimits limits = find_joint_limits(setup_, joint);
            const AttitudeExtreme& e = tractor ? d_.whole.tractor_angle : d_.whole.implement_angle;
            const AttitudeExtreme& turn = tractor ? d_.turn.tractor_angle : d_.turn.implement_angle;
            Finding f = make(FindingKind::articulation_angle, tractor ? "tractor joint" : "implement joint", limits.stop);
            f.dimension = Dimension::angle;
            f.value = e.bound;
            f.has_limit = limits.stop.set;
            f.limit = limits.stop.value;
            f.margin = f.limit - f.value;
            set_band(f, tractor ? d_.bands.tractor_angle : d_.bands.implement_angle);
            place(f, e);
            f.terms = {{"turn", turn.bound, Dimension::angle, "greatest over the level turn"},
                       {"pto_off", limits.pto_off.set ? limits.pto_off.value : 0.0, Dimension::angle, "PTO off beyond"}};
            if (limits.stop.set && f.margin < f.error.above) {
                f.severity = Severity::condition;
                f.cautions = {Caution::turn_with_pto_off, Caution::cross_ditches_slowly};
            } else if (limits.pto_off.set && f.value > limits.pto_off.value) {
                f.severity = Severity::watch;
                f.cautions = {Caution::turn_with_pto_off};
            }
            // Both ends of a wide-angle shaft ask for attention in the turn: its stop, and the ripple of the plain partner.
            if (m_.driveline.ends.wide_angle != WideAngleEnd::none && limits.watch.set && turn.bound > limits.watch.value) {
                f.terms.push_back({"amber", limits.watch.value, Dimension::angle, "attention beyond, over the level turn"});
                const bool partner = (m_.driveline.ends.wide_angle == WideAngleEnd::tractor) != tractor;
                f.terms.push_back({"partner", partner ? 1.0 : 0.0, Dimension::ratio, "1: the plain joint beside a wide-angle one"});
                if (f.severity == Severity::good) f.severity = Severity::watch;
            }
            out_.push_back(f);
        }
    }

    static void place(Finding& f, const AttitudeExtreme& e) {
        f.has_attitude = true;
        f.attitude = e.at;
        f.bound_error = find_bound_error(e);
    }

    /// The readings decide less than the limit asks: neither yes nor no.
    void doubt_it(Finding& f) const {
        if (!is_too_close(f)) return;
        f.remedies.clear();
        call_too_close(f, errors_);
        f.cautions = {Caution::measure_before_cutting, Caution::stop_before_touching};
    }

    bool no_cut_works() const { return d_.plan.answer == CutAnswer::no_cut_works; }

    /// Positions with which the shaft fits as it is, best first: the drawbar comes before the saw.
    void add_positions(Finding& f, ShaftFit fit) const {
        for (const PinStudy& p : d_.positions.pins) {
            if (p.pin != m_.pin && p.fit == fit) f.remedies.push_back({RemedyKind::other_drawbar_pin, 0.0, 0.0, p.name});
        }
    }
    void add_lengths(Finding& f) const {
        const DrawbarInterval& i = d_.lengths;
        if (i.known && i.any) f.remedies.push_back({RemedyKind::drawbar_length, i.low, i.high, ""});
    }

    void gap() {
        const CutPlan& p = d_.plan;
        Finding f = make(FindingKind::gap_at_shortest, "shaft", setup_.rules.gap_required);
        f.value = p.uncut.gap;
        f.has_limit = true;
        f.limit = d_.limits.gap_required;
        f.margin = f.value - f.limit;
        set_band(f, d_.bands.gap);
        place(f, d_.whole.shortest);
        f.terms = {{"S_min", d_.whole.shortest.bound, Dimension::length, "shortest distance of the joint centres over the box"},
                   {"S_0", p.uncut.closed_length, Dimension::length, "closed length of the shaft"},
                   {"gap_aimed", d_.limits.gap_aimed, Dimension::length, "gap a cut aims for"},
                   {"turn_left_over", find_gap(m_.halves, d_.turn.shortest.bound), Dimension::length, "gap left over the level turn alone"}};
        const bool kept = f.margin >= -cut_tolerance;
        f.severity = kept ? (p.uncut.gap_aim_reached ? Severity::good : Severity::watch) : no_cut_works() ? Severity::forbids : Severity::change;
        if (!kept) {
            f.cautions = {Caution::parts_or_breaks};
            add_positions(f, ShaftFit::fits);
            add_lengths(f);
        }
        doubt_it(f);
        out_.push_back(f);
    }

    void overlap() {
        const CutPlan& p = d_.plan;
        const TelescopingHalves& h = m_.halves;
        const double share = d_.limits.overlap_fraction * std::max(h.tube_a, h.tube_b);
        Finding f = make(p.uncut.overlap < 0.0 ? FindingKind::separation : FindingKind::overlap_at_longest, "shaft",
                         share > d_.limits.overlap_least ? setup_.rules.overlap_fraction : setup_.rules.overlap_least);
        f.value = p.uncut.overlap;
        f.has_limit = true;
        f.limit = p.uncut.overlap_needed;
        f.margin = f.value - f.limit;
        set_band(f, d_.bands.overlap);
        place(f, d_.whole.longest);
        f.terms = {{"S_max", d_.whole.longest.bound, Dimension::length, "longest distance of the joint centres over the box"},
                   {"S_0", h.closed_length, Dimension::length, "closed length of the shaft"},
                   {"t_A", h.tube_a, Dimension::length, "free tube of the tractor half"},
                   {"t_B", h.tube_b, Dimension::length, "free tube of the implement half"},
                   {"f", d_.limits.overlap_fraction, Dimension::ratio, "share of the longer tube that must overlap"},
                   {"O_least", d_.limits.overlap_least, Dimension::length, "least overlap as a length"},
                   {"heights_unknown", 1.0, Dimension::ratio, "1: no ball heights, the implement is drawn"},
                   {"turn_overlap", find_overlap(h, d_.turn.longest.bound), Dimension::length, "overlap left over the level turn alone"}};
        const bool assumed = m_.uncut.assumption != HalvesAssumption::none;
        if (assumed) f.terms.push_back({"tubes_assumed", 1.0, Dimension::ratio, "1: a tube was not measured but assumed"});
        const bool kept = f.margin >= -cut_tolerance;
        f.severity = !kept ? Severity::forbids : assumed || !p.uncut.overlap_aim_reached ? Severity::watch : Severity::good;
        if (!kept) {
            f.cautions = {Caution::parts_or_breaks, Caution::keep_from_turning_shaft};
            add_positions(f, ShaftFit::fits);
            add_lengths(f);
            f.remedies.push_back({RemedyKind::longer_shaft, -f.margin, 0, ""});
        }
        doubt_it(f);
        out_.push_back(f);
    }

    void cut() {
        const CutPlan& p = d_.plan;
        if (p.answer == CutAnswer::no_cut_needed) return;
        Finding f = make_cut_finding(p, {d_.whole.shortest.bound, d_.whole.longest.bound, 0.0}, d_.plan_error, setup_.rules.gap_required);
        if (no_cut_works()) {
            add_positions(f, ShaftFit::fits);
            add_positions(f, ShaftFit::after_cut);
            f.remedies.push_back({RemedyKind::order_shaft, p.closed_at_most, p.extended_at_least, ""});
            doubt(f, -p.overlap_short_by, widen(d_.bands.overlap, 2.0 * d_.bands.gap.width), p.obstacle != CutObstacle::tubes_used_up);
        } else {
            // Drawbar first, cut last.
            add_positions(f, ShaftFit::fits);
            f.remedies.push_back(make_cut_remedy(p));
            doubt(f, p.after.overlap - p.after.overlap_needed, d_.bands.overlap, true);
            doubt(f, p.after.gap, d_.bands.gap, true);
        }
        out_.push_back(f);
    }

    void doubt(Finding& f, double margin, const ErrorBand& band, bool possible) const {
        if (!possible || !straddles(band, margin, LimitSide::at_least)) return;
        const ErrorBand& widest = d_.bands.gap.widest.share > d_.bands.overlap.widest.share ? d_.bands.gap : d_.bands.overlap;
        f.severity = Severity::unknown;
        f.margin = margin;
        set_band(f, band);
        const std::vector<Remedy> retakes = list_retakes(errors_, widest, margin);
        f.remedies.insert(f.remedies.begin(), retakes.begin(), retakes.end());
    }

    /// A band that another adds to.
    static ErrorBand widen(ErrorBand band, double by) {
        band.below = band.above = band.width += by;
        return band;
    }

    void guard() {
        if (!m_.has_guard) return;
        const GuardResult g = check_guard_tubes(m_.halves, m_.guard, d_.whole.shortest.bound, d_.whole.longest.bound);
        if (g.status != HalvesStatus::ok) return;
        Finding f = make(FindingKind::guard_gap, "shaft", {0.0, true, Grade::D, "guard tubes must not bottom"});
        f.value = f.margin = g.gap_at_shortest;
        f.has_limit = true;
        place(f, d_.whole.shortest);
        set_band(f, d_.bands.guard_gap);
        f.severity = f.value < 0.0 ? Severity::change : is_too_close(f) ? Severity::watch : Severity::good;
        if (f.value < 0.0) {
            f.cautions = {Caution::guards_complete};
            if (is_gap_cured()) f.other = "cured_by_cut";
        }
        out_.push_back(f);
        Finding o = make(FindingKind::guard_overlap, "shaft", setup_.rules.guard_overlap);
        o.value = g.overlap_at_longest;
        o.has_limit = true;
        o.limit = setup_.rules.guard_overlap.set ? setup_.rules.guard_overlap.value : 0.0;
        o.margin = o.value - o.limit;
        place(o, d_.whole.longest);
        set_band(o, d_.bands.guard_overlap);
        o.severity = o.value <= 0.0 ? Severity::forbids : o.margin < 0.0 ? Severity::change : is_too_close(o) ? Severity::watch : Severity::good;
        if (o.margin < 0.0) o.cautions = {Caution::guards_complete, Caution::keep_from_turning_shaft};
        out_.push_back(o);
    }

    /// The guards lose what the tubes lose, so that the cut of the tubes may put a gap right.
    bool is_gap_cured() const {
        if (no_cut_works() || d_.plan.answer == CutAnswer::no_cut_needed) return false;
        const CutHalves steel = cut_halves(m_.halves, d_.plan.recommended), guard = cut_halves(m_.guard, d_.plan.recommended);
        if (steel.status != CutStatus::ok || guard.status != CutStatus::ok) return false;
        return check_guard_tubes(steel.halves, guard.halves, d_.whole.shortest.bound, d_.whole.longest.bound).gap_at_shortest >= 0.0;
    }

    void ditch() {
        const DitchAnalysis& d = *d_.ditch;
        Finding f = make(FindingKind::ditch_crossing, "ditch", {0.0, true, Grade::D, "wheels as rigid circles on the profile"});
        f.cautions = {Caution::cross_ditches_slowly};
        if (!d.study) {
            f.severity = Severity::unknown;
            f.other = d.no_ground.empty() ? "missing" : "no_ground";
            for (const std::string& key : d.no_ground.empty() ? d.missing : d.no_ground) f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, key});
            out_.push_back(f);
            return;
        }
        const DitchStudy& s = *d.study;
        f.other = s.passes ? "passes" : find_failure(s, f);
        f.severity = s.passes ? Severity::good : Severity::forbids;
        f.dimension = Dimension::angle;
        if (s.passes && d.shaft_unknown) {
            f.severity = Severity::unknown;
            f.other = "shaft_unknown";
        }
        for (const DitchWorst& w : s.worst) {
            if (w.quantity == DitchQuantity::pitch_up || w.quantity == DitchQuantity::pitch_down)
                f.terms.push_back({w.quantity == DitchQuantity::pitch_up ? "pitch_up" : "pitch_down", w.value, Dimension::angle,
                                   "greatest against the tractor, on the way"});
        }
        if (!setup_.choices.drawn.ditch.points.empty()) f.terms.push_back({"by_points", 1.0, Dimension::ratio, "1: the ground is given by points"});
        if (!s.passes) {
            for (const std::string& pin : d.pins_that_pass) f.remedies.push_back({RemedyKind::other_drawbar_pin, 0.0, 0.0, pin});
            if (s.angle.any) f.remedies.push_back({RemedyKind::crossing_angle, s.angle.value, 0.0, ""});
            const Reading& depth = setup_.choices.drawn.ditch.depth;
            if (s.depth.any && depth.known) f.remedies.push_back({RemedyKind::ditch_depth, s.depth.value * depth.value, 0.0, ""});
            if (!f.remedies.empty()) f.severity = Severity::change;
        }
        out_.push_back(f);
    }

    /// The first limit that a worst state of its own quantity breaks, the shaft's lengths first, and where.
    std::string find_failure(const DitchStudy& s, Finding& f) const {
        const DitchLimits l = make_ditch_limits(setup_, m_, JointHold::stop);
        const DitchWorst* w = find_telling_state(s, m_, l);
        if (!w) return "no_stand";
        const double room = find_room(m_, w->station, l, w->quantity);
        if (room >= 0.0) return "no_stand";
        f.has_attitude = true;
        f.attitude = w->station.pose.relative;
        f.terms.push_back({"place", w->station.pose.place, Dimension::length, "rear axle behind the middle of the ditch"});
        if (w->quantity == DitchQuantity::shortest) f.terms.push_back({"short_by", -room, Dimension::length, "gap lacking"});
        if (w->quantity == DitchQuantity::longest) f.terms.push_back({"short_by", -room, Dimension::length, "overlap lacking"});
        return word_of(w->quantity);
    }

    static std::string word_of(DitchQuantity q) {
        switch (q) {
            case DitchQuantity::shortest: return "bottoming";
            case DitchQuantity::longest: return "separation";
            case DitchQuantity::tractor_angle: return "tractor_joint";
            case DitchQuantity::implement_angle: return "implement_joint";
            case DitchQuantity::pitch_up:
            case DitchQuantity::pitch_down:
            case DitchQuantity::roll: return "play";
        }
        return "play";
    }

    const ErrorModel& errors_;
    const Setup& setup_;
    const DrawnAnalysis& d_;
    const DrawnModel& m_;
    std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> check_drawn(const ErrorModel& errors, const DrawnAnalysis& drawn) { return DrawnFindings(errors, drawn).run(); }

}  // namespace hitchwright
