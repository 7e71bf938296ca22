// See load_findings.h.
#include "geometry/load_findings.h"

#include <algorithm>

#include "geometry/carried_bands.h"
#include "geometry/closeness.h"
#include "geometry/finding_band.h"

namespace hitchwright {
namespace {

/// A coupler nobody weighed weighs up to this, kg: judgement. What it would take away counts against a verdict.
constexpr double heaviest_coupler = 150.0;

Severity judge_lift(const Setup& s, const LiftStudy& lift, const Finding& f) {
    switch (lift.answer) {
        case LiftAnswer::lifts:
            if (lift.coupler_mass_missing && f.margin < heaviest_coupler) return Severity::unknown;
            return is_too_close(f) ? Severity::unknown : Severity::good;
        case LiftAnswer::stalls:
        case LiftAnswer::lifts_not: {
            // An upper bound that is not enough is certain; where friction makes it stall is not.
            if (is_too_close(f)) return Severity::unknown;
            if (lift.answer == LiftAnswer::lifts_not) return Severity::forbids;
            if (lift.force.meaning() == ForceMeaning::at_most) return Severity::unknown;
            const Reading& work = s.choices.working_ball_height;
            return !work.known || work.value <= *lift.stall ? Severity::change : Severity::forbids;
        }
        default:
            return Severity::unknown;
    }
}

Finding report_load_stops(const ErrorModel& errors, const LiftStudy& lift) {
    Finding f;
    f.kind = FindingKind::load_rise;
    // Where it rises it must be lifted as well.
    const bool lifted = !lift.mass_known || lift.pieces.empty() || lift.lifted == lift.rising;
    f.other = lifted ? "" : "not_lifted";
    f.severity = lifted                                        ? Severity::watch
                 : lift.force.meaning() == ForceMeaning::exact ? Severity::forbids
                                                               : Severity::unknown;
    f.dimension = Dimension::ratio;
    f.value = lift.rise_least.value;
    f.has_limit = true;
    f.limit = 0.0;
    f.margin = f.value;
    f.bound_error = find_bound_error(lift.rise_least);
    f.has_height = true;
    f.height = lift.rise_least.height;
    f.heights = lift.rising;
    set_band(f, lift.rise_band);
    f.rule = {0.0, true, Grade::D, "virtual work: the load's centre does not rise with the balls"};
    f.cautions = {Caution::nobody_between, Caution::never_under_raised};
    f.remedies = {{RemedyKind::other_upper_link_pin, 0.0, 0.0, ""}};
    const bool from_below = !lift.rising.empty() && lift.rising.front().low <= lift.travel.low + 1e-7;
    if (from_below && lifted) f.remedies.push_back({RemedyKind::lift_stop, lift.rising.front().high, 0.0, ""});
    if (f.severity == Severity::forbids) doubt_if_close(f, errors);
    return f;
}

void add_terms(const LiftStudy& lift, Finding& f) {
    f.terms = {{"m", lift.mass, Dimension::mass, "mass of the implement"},
               {"x_cg", lift.load_at.x(), Dimension::length, "its centre of gravity behind the balls"},
               {"z_cg", lift.load_at.y(), Dimension::length, "its centre of gravity above the balls"}};
    if (lift.coupler_mass > 0.0) f.terms.push_back({"m_c", lift.coupler_mass, Dimension::mass, "mass of the coupler"});
    if (lift.force.least_at_balls > 0.0)
        f.terms.push_back({"F_b", lift.force.least_at_balls, Dimension::force, "published at the balls"});
    if (lift.force.least_at_610 > 0.0)
        f.terms.push_back({"F_610", lift.force.least_at_610, Dimension::force, "published 610 mm behind them"});
}

std::string find_lift_rule(const BallForce& force) {
    switch (force.source) {
        case BallForceSource::curve:
            return "lift curve at the ball ends, virtual work";
        case BallForceSource::cylinder:
            return "cylinder, crank, arm and rod, virtual work";
        case BallForceSource::cylinder_ideal:
            return "cylinder, crank, arm and rod without friction, virtual work";
        default:
            return "least published lift (ISO 789-2, OECD Code 2), a lower bound at every height; virtual work";
    }
}

bool is_raised(LoadState s) { return s == LoadState::lowest || s == LoadState::farthest || s == LoadState::highest; }

void add_front(const ErrorModel& errors, const AxleStudy& a, std::vector<Finding>& out) {
    const Limit& limit = errors.setup().rules.front_axle_share;
    const FrontShare& share = a.shares[a.binding == LoadBase::tractor_empty ? 0 : 1];
    const AxleState& state = a.states[a.lightest];
    const bool tips = state.loads.front <= 0.0;
    if (!limit.set && !tips) return;
    Finding f;
    f.kind = FindingKind::front_axle_share;
    f.subject = std::string(load_base_word(share.base));
    f.other = std::string(load_state_word(state.state));
    f.dimension = Dimension::ratio;
    f.value = share.share;
    f.has_limit = true;
    f.limit = limit.value;
    f.margin = share.share - limit.value;
    set_band(f, a.share_band);
    f.rule = limit.set ? limit : Limit{0.0, true, Grade::D, "moments about the rear axle"};
    f.has_height = is_raised(state.state);
    f.height = state.height;
    f.terms = {{"front", state.loads.front, Dimension::mass, "on the front axle"},
               {"rear", state.loads.rear, Dimension::mass, "on the rear axle"},
               {"base", share.base_mass, Dimension::mass, "mass the share is taken of"},
               {"x", state.load_x, Dimension::length, "implement's load behind the rear axle"},
               {"b", a.wheelbase, Dimension::length, "wheelbase"}};
    f.cautions = {Caution::weigh_before_relying, Caution::rops_and_belt};
    const bool close = is_too_close(f) && !tips;
    f.severity = close ? Severity::unknown : f.margin >= 0.0 ? Severity::good : Severity::change;
    if (tips || (f.margin < 0.0 && !share.ballast)) f.severity = Severity::forbids;
    // A coupler nobody weighed would take this off the front.
    const double coupler =
        a.coupler_mass_missing ? heaviest_coupler * std::max(0.0, state.load_x) / a.wheelbase / share.base_mass : 0.0;
    if (f.severity == Severity::good && (f.margin < coupler || straddles(a.share_band, f.margin - coupler, LimitSide::at_least))) {
        f.severity = Severity::unknown;
        set_band(f, {});
        f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, "coupler.mass"});
    } else if (f.severity == Severity::unknown) {
        call_too_close(f, errors);
    }
    if (f.margin < 0.0 && share.ballast) {
        // Ballast that breaks another limit, or outweighs the tractor, is no way out.
        const bool possible = !a.ballast_breaks && *share.ballast < a.tractor_empty;
        if (possible)
            f.remedies.push_back(
                {RemedyKind::front_ballast, *share.ballast, a.front_ahead, a.front_place_assumed ? "assumed" : ""});
        else
            f.severity = Severity::forbids;
    }
    out.push_back(f);
}

