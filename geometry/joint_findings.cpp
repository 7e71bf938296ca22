#include "geometry/joint_findings.h"

#include <algorithm>

#include "geometry/angle.h"
#include "geometry/closeness.h"
#include "geometry/finding_band.h"
#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

/// Stop of a wide-angle joint whose maker's figure is not known, and the band below it that wants attention.
constexpr double wide_angle_stop_deg = 80.0, wide_angle_amber_deg = 10.0;
/// The plain partner of a wide-angle joint is named above this.
constexpr double plain_partner_deg = 10.0;
/// The error band is that of the greatest angle; at the height named instead it may be a little wider.
constexpr double allowance_factor = 1.05;

/// The range of heights inside a limit nearest to the working band's middle; nullptr: none at all.
const HeightRange* find_nearest_range(const std::vector<HeightRange>& inside, const HeightRange& band) {
    const double middle = 0.5 * (band.low + band.high);
    const auto off = [middle](const HeightRange& r) { return std::max({0.0, r.low - middle, middle - r.high}); };
    const auto best = std::min_element(inside.begin(), inside.end(),
                                       [&](const HeightRange& a, const HeightRange& b) { return off(a) < off(b); });
    return best == inside.end() ? nullptr : &*best;
}

/// The range of heights inside a limit that holds the working band's middle; nullptr: none.
const HeightRange* find_range_in_work(const std::vector<HeightRange>& inside, const HeightRange& band) {
    for (const HeightRange& r : inside) {
        if (r.contains(0.5 * (band.low + band.high))) return &r;
    }
    return nullptr;
}

class JointCheck {
public:
    JointCheck(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft, const ErrorModel& errors, const ErrorBands& bands,
               JointEnd joint, std::vector<Finding>& out)
        : setup_(setup), errors_(errors), model_(linkage.model), joint_(joint), tractor_(joint == JointEnd::tractor),
          limits_(find_joint_limits(setup, joint)),
          travel_(tractor_ ? shaft.travel.tractor_angle : shaft.travel.implement_angle),
          work_(tractor_ ? shaft.work.tractor_angle : shaft.work.implement_angle),
          work_band_(tractor_ ? bands.tractor_angle_in_work : bands.implement_angle_in_work),
          travel_band_(tractor_ ? bands.tractor_angle : bands.implement_angle), out_(out) {
        free_ = tractor_ ? &shaft.tractor_free : &shaft.implement_free;
        on_ = tractor_ ? &shaft.tractor_on : &shaft.implement_on;
        reach_ = tractor_ ? &shaft.tractor_reach : &shaft.implement_reach;
    }

    void run() {
        in_work();
        over_travel();
    }

private:
    Finding make(FindingKind kind, const TravelExtreme& e, const Limit& rule) const {
        Finding f;
        f.kind = kind;
        f.subject = tractor_ ? "tractor joint" : "implement joint";
        f.dimension = Dimension::angle;
        f.value = e.bound;
        f.bound_error = find_bound_error(e);
        f.has_height = true;
        f.height = e.height;
        f.rule = rule;
        f.has_limit = rule.set;
        f.limit = rule.value;
        f.margin = f.limit - f.value;
        return f;
    }

    void in_work() {
        Finding f = make(FindingKind::joint_angle_in_work, work_, limits_.free);
        set_band(f, work_band_);
        f.terms = {{"band_low", model_.working_band.low, Dimension::length, "lowest ball height with the shaft driven"},
                   {"band_high", model_.working_band.high, Dimension::length, "greatest ball height with the shaft driven"},
                   {"band_typed", model_.working_band_typed ? 1.0 : 0.0, Dimension::ratio, "1: the working band was typed; 0: working height alone"}};
        f.heights = *free_;
        if (f.has_limit && is_too_close(f)) {
            call_too_close(f, errors_);
            f.cautions = {Caution::stop_before_touching};
        } else if (f.has_limit && f.margin < 0.0) {
            f.severity = Severity::forbids;
            f.remedies = find_holes_within_angle(setup_);
            if (const HeightRange* r = find_nearest_range(*free_, model_.working_band)) {
                f.remedies.push_back({RemedyKind::working_height, r->low, r->high, ""});
            }
            f.cautions = {Caution::parts_or_breaks, Caution::keep_from_turning_shaft};
        } else if (limits_.watch.set && f.value > limits_.watch.value) {
            f.severity = Severity::watch;
            f.kind = FindingKind::joint_angle_watch;
            f.rule = limits_.watch;
            f.limit = limits_.watch.value;
            f.margin = f.limit - f.value;
            set_band(f, {});
        }
        out_.push_back(f);
    }

