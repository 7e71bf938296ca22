#include "geometry/travel_bands.h"

#include <algorithm>

namespace hitchwright {
namespace {

TubeBands find_tube_bands(const LinkageAnalysis& linkage, const ShaftAnalysis& shaft) {
    const MountedModel& m = linkage.model;
    const HeightRange& travel = linkage.box.heights;
    const double closed = m.halves.closed_length, parting = closed + std::min(m.halves.tube_a, m.halves.tube_b);
    const auto too_short = [&](double shortest) {
        return find_remaining_heights(travel, find_heights_longer_than(m, linkage.box, shortest));
    };
    const auto too_long = [&](double longest) {
        return find_remaining_heights(travel, find_heights_shorter_than(m, linkage.box, longest));
    };
    TubeBands b;
    b.gap_needed = shaft.limits.gap_required;
    b.overlap_needed = shaft.plan.uncut.overlap_needed;
    b.gap_short = too_short(closed + b.gap_needed);
    b.bottoms_out = too_short(closed);
    b.overlap_short = too_long(parting - b.overlap_needed);
    b.apart = too_long(parting);
    return b;
}

/// Adds what the findings about a joint keep free above or below their heights.
void widen_by_findings(JointBands& bands, const Analysis& a, const char* joint, const HeightRange& travel) {
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::joint_angle_over_travel || f.subject != joint) continue;
        const bool pto_off = f.other == "pto_off", stop = f.other == "lift_stop" || f.other == "stop_too_close";
        for (const Remedy& r : f.remedies) {
            const bool below = r.kind == RemedyKind::lower_stop || r.subject == "below";
            if (r.kind != RemedyKind::pto_off_above && r.kind != RemedyKind::lift_stop && !below) continue;
            const HeightRange more = below ? HeightRange{travel.low, r.value} : HeightRange{r.value, travel.high};
            bands.no_work = add_heights(bands.no_work, more);
            if (pto_off || stop) bands.pto_off = add_heights(bands.pto_off, more);
            if (stop) bands.past_stop = add_heights(bands.past_stop, more);
        }
    }
}

}  // namespace

std::vector<HeightRange> add_heights(std::vector<HeightRange> bands, const HeightRange& more) {
    bands.push_back(more);
    std::sort(bands.begin(), bands.end(), [](const HeightRange& x, const HeightRange& y) { return x.low < y.low; });
    std::vector<HeightRange> joined;
    for (const HeightRange& r : bands) {
        if (!joined.empty() && r.low <= joined.back().high) joined.back().high = std::max(joined.back().high, r.high);
        else joined.push_back(r);
    }
    return joined;
}

std::vector<HeightRange> find_remaining_heights(const HeightRange& whole, const std::vector<HeightRange>& inside) {
    std::vector<HeightRange> rest;
    double from = whole.low;
    for (const HeightRange& r : inside) {
        if (r.low > from) rest.push_back({from, std::min(r.low, whole.high)});
        from = std::max(from, r.high);
        if (from >= whole.high) return rest;
    }
    rest.push_back({from, whole.high});
    return rest;
}

std::optional<TravelBands> find_travel_bands(const Analysis& a) {
    if (!a.linkage) return std::nullopt;
    TravelBands b;
    b.travel = a.linkage->box.heights;
    b.work = a.linkage->model.working_band;
    if (!a.shaft) return b;
    const auto rest = [&](const std::vector<HeightRange>& inside) { return find_remaining_heights(b.travel, inside); };
    const ShaftAnalysis& s = *a.shaft;
    b.tractor_joint = JointBands{rest(s.tractor_free), rest(s.tractor_on), rest(s.tractor_reach)};
    b.implement_joint = JointBands{rest(s.implement_free), rest(s.implement_on), rest(s.implement_reach)};
    widen_by_findings(*b.tractor_joint, a, "tractor joint", b.travel);
    widen_by_findings(*b.implement_joint, a, "implement joint", b.travel);
    if (s.has_plan) b.tubes = find_tube_bands(*a.linkage, s);
    return b;
}

}  // namespace hitchwright
