// See part_effect.h.
#include "geometry/part_effect.h"

#include <algorithm>
#include <utility>

#include "geometry/analysis.h"
#include "geometry/model_fit.h"
#include "geometry/variant.h"

namespace hitchwright {
namespace {

ShaftFigures summarize_shaft(const ShaftAnalysis& s, const MountedModel& m) {
    ShaftFigures f;
    f.shortest = s.travel.shortest.value;
    f.longest = s.travel.longest.value;
    f.angle_in_work = std::max(s.work.tractor_angle.value, s.work.implement_angle.value);
    f.angle_over_travel = std::max(s.travel.tractor_angle.value, s.travel.implement_angle.value);
    if (!m.has_halves) return f;
    f.gap = find_gap(m.halves, f.shortest);
    f.overlap = find_overlap(m.halves, f.longest);
    return f;
}

}  // namespace

PartFigures summarize(const Analysis& a) {
    PartFigures f;
    f.verdict = a.verdict;
    if (!a.linkage) return f;
    const MountedModel& m = a.linkage->model;
    f.upper_link_length = m.linkage.upper_length;
    f.lift_share = m.lower_length_own / m.linkage.lower_length;
    if (a.linkage->high.pose.closes) {
        f.height_at_top = a.linkage->high.pose.ball_height;
        f.pitch_at_top = a.linkage->high.pose.pitch;
    }
    if (a.shaft) f.shaft = summarize_shaft(*a.shaft, m);
    return f;
}

std::vector<PartEffect> compare_parts(const Setup& setup, const Analysis& with, const Mark& mark) {
    std::vector<PartEffect> effects;
    const Parts& p = setup.parts;
    if (!p.link_extender.fitted && !p.coupler.fitted && !p.overrunning_clutch.fitted && !p.spline_extender.fitted) return effects;
    // Both sides alike: of the fitted model, its direct readings taken out, and with what they contradicted kept.
    const Setup fitted = apply_fit(setup);
    const bool read = fitted != setup;
    const auto judge = [&](const Setup& s) {
        Analysis a = analyze_alone(s, mark, BandEffort::second_order);
        if (read) keep_contradiction(with, a);
        return summarize(a);
    };
    const PartFigures now = read ? judge(fitted) : summarize(with);
    const auto compare = [&](PartKind kind, const auto& part, auto member) {
        if (!part.fitted) return;
        Setup other = fitted;
        (other.parts.*member).fitted = false;
        effects.push_back({kind, part.name, now, judge(other)});
    };
    compare(PartKind::link_extender, p.link_extender, &Parts::link_extender);
    compare(PartKind::coupler, p.coupler, &Parts::coupler);
    compare(PartKind::overrunning_clutch, p.overrunning_clutch, &Parts::overrunning_clutch);
    compare(PartKind::spline_extender, p.spline_extender, &Parts::spline_extender);
    return effects;
}

}  // namespace hitchwright
