#include "geometry/travel_bands.h"

#include <algorithm>

namespace hitchwright {
namespace {

/// Parts that meet only where a line crosses a line are said to touch when they are as near as this, m.
constexpr double touching = 0.0001;

using Bands = std::vector<HeightRange>;

/// The error that the readings leave to a judged margin, as its finding has it; 0: none.
double find_judged_error(const Analysis& a, std::initializer_list<FindingKind> kinds) {
    for (const Finding& f : a.findings) {
        if (std::find(kinds.begin(), kinds.end(), f.kind) != kinds.end()) return f.band;
    }
    return 0.0;
}

/// Heights at which the shaft is too short, or too long, for one limit after another.
class LengthBands {
public:
    explicit LengthBands(const LinkageAnalysis& linkage) : m_(linkage.model), box_(linkage.box) {}

    Bands below(double shortest) const {
        return find_remaining_heights(box_.heights, find_heights_longer_than(m_, box_, shortest));
    }
    Bands above(double longest) const {
        return find_remaining_heights(box_.heights, find_heights_shorter_than(m_, box_, longest));
    }

private:
    const MountedModel& m_;
    const TravelBox& box_;
};

/// A limit with what the readings leave open about it: none of the three is nearer to trouble than the one before.
struct RoomLimits {
    double doubtful, little, none;
};
RoomLimits find_room_limits(double needed, double error) {
    const double little = needed - error;
    return {needed + error, little, std::min(0.0, little)};
}

TubeBands find_tube_bands(const Analysis& a) {
    const ShaftAnalysis& shaft = *a.shaft;
    const TelescopingHalves& halves = a.linkage->model.halves;
    const double closed = halves.closed_length, parting = closed + std::min(halves.tube_a, halves.tube_b);
    const LengthBands heights(*a.linkage);
    TubeBands b;
    b.gap_needed = shaft.limits.gap_required;
    b.overlap_needed = shaft.plan.uncut.overlap_needed;
    b.gap_error = find_judged_error(a, {FindingKind::gap_at_shortest});
    b.overlap_error = find_judged_error(a, {FindingKind::overlap_at_longest, FindingKind::separation});
    const RoomLimits gap = find_room_limits(b.gap_needed, b.gap_error);
    const RoomLimits overlap = find_room_limits(b.overlap_needed, b.overlap_error);
    b.gap_doubtful = heights.below(closed + gap.doubtful);
    b.gap_short = heights.below(closed + gap.little);
    b.bottoms_out = heights.below(closed + gap.none);
    b.overlap_doubtful = heights.above(parting - overlap.doubtful);
    b.overlap_short = heights.above(parting - overlap.little);
    b.apart = heights.above(parting - overlap.none);
    return b;
}

GuardBands find_guard_bands(const Analysis& a, double overlap_needed) {
    const TelescopingHalves& guard = a.linkage->model.guard;
    const LengthBands heights(*a.linkage);
    const double parting = guard.closed_length + std::min(guard.tube_a, guard.tube_b);
    GuardBands b;
    b.overlap_needed = overlap_needed;
    b.meet = heights.below(guard.closed_length);
    b.overlap_short = heights.above(parting - overlap_needed);
    b.bare = heights.above(parting);
    return b;
}

void add_all(Bands& to, const Bands& more) {
    for (const HeightRange& r : more) to = add_heights(std::move(to), r);
}

/// A lift stop that a finding asks for keeps the parts from meeting; past it they have met or passed through each other.
void add_beyond_stops(Bands& touch, const Finding& f, const HeightRange& travel) {
    for (const Remedy& r : f.remedies) {
        if (r.kind == RemedyKind::lift_stop) touch = add_heights(std::move(touch), {r.value, travel.high});
        if (r.kind == RemedyKind::lower_stop) touch = add_heights(std::move(touch), {travel.low, r.value});
    }
}

/// All pairs together: a slider has no room for one track each.
ClearanceBands find_room_bands(const Setup& setup, const Analysis& a) {
    ClearanceBands b;
    const LinkageAnalysis& linkage = *a.linkage;
    for (const Clearance& c : a.clearances) {
        const auto is_its = [&](const Finding& f) {
            return f.kind == FindingKind::clearance && f.subject == c.part && f.other == clearance_against(c.kind);
        };
        const auto f = std::find_if(a.findings.begin(), a.findings.end(), is_its);
        if (f == a.findings.end() || c.least.bound >= std::max(f->limit, f->band)) continue;
        const auto nearer = [&](double room) { return find_heights_nearer_than(setup, linkage.model, linkage.box, c, room); };
        const bool certain = f->value <= -f->band;
        add_all(b.little, nearer(std::max(f->limit, f->band)));
        if (f->value < f->band) add_all(b.may_touch, nearer(std::max(f->band, touching)));
        if (!certain) continue;
        add_all(b.touch, nearer(touching));
        add_beyond_stops(b.touch, *f, linkage.box.heights);
    }
    add_all(b.may_touch, b.touch);
    add_all(b.little, b.may_touch);
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

std::optional<TravelBands> find_travel_bands(const Setup& setup, const Analysis& a) {
    if (!a.linkage) return std::nullopt;
    TravelBands b;
    b.travel = a.linkage->box.heights;
    b.work = a.linkage->model.working_band;
    if (!a.clearances.empty()) b.clearances = find_room_bands(setup, a);
    if (!a.shaft) return b;
    const auto rest = [&](const std::vector<HeightRange>& inside) { return find_remaining_heights(b.travel, inside); };
    const ShaftAnalysis& s = *a.shaft;
    b.tractor_joint = JointBands{rest(s.tractor_free), rest(s.tractor_on), rest(s.tractor_reach)};
    b.implement_joint = JointBands{rest(s.implement_free), rest(s.implement_on), rest(s.implement_reach)};
    widen_by_findings(*b.tractor_joint, a, "tractor joint", b.travel);
    widen_by_findings(*b.implement_joint, a, "implement joint", b.travel);
    if (s.has_plan) b.tubes = find_tube_bands(a);
    const Limit& guard_overlap = setup.rules.guard_overlap;
    if (s.has_guard && s.guard.status == HalvesStatus::ok) b.guard = find_guard_bands(a, guard_overlap.set ? guard_overlap.value : 0.0);
    return b;
}

}  // namespace hitchwright