    void over_travel() {
        Finding f = make(FindingKind::joint_angle_over_travel, travel_, limits_.free);
        set_band(f, travel_band_);
        if (limits_.stop.set && straddles(travel_band_, limits_.stop.value - travel_.bound, LimitSide::at_most)) return call_stop_too_close(f);
        if (limits_.stop.set && travel_.bound > limits_.stop.value) return add_stop(f);
        if (limits_.pto_off.set && travel_.bound > limits_.pto_off.value) return add_condition(f, limits_.pto_off, *on_, "pto_off");
        if (limits_.free.set && travel_.bound > limits_.free.value) return add_condition(f, limits_.free, *free_, "no_work");
        out_.push_back(f);
    }

    void limit_by(Finding& f, const Limit& rule, const std::vector<HeightRange>& inside, const char* what) {
        f.rule = rule;
        f.limit = rule.value;
        f.margin = f.limit - f.value;
        f.heights = inside;
        f.other = what;
    }

    /// Heights around the working band at which the angle keeps `limit` with the readings' errors against it; where the
    /// errors leave none, the plain heights, which must exist. The allowance becomes a term of the finding.
    HeightRange find_certain_range(Finding& f, const LimitView& limit, const std::vector<HeightRange>& plain) const {
        const HeightRange without = *find_range_in_work(plain, model_.working_band);
        const double allowance = allowance_factor * travel_band_.width_without_draws;
        if (allowance <= 0.0 || allowance >= limit.value) return without;
        const std::vector<HeightRange> inside =
            find_heights_within_angle(model_, make_travel_box(model_), joint_, limit.value - allowance);
        const HeightRange* certain = find_range_in_work(inside, model_.working_band);
        if (!certain) return without;
        f.terms.push_back({"allowance", allowance, Dimension::angle, "for the readings' errors, in the heights named"});
        return *certain;
    }

    void add_condition(Finding f, const Limit& rule, const std::vector<HeightRange>& inside, const char* what) {
        limit_by(f, rule, inside, what);
        f.severity = Severity::condition;
        if (find_range_in_work(inside, model_.working_band)) {
            const HeightRange r = find_certain_range(f, rule, inside);
            // Above the range by heights outside it, below likewise; an end of travel is no limit.
            if (r.high < model_.travel.high) f.remedies.push_back({RemedyKind::pto_off_above, r.high, 0, what});
            if (r.low > model_.travel.low) f.remedies.push_back({RemedyKind::pto_off_above, r.low, 0, "below"});
        } else {
            f.remedies = find_holes_within_angle(setup_);
        }
        f.cautions = {Caution::pto_off_above_height};
        out_.push_back(f);
        if (&inside != free_) add_no_work(f);
    }

    /// Between the free limit and the PTO-off limit: no work there, said with its own height.
    void add_no_work(const Finding& like) {
        if (!limits_.free.set || limits_.free.value >= limits_.pto_off.value) return;
        if (!find_range_in_work(*free_, model_.working_band)) return;
        Finding f = like;
        f.remedies.clear();
        f.terms.clear();
        limit_by(f, limits_.free, *free_, "no_work");
        const HeightRange r = find_certain_range(f, limits_.free, *free_);
        if (r.high < model_.travel.high) f.remedies.push_back({RemedyKind::pto_off_above, r.high, 0, "no_work"});
        if (r.low > model_.travel.low) f.remedies.push_back({RemedyKind::pto_off_above, r.low, 0, "below"});
        out_.push_back(f);
    }

    /// The readings decide less than the stop asks: a lift stop where the angle keeps the stop for certain settles it.
    void call_stop_too_close(Finding f) {
        const double certain = limits_.stop.value - allowance_factor * travel_band_.width_without_draws;
        const std::vector<HeightRange> inside =
            certain > 0.0 ? find_heights_within_angle(model_, make_travel_box(model_), joint_, certain) : std::vector<HeightRange>{};
        limit_by(f, limits_.stop, inside, "stop_too_close");
        call_too_close(f, errors_);
        if (const HeightRange* r = find_range_in_work(inside, model_.working_band)) {
            if (r->high < model_.travel.high) f.remedies.push_back({RemedyKind::lift_stop, r->high, 0, ""});
            if (r->low > model_.travel.low) f.remedies.push_back({RemedyKind::lower_stop, r->low, 0, ""});
        }
        f.cautions = {Caution::stop_before_touching, Caution::lift_stop_before_use};
        out_.push_back(f);
        add_condition_below_stop();
    }

