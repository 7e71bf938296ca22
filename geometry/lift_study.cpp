// See lift_study.h.
#include "geometry/lift_study.h"

#include <algorithm>
#include <cmath>

#include "geometry/carried_bands.h"
#include "geometry/common_heights.h"
#include "geometry/mounted_extremes.h"
#include "geometry/travel_panels.h"
#include "geometry/travel_place.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(LiftStudy);

namespace {

/// kg: a hundredth of what anybody weighs to.
constexpr double capacity_closeness = 0.01;
/// Ends of pieces within this of each other (m) are one: both come from the same point of a curve.
constexpr double same_height = 1e-7;

void set_load(const Setup& s, const MountedModel& m, LiftStudy& r) {
    const LiftRatio load = choose_load_point(s.implement, m);
    r.point = load.point;
    r.load_at = load.at;
    r.mass_known = s.implement.mass.mass.known;
    r.mass = s.implement.mass.mass.value_or(0.0);
    if (!m.has_coupler) return;
    const Coupler& c = s.parts.coupler;
    r.coupler_mass_missing = !c.mass.known;
    r.coupler_mass = c.mass.value_or(0.0);
    r.coupler_at = Point(c.cg_x.value_or(c.set_back.value_or(0.0)), 0.0);
}

/// dz/dz_ball of load and coupler.
template <class T>
struct Rises {
    T load, coupler;
};

template <class T>
Rises<T> find_rises(const LiftStudy& r, const PlanarLinkage& k, const KernelPose<T>& pose) {
    Rises<T> rises{find_load_rise(k, pose, r.load_at), T(0.0)};
    if (r.coupler_mass > 0.0) rises.coupler = find_load_rise(k, pose, r.coupler_at);
    return rises;
}

/// kg that the balls still carry with the coupler on them, for the load times its rise.
template <class T>
T find_left(const LiftStudy& r, const KernelPose<T>& pose, const Rises<T>& rises, std::size_t piece) {
    return (1.0 / gravity) * evaluate_force<T>(r.force, pose.ball.z, piece) - r.coupler_mass * rises.coupler;
}

std::vector<HeightRange> join(const std::vector<HeightRange>& ranges) {
    std::vector<HeightRange> joined;
    for (const HeightRange& range : ranges) {
        if (!joined.empty() && range.low - joined.back().high <= same_height) {
            joined.back().high = std::max(joined.back().high, range.high);
        } else {
            joined.push_back(range);
        }
    }
    return joined;
}

void find_lifted(const MountedModel& m, const TravelBox& whole, LiftStudy& r) {
    for (const ForcePiece& p : r.pieces) {
        const TravelBox box{p.heights, whole.upper_lengths};
        const auto lacking = [&](const auto& pose) {
            const auto rises = find_rises(r, m.linkage, pose);
            return r.mass * rises.load - find_left(r, pose, rises, p.piece);
        };
        for (const HeightRange& h : find_heights_inside(m.linkage, box, lacking, 0.0)) r.lifted.push_back(h);
    }
    r.lifted = join(r.lifted);
}

void find_least_capacity(const MountedModel& m, const TravelBox& whole, LiftStudy& r) {
    for (const ForcePiece& p : r.pieces) {
        const TravelBox box{p.heights, whole.upper_lengths};
        const auto capacity = [&](const auto& pose) {
            const auto rises = find_rises(r, m.linkage, pose);
            return find_left(r, pose, rises, p.piece) / rises.load;
        };
        const TravelExtreme e = find_least(m.linkage, box, capacity, PlainCloseness{capacity_closeness});
        if (!r.least_capacity || e.value < r.least_capacity->value) r.least_capacity = e;
    }
}

/// From the working height up; without one the whole travel.
HeightRange find_carried_travel(const MountedModel& m) {
    HeightRange carried = m.travel;
    if (m.has_working_height)
        carried.low = std::clamp(std::min(m.working_height, m.working_band.low), m.travel.low, m.travel.high);
    return carried;
}

/// The tractor's travel without the stops of the set-up.
HeightRange find_tested_travel(const MountedModel& m) {
    const HeightRange tested{std::min(m.travel.low, m.travel_bounds.low.height),
                             std::max(m.travel.high, m.travel_bounds.high.height)};
    return tested.low < tested.high ? tested : m.travel;
}

LiftAnswer find_answer(const LiftStudy& r) {
    if (!r.mass_known || r.pieces.empty() || !r.rise_known) return LiftAnswer::not_known;
    if (r.rise_least.bound <= 0.0) return LiftAnswer::load_stops;
    const bool all = r.lifted.size() == 1 && r.lifted.front().low <= r.pieces.front().heights.low + same_height &&
                     r.lifted.front().high >= r.pieces.back().heights.high - same_height;
    if (all)
        return r.force.meaning() == ForceMeaning::at_most || !r.whole_travel ? LiftAnswer::not_assured
                                                                             : LiftAnswer::lifts;
    if (r.force.meaning() == ForceMeaning::at_least) return LiftAnswer::not_assured;
    return r.stall ? LiftAnswer::stalls : LiftAnswer::lifts_not;
}

/// What is left over at the worst height, kg beyond the load at the load's own place: at `place` or at an end of the heights.
std::optional<double> find_spare(const LiftStudy& r, const MountedModel& m, const TravelPlace& place) {
    const HeightRange ends = find_carried_travel(m);
    std::optional<double> least = find_lift_row(r, m, find_box_at(place, m).heights.low).capacity;
    if (!least) return std::nullopt;
    for (const double end : {ends.low, ends.high}) {
        const std::optional<double> there = find_lift_row(r, m, end).capacity;
        if (there) least = std::min(*least, *there);
    }
    return *least - r.mass;
}

double find_rise_at(const LiftStudy& r, const MountedModel& m, const TravelPlace& place) {
    double least = find_lift_row(r, m, find_box_at(place, m).heights.low).rise;
    for (const double end : {find_carried_travel(m).low, m.travel.high}) least = std::min(least, find_lift_row(r, m, end).rise);
    return least;
}

void find_bands(const ErrorModel& errors, const MountedModel& m, LiftStudy& r) {
    const bool stops = r.rise_known && r.rise_least.bound <= 0.0;
    if (!r.least_capacity && !stops) return;
    const TravelBox box{m.travel, effective_upper_lengths(m)};
    const TravelPlace place = find_place(stops ? r.rise_least : *r.least_capacity, m.travel, box, false);
    ErrorBand& band = stops ? r.rise_band : r.band;
    band = propagate_model(errors, m.pin_decision, 1, [&](const MovedSetup& at, const MountedModel& now, std::span<std::optional<double>> out) {
               const Setup& moved = at.setup;
               LiftStudy study;
               set_load(moved, now, study);
               if (stops) {
                   out[0] = find_rise_at(study, now, place);
                   return;
               }
               study.force = find_ball_force(moved, now).force;
               if (study.force.source == r.force.source) out[0] = find_spare(study, now, place);
           }, reads_linkage_and(errors, m, {"tractor.lift_", "tractor.mass.lift_", "tractor.upper_link_pin", "tractor.hitch.", "implement.mass.", "coupler."})).bands[0];
}

}  // namespace

