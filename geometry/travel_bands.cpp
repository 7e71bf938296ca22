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

}  // namespace

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
    if (s.has_plan) b.tubes = find_tube_bands(*a.linkage, s);
    return b;
}

}  // namespace hitchwright