    void add_stop(Finding f) {
        limit_by(f, limits_.stop, *reach_, "lift_stop");
        f.severity = Severity::change;
        const bool r = find_range_in_work(*reach_, model_.working_band);
        if (r) {
            const HeightRange kept = find_certain_range(f, limits_.stop, *reach_);
            if (kept.high < model_.travel.high) f.remedies.push_back({RemedyKind::lift_stop, kept.high, 0, ""});
            if (kept.low > model_.travel.low) f.remedies.push_back({RemedyKind::lower_stop, kept.low, 0, ""});
        } else {
            f.severity = Severity::forbids;
        }
        f.cautions = {Caution::lift_stop_before_use, Caution::keep_from_turning_shaft};
        out_.push_back(f);
        if (r) add_condition_below_stop();
    }

    /// What the lift stop still leaves above the lower limits; a limit as high as the stop adds nothing to it.
    void add_condition_below_stop() {
        const auto below = [this](const LimitView& limit, const std::vector<HeightRange>& inside) {
            return limit.set && limit.value < limits_.stop.value && find_range_in_work(inside, model_.working_band);
        };
        const bool on = below(limits_.pto_off, *on_);
        if (!on && !below(limits_.free, *free_)) return;
        const LimitView& rule = on ? limits_.pto_off : limits_.free;
        add_condition(make(FindingKind::joint_angle_over_travel, travel_, rule), rule, on ? *on_ : *free_,
                      on ? "pto_off" : "no_work");
    }

    const Setup& setup_;
    const ErrorModel& errors_;
    const MountedModel& model_;
    JointEnd joint_;
    bool tractor_;
    JointLimits limits_;
    TravelExtreme travel_, work_;
    ErrorBand work_band_, travel_band_;
    const std::vector<HeightRange>* free_ = nullptr;
    const std::vector<HeightRange>* on_ = nullptr;
    const std::vector<HeightRange>* reach_ = nullptr;
    std::vector<Finding>& out_;
};

/// A limit is never above the next harder one: a set with a single low angle must not be loosened by the others.
LimitView keep_below(const LimitView& rule, const LimitView& harder) {
    return harder.set && (!rule.set || rule.value > harder.value) ? harder : rule;
}

JointLimits put_in_order(JointLimits l) {
    l.pto_off = keep_below(l.pto_off, l.stop);
    l.free = keep_below(l.free, l.pto_off);
    return l;
}

LimitView narrow(const LimitView& rule, const Reading& own) {
    if (!own.known || (rule.set && own.value >= rule.value)) return rule;
    return {own.value, Grade::B, "this joint's own stop, from its maker"};
}

}  // namespace

JointLimits find_joint_limits(const Setup& s, JointEnd joint) {
    const JointReadings& j = joint == JointEnd::tractor ? s.driveline.tractor_joint : s.driveline.implement_joint;
    const RuleSet& r = s.rules;
    if (j.kind == JointKind::plain) {
        const JointReadings& partner = joint == JointEnd::tractor ? s.driveline.implement_joint : s.driveline.tractor_joint;
        LimitView watch = r.angle_watch;
        if (partner.kind == JointKind::wide_angle) {
            watch = {to_radians(plain_partner_deg), Grade::B, "plain joint beside a wide-angle one: all the ripple is its own"};
        }
        return put_in_order({r.angle_free, r.angle_pto_off, narrow(r.angle_stop, j.angle_most), watch});
    }
    LimitView stop(to_radians(wide_angle_stop_deg), Grade::B, "operator manuals of wide-angle shafts: 80 deg; ask the maker");
    if (j.angle_most.known) stop = {j.angle_most.value, Grade::B, "this joint's own stop, from its maker"};
    const LimitView amber(std::max(0.0, stop.value - to_radians(wide_angle_amber_deg)), Grade::B,
                          "wide-angle joint: attention from 10 deg below its stop");
    return {stop, stop, stop, amber};
}

std::vector<Finding> check_joint_angles(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft,
                                        const ErrorModel& errors, const ErrorBands& bands) {
    std::vector<Finding> out;
    for (const JointEnd joint : {JointEnd::tractor, JointEnd::implement}) {
        JointCheck(setup, linkage, shaft, errors, bands, joint, out).run();
    }
    return out;
}

}  // namespace hitchwright