LiftRow find_lift_row(const LiftStudy& r, const MountedModel& m, double height) {
    PlanarLinkage k = m.linkage;
    k.upper_length = effective_upper_lengths(m).high;
    LiftRow row;
    row.height = height;
    if (!closes_at(k, height)) return row;
    const KernelPose<double> pose = solve_kernel<double>(k, height, k.upper_length);
    const Rises<double> rises = find_rises(r, k, pose);
    row.rise = rises.load;
    row.at_balls = find_force_at(r.force, height);
    if (r.mass_known) row.needed = gravity * (r.mass * rises.load + r.coupler_mass * rises.coupler);
    if (row.at_balls && rises.load > 0.0)
        row.capacity = (*row.at_balls / gravity - r.coupler_mass * rises.coupler) / rises.load;
    return row;
}

LiftStudy study_lift_alone(const Setup& s, const MountedModel& m) {
    LiftStudy r;
    set_load(s, m, r);
    const BallForceResult force = find_ball_force(s, m);
    r.force = force.force;
    r.missing = force.missing;
    if (!r.mass_known) r.missing.emplace_back("implement.mass.mass");
    if (r.point == LoadPoint::behind_610) r.missing.emplace_back("implement.mass.cg_x");
    if (r.coupler_mass_missing) r.missing.emplace_back("coupler.mass");
    r.travel = find_carried_travel(m);
    r.pieces = find_force_pieces(r.force, r.travel);
    // The test had the tractor's whole travel, whatever stops this set-up has.
    r.pair = has_bounded_rise(m) ? compare_published(r.force, find_tested_travel(m)) : std::nullopt;
    r.whole_travel = !r.pieces.empty() && r.pieces.front().heights.low <= r.travel.low + same_height &&
                     r.pieces.back().heights.high >= r.travel.high - same_height;
    r.strap_held = m.strap_has_stops;
    r.rise_known = has_bounded_rise(m) && !r.strap_held;
    if (!r.rise_known) return r;
    TravelBox box = make_travel_box(m);
    box.heights = r.travel;
    box.upper_lengths.low = box.upper_lengths.high;
    const LoadRise rise{m.linkage, r.load_at};
    TravelPanels<1, LoadRise> rises(m.linkage, box, rise);
    r.rise_least = rises.find_least(0, box.heights, PlainCloseness{rise_closeness});
    r.rise_most = rises.find_greatest(0, box.heights, PlainCloseness{rise_closeness});
    r.rising = r.rise_least.bound > 0.0 ? std::vector<HeightRange>{r.travel} : rises.find_not_below(0, 0.0);
    if (r.pieces.empty()) return r;
    if (r.rise_least.bound > 0.0) find_least_capacity(m, box, r);
    if (r.mass_known) find_lifted(m, box, r);
    if (r.rise_least.bound <= 0.0) r.lifted = find_common_heights(r.lifted, r.rising);
    if (!r.lifted.empty() && r.lifted.front().low <= r.pieces.front().heights.low + same_height)
        r.stall = r.lifted.front().high;
    r.answer = find_answer(r);
    return r;
}

LiftStudy study_lift(const ErrorModel& errors, const MountedModel& m) {
    LiftStudy r = study_lift_alone(errors.setup(), m);
    find_bands(errors, m, r);
    return r;
}

}  // namespace hitchwright