void add_rear(const Setup& s, const AxleStudy& a, std::vector<Finding>& out) {
    if (!s.rules.rear_axle_share.set || a.rear_share >= a.rear_wanted) return;
    Finding f;
    f.kind = FindingKind::rear_axle_share;
    f.severity = Severity::watch;
    f.dimension = Dimension::ratio;
    f.value = a.rear_share;
    f.has_limit = true;
    f.limit = a.rear_wanted;
    f.margin = f.value - f.limit;
    set_band(f, a.rear_band);
    f.rule = s.rules.rear_axle_share;
    f.cautions = {Caution::weigh_before_relying};
    if (a.rear_ballast_least) f.remedies = {{RemedyKind::rear_ballast, *a.rear_ballast_least, a.rear_behind, ""}};
    out.push_back(f);
}

void add_limits(const ErrorModel& errors, const AxleStudy& a, std::vector<Finding>& out) {
    for (const CarriedLoad& c : a.carried) {
        Finding f;
        f.kind = FindingKind::carried_load;
        f.subject = std::string(carrying_part_word(c.part));
        f.other = std::string(load_state_word(c.state));
        f.dimension = Dimension::mass;
        f.value = c.most;
        f.has_limit = true;
        f.limit = c.allowed;
        f.margin = c.allowed - c.most;
        set_band(f, c.band);
        f.severity = f.margin >= 0.0 ? Severity::good : Severity::forbids;
        doubt_if_close(f, errors);
        f.rule = {c.allowed, true, Grade::B, "the tractor's or the tyre's own figure"};
        f.cautions = {Caution::weigh_before_relying};
        out.push_back(f);
    }
}

}  // namespace

