#include "geometry/ways_out.h"

#include <algorithm>

#include "geometry/joint_findings.h"

namespace hitchwright {
namespace {

/// Stops are looked for to this step (m) and stated on the safe side.
constexpr double stop_step = 0.001;

/// Whether the shaft can be cut for parts of a machine's travel. What the joint centres reach in work is that of the whole.
class CutTrial {
public:
    CutTrial(const MountedModel& m, const CutLimits& limits, const Mark& mark) : model_(m), limits_(limits), mark_(mark) {
        TravelBox box = make_travel_box(m);
        box.heights = m.working_band;
        longest_in_work_ = find_length_extremes(m, box).longest.bound;
    }
    bool works(const HeightRange& heights) const {
        TravelBox box = make_travel_box(model_);
        box.heights = heights;
        const LengthExtremes e = find_length_extremes(model_, box);
        const double in_work = std::min(longest_in_work_, e.longest.bound);
        const CutPlan plan = plan_cut(model_.halves, {e.shortest.bound, e.longest.bound, in_work}, limits_, mark_);
        return is_answered(plan) && plan.answer != CutAnswer::no_cut_works;
    }

private:
    const MountedModel& model_;
    const CutLimits& limits_;
    const Mark& mark_;
    double longest_in_work_ = 0.0;
};

/// The farthest end of travel, from `good` towards `bad`, that still allows a cut; `range(end)` makes the travel.
template <class F>
double find_last_good(double good, double bad, const F& works) {
    while (std::fabs(bad - good) > stop_step) {
        const double middle = 0.5 * (good + bad);
        (works(middle) ? good : bad) = middle;
    }
    return good;
}

void add_stops(const LinkageAnalysis& linkage, const CutLimits& limits, const Mark& mark, std::vector<Remedy>& out) {
    const MountedModel& m = linkage.model;
    const HeightRange& t = m.travel;
    const CutTrial trial(m, limits, mark);
    const auto up_to = [&](double high) { return trial.works({t.low, high}); };
    const auto from = [&](double low) { return trial.works({low, t.high}); };
    const double top = std::max(m.working_band.high, t.low + stop_step);
    if (up_to(top)) out.push_back({RemedyKind::lift_stop, find_last_good(top, t.high, up_to), 0, ""});
    const double bottom = std::min(m.working_band.low, t.high - stop_step);
    if (from(bottom)) out.push_back({RemedyKind::lower_stop, find_last_good(bottom, t.low, from), 0, ""});
}

/// Calls `look(model, subject, kind)` for every hole other than the chosen one whose linkage closes over its whole
/// travel with a link within reach.
template <class F>
void visit_other_holes(const Setup& setup, const F& look) {
    const auto study = [&](Setup other, const std::string& name, RemedyKind kind) {
        // Another hole of the link wants another length of it: the one for the working pitch. The lift rods do not.
        if (kind != RemedyKind::other_rod_hole && (other.choices.working_ball_height.known || other.implement.work.ball_height.known)) {
            other.choices.upper_link_length = Reading{};
        }
        const MountedModelResult r = make_mounted_model(other);
        if (!r.linkage_ok || !r.linkage_obstacles.empty() || !r.model.has_shaft) return;
        if (r.model.coupler_fit.seat != MastSeat::held) return;
        const UpperLinkReadings& link = setup.tractor.upper_link;
        const double e = r.model.linkage.upper_length;
        if (link.length_least.known && e < link.length_least.value) return;
        if (link.length_most.known && e > link.length_most.value) return;
        look(r.model, name, kind);
    };
    for (const NamedPoint& p : setup.tractor.upper_link_pins) {
        if (p.name == setup.choices.upper_link_pin || setup.tractor.upper_link_pins.size() < 2) continue;
        Setup other = setup;
        other.choices.upper_link_pin = p.name;
        study(std::move(other), p.name, RemedyKind::other_upper_link_pin);
    }
    for (const MastPin& p : setup.implement.mast_pins) {
        if (p.name == setup.choices.mast_pin || setup.implement.mast_pins.size() < 2) continue;
        Setup other = setup;
        other.choices.mast_pin = p.name;
        study(std::move(other), p.name, RemedyKind::other_mast_pin);
    }
    const RodHoles rod = find_rod_holes(setup);
    for (std::size_t i = 0; i < setup.tractor.lift_rod_holes.size(); ++i) {
        if (rod.status != RodHoles::Status::ok || i == rod.chosen) continue;
        Setup other = setup;
        other.choices.lift_rod_hole = setup.tractor.lift_rod_holes[i].name;
        study(std::move(other), setup.tractor.lift_rod_holes[i].name, RemedyKind::other_rod_hole);
    }
}

}  // namespace

CutLimits make_cut_limits(const RuleSet& r) {
    CutLimits l;
    l.gap_required = r.gap_required.set ? r.gap_required.value : 0.0;
    l.gap_aimed = r.gap_aimed.set ? std::max(r.gap_aimed.value, l.gap_required) : l.gap_required;
    l.overlap_least = r.overlap_least.set ? r.overlap_least.value : 0.0;
    l.overlap_fraction = r.overlap_fraction.set ? r.overlap_fraction.value : 0.0;
    l.overlap_fraction_in_work = r.overlap_fraction_work.set ? r.overlap_fraction_work.value : 0.0;
    l.overlap_fraction_aimed = r.overlap_fraction_aimed.set ? r.overlap_fraction_aimed.value : 0.0;
    return l;
}

std::vector<Remedy> find_ways_out(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft,
                                  const Mark& mark) {
    std::vector<Remedy> out;
    out.push_back({RemedyKind::order_shaft, shaft.plan.closed_at_most, shaft.plan.extended_at_least, ""});
    add_stops(linkage, shaft.limits, mark, out);
    visit_other_holes(setup, [&](const MountedModel& m, const std::string& name, RemedyKind kind) {
        if (m.has_halves && CutTrial(m, shaft.limits, mark).works(m.travel)) out.push_back({kind, 0, 0, name});
    });
    return out;
}

std::vector<Remedy> find_holes_within_angle(const Setup& setup) {
    std::vector<Remedy> out;
    const LimitView tractor = find_joint_limits(setup, JointEnd::tractor).free;
    const LimitView implement = find_joint_limits(setup, JointEnd::implement).free;
    if (!tractor.set && !implement.set) return out;
    visit_other_holes(setup, [&](const MountedModel& m, const std::string& name, RemedyKind kind) {
        TravelBox box = make_travel_box(m);
        box.heights = m.working_band;
        const AngleExtremes e = find_angle_extremes(m, box);
        const bool inside = (!tractor.set || e.tractor.bound <= tractor.value) &&
                            (!implement.set || e.implement.bound <= implement.value);
        if (inside) out.push_back({kind, std::max(e.tractor.bound, e.implement.bound), 0, name});
    });
    return out;
}

}  // namespace hitchwright