std::vector<Finding> check_lift(const ErrorModel& errors, const LiftStudy& lift) {
    const Setup& s = errors.setup();
    std::vector<Finding> out;
    if (lift.rise_known && lift.rise_least.bound <= 0.0 && lift.point != LoadPoint::behind_610)
        out.push_back(report_load_stops(errors, lift));
    const bool judged = lift.mass_known && lift.least_capacity && lift.point != LoadPoint::behind_610;
    if (!judged || lift.answer == LiftAnswer::not_known || lift.answer == LiftAnswer::load_stops) return out;
    const TravelExtreme& e = *lift.least_capacity;
    Finding f;
    f.kind = FindingKind::lift_capacity;
    f.subject = std::string(ball_force_word(lift.force.source));
    f.other = std::string(lift_answer_word(lift.answer));
    f.dimension = Dimension::mass;
    f.value = e.value;
    f.has_limit = true;
    f.limit = lift.mass;
    f.margin = e.value - lift.mass;
    set_band(f, lift.band);
    f.bound_error = find_bound_error(e);
    f.has_height = true;
    f.height = e.height;
    f.heights = lift.lifted;
    f.rule = {0.0, true, Grade::D, find_lift_rule(lift.force)};
    f.severity = judge_lift(s, lift, f);
    add_terms(lift, f);
    f.cautions = {Caution::weigh_before_relying, Caution::never_under_raised};
    if (lift.answer == LiftAnswer::stalls && f.severity != Severity::unknown)
        f.remedies.push_back({RemedyKind::lift_stop, *lift.stall, 0.0, ""});
    if (f.severity == Severity::unknown) {
        const bool coupler = lift.coupler_mass_missing && lift.answer == LiftAnswer::lifts;
        const bool close = is_too_close(f) && !coupler && lift.answer != LiftAnswer::not_assured;
        if (!close) set_band(f, {});  // not for its error: what the tractor gives is not known
        const char* wanted = coupler                                                ? "coupler.mass"
                             : lift.force.source == BallForceSource::cylinder_ideal ? "tractor.lift_cylinder.efficiency"
                                                                                    : "tractor.lift_point";
        if (close) {
            call_too_close(f, errors);
        } else {
            f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, wanted});
            f.terms.push_back({"open", 1.0, Dimension::ratio, "what the tractor gives, or what hangs on it, is not known"});
        }
    }
    if (f.severity != Severity::good) f.remedies.push_back({RemedyKind::other_upper_link_pin, 0.0, 0.0, ""});
    out.push_back(f);
    return out;
}

std::vector<Finding> check_axles(const ErrorModel& errors, const AxleStudy& a) {
    std::vector<Finding> out;
    if (!a.known) return out;
    add_front(errors, a, out);
    add_rear(errors.setup(), a, out);
    add_limits(errors, a, out);
    return out;
}

std::string_view ball_force_word(BallForceSource source) {
    switch (source) {
        case BallForceSource::none:
            return "none";
        case BallForceSource::curve:
            return "curve";
        case BallForceSource::cylinder:
            return "cylinder";
        case BallForceSource::cylinder_ideal:
            return "cylinder_ideal";
        case BallForceSource::published_least:
            return "published_least";
    }
    return "none";
}

std::string_view load_state_word(LoadState state) {
    switch (state) {
        case LoadState::unhitched:
            return "unhitched";
        case LoadState::on_ground:
            return "on_ground";
        case LoadState::lowest:
            return "lowest";
        case LoadState::farthest:
            return "farthest";
        case LoadState::highest:
            return "highest";
        case LoadState::hitched:
            return "hitched";
    }
    return "unhitched";
}

std::string_view carrying_part_word(CarryingPart part) {
    switch (part) {
        case CarryingPart::front_axle:
            return "front_axle";
        case CarryingPart::rear_axle:
            return "rear_axle";
        case CarryingPart::front_tyres:
            return "front_tyres";
        case CarryingPart::rear_tyres:
            return "rear_tyres";
        case CarryingPart::whole_tractor:
            return "whole_tractor";
    }
    return "whole_tractor";
}

std::string_view load_base_word(LoadBase base) {
    return base == LoadBase::tractor_empty ? "tractor_empty" : "all_together";
}

std::string_view lift_answer_word(LiftAnswer answer) {
    switch (answer) {
        case LiftAnswer::not_known:
            return "not_known";
        case LiftAnswer::lifts:
            return "lifts";
        case LiftAnswer::lifts_not:
            return "lifts_not";
        case LiftAnswer::stalls:
            return "stalls";
        case LiftAnswer::not_assured:
            return "not_assured";
        case LiftAnswer::load_stops:
            return "load_stops";
    }
    return "not_known";
}

}  // namespace hitchwright
