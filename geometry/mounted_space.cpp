// See mounted_space.h.
#include "geometry/mounted_space.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "geometry/bounded_extreme.h"
#include "geometry/rod_tilt_range.h"
#include "geometry/tractor_lift.h"

namespace hitchwright {
namespace {

constexpr double tilt_closeness = 3.0e-5;  ///< of a sine: 0.03 mm at a ball 1 m off
constexpr double sway_closeness = 1.0e-5;  ///< m
constexpr int most_passes = 4;             ///< of sway and tilt in turns
constexpr double wide_strip = 0.01;        ///< m of height: where nothing is known over more, the height is halved first

bool has_chains(const Tractor& t) {
    const CheckChainReadings& c = t.check_chain;
    return c.anchor_x.known && c.anchor_half_spread.known && c.anchor_z.known && c.pin_along_link.known && c.length.known;
}

void set_rods(const Setup& s, MountedSpace& m) {
    const Tractor& t = s.tractor;
    if (!has_lift_linkage(t)) return;
    const Choices& c = s.choices;
    const double own = t.lift_rod.length.value;
    m.has_rods = true;
    m.rods = {Point(t.lift_arm.pivot_x.value, t.lift_arm.pivot_z.value), t.lift_arm.length.value, t.lift_arm.half_spread.value,
              c.left_lift_rod_length.value_or(own), c.right_lift_rod_length.value_or(own), t.lift_rod.pin_along_link.value,
              t.lift_rod.pin_off_link.value_or(0.0)};
    m.rods_set = m.rods.left_length != own || m.rods.right_length != own;
}

void set_sway(const Setup& s, MountedSpace& m) {
    const Tractor& t = s.tractor;
    if (has_chains(t)) {
        const double own = t.check_chain.length.value;
        m.sway_source = SwaySource::chains;
        m.chains = {t.check_chain.anchor_x.value, t.check_chain.anchor_half_spread.value, t.check_chain.anchor_z.value,
                    t.check_chain.pin_along_link.value, s.choices.left_check_chain_length.value_or(own),
                    s.choices.right_check_chain_length.value_or(own)};
    } else if (t.sway.total_at_ball.known) {
        m.sway_source = SwaySource::total;
        m.total_sway = t.sway.total_at_ball.value;
    }
}

/// A function of two variables of a SpatialBox as the searches want it; the others stay thin. Over narrow strips of height
/// it mostly rises or falls with the second variable all the way, and one side of it is left. So where nothing is known of a
/// box yet the height is to be halved: the second slope is then given as a finite one, which a search takes for the lesser of
/// the two and for nothing else, since it holds 0 and the first has no bound.
template <class Enclose>
auto over_two(std::size_t first, std::size_t second, const Enclose& enclose) {
    return [first, second, &enclose](const auto& x) {
        SpatialBox box{Interval(0.0), Interval(0.0), Interval(0.0), Interval(1.0)};
        box[first] = x[0].v;
        box[second] = x[1].v;
        const SpatialJet f = enclose(box);
        std::decay_t<decltype(x[0])> r(f.v);
        if (!r.d.empty()) {
            r.d.front() = f.d[first];
            r.d.back() = f.d[second];
            if (f.d[first] == whole_line() && box[first].width() > wide_strip) r.d.back() = Interval(-1.0, 1.0);
        }
        return r;
    };
}

/// Extremes over heights and one more variable. What is not proven, or has no bound, is said.
template <class Enclose>
HeightRange find_range(const HeightRange& heights, std::size_t second, const HeightRange& range, const Enclose& enclose,
                       double closeness, bool& proven) {
    const auto f = over_two(0, second, enclose);
    const IntervalBox<2> box{Interval(heights.low, heights.high), Interval(range.low, range.high)};
    const BoundedExtreme<2> least = find_minimum<2>(f, box, PlainCloseness{closeness}),
                            most = find_maximum<2>(f, box, PlainCloseness{closeness});
    proven = proven && least.converged && most.converged;
    return {least.converged ? least.bound : least.value, most.converged ? most.bound : most.value};
}

/// The same at a few heights and the ends of the other range; nothing where it is not there at one of them.
template <class F>
std::optional<HeightRange> sample_range(const HeightRange& heights, const HeightRange& range, const F& f) {
    constexpr int places = 3;
    HeightRange found{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    for (int i = 0; i < places; ++i) {
        const double h = heights.low + (heights.high - heights.low) * i / (places - 1);
        for (const double other : {range.low, range.high}) {
            const std::optional<double> value = f(h, other);
            if (!value) return std::nullopt;
            found.low = std::min(found.low, *value);
            found.high = std::max(found.high, *value);
            if (range.low == range.high) break;
        }
    }
    return found;
}

class RangeFinder {
public:
    RangeFinder(const MountedSpace& space, const HeightRange& heights, RangeSearch search)
        : space_(space), heights_(heights), search_(search) {}

    SideRanges find() {
        SideRanges r;
        const bool chains = space_.sway_source == SwaySource::chains;
        r.sway = find_sway(chains ? find_tilt({}) : HeightRange{});
        r.tilt_sine = find_tilt(r.sway);
        // Sway and tilt hang together: until both hold what the other gives.
        for (int pass = 0; chains && r.tilt_sine != HeightRange{}; ++pass) {
            const HeightRange again = find_sway(r.tilt_sine);
            const bool holds = again.low >= r.sway.low - sway_closeness && again.high <= r.sway.high + sway_closeness;
            r.sway = {std::min(r.sway.low, again.low), std::max(r.sway.high, again.high)};
            if (holds) break;
            if (pass == most_passes) {
                proven_ = false;
                break;
            }
            r.tilt_sine = find_tilt(r.sway);
        }
        r.proven = proven_;
        r.limited = limited_;
        return r;
    }

private:
    HeightRange find_tilt(const HeightRange& sway) {
        HeightRange tilt{};
        // Rods alike keep the hitch level only where it stands in the middle.
        const bool tilts = space_.rods.left_length != space_.rods.right_length || sway != HeightRange{};
        if (space_.has_rods && tilts) tilt = find_rod_tilt(sway);
        return {tilt.low - space_.slot_tilt, tilt.high + space_.slot_tilt};
    }

    HeightRange find_rod_tilt(const HeightRange& sway) {
        const auto sampled = sample_range(heights_, sway, [&](double h, double s) -> std::optional<double> {
            const RodPose p = solve_on_rods(space_.linkage, space_.rods, h, s);
            return p.closes ? std::optional<double>(p.hitch.at.tilt_sine) : std::nullopt;
        });
        if (!sampled) {
            proven_ = false;
            return {};
        }
        if (search_ == RangeSearch::at_a_few_heights) return *sampled;
        if (const std::optional<HeightRange> range = find_rod_tilt_range(space_.linkage, space_.rods, heights_, sway, tilt_closeness)) return *range;
        const auto enclose = [&](const SpatialBox& box) { return enclose_rod_tilt(space_.linkage, space_.rods, box); };
        return find_range(heights_, 1, sway, enclose, tilt_closeness, proven_);
    }

    HeightRange find_sway(const HeightRange& tilt) {
        if (space_.sway_source == SwaySource::total) return {-0.5 * space_.total_sway, 0.5 * space_.total_sway};
        if (space_.sway_source == SwaySource::none) return {};
        return {std::min(0.0, find_limit(TractorSide::left, tilt)), std::max(0.0, find_limit(TractorSide::right, tilt))};
    }

    /// The farthest that the chains let the hitch go to one side; 0 where they set no limit.
    double find_limit(TractorSide towards, const HeightRange& tilt) {
        const bool right = towards == TractorSide::right;
        const auto sampled = sample_range(heights_, tilt, [&](double h, double t) {
            const SwayLimits l = find_sway_limits(space_.linkage, space_.chains, h, t);
            return right ? l.right : l.left;
        });
        const std::optional<TractorSide> chain = find_limiting_chain(space_.linkage, space_.chains, 0.5 * (heights_.low + heights_.high), towards);
        if (!sampled || !chain) {
            limited_ = false;
            return 0.0;
        }
        if (search_ == RangeSearch::at_a_few_heights) return right ? sampled->high : sampled->low;
        const auto enclose = [&](const SpatialBox& box) { return enclose_sway_limit(space_.linkage, space_.chains, *chain, box); };
        const HeightRange found = find_range(heights_, 2, tilt, enclose, sway_closeness, proven_);
        return right ? found.high : found.low;
    }

    const MountedSpace& space_;
    HeightRange heights_;
    RangeSearch search_;
    bool proven_ = true, limited_ = true;
};

}  // namespace

SpatialBox make_spatial_box(const TravelBox& box) {
    const auto side = [](const HeightRange& r) { return Interval(r.low, r.high); };
    return {side(box.heights), side(box.sway), side(box.tilt_sine), side(box.upper_lengths)};
}

MountedSpace make_mounted_space(const Setup& setup, const PlanarLinkage& side_view, double lower_length) {
    MountedSpace m;
    const LowerLinkReadings& l = setup.tractor.lower_link;
    m.linkage = {side_view, lower_length, l.half_spread_at_pivot.value, l.half_spread_at_ball.value};
    set_rods(setup, m);
    set_sway(setup, m);
    const double slot = setup.tractor.lift_rod.free_rise.value_or(0.0);
    if (slot > 0.0) m.slot_tilt = std::min(0.5, 0.5 * slot / l.half_spread_at_ball.value);
    return m;
}

std::optional<double> carry_height_to_rods(const MountedSpace& m, double own_rod_length, double height) {
    LiftRods own = m.rods;
    own.left_length = own.right_length = own_rod_length;
    const RodPose taped = solve_on_rods(m.linkage, own, height, 0.0);
    if (!taped.closes) return std::nullopt;
    const RodPose set = solve_at_arm(m.linkage, m.rods, taped.arm_angle, 0.0, height);
    return set.closes ? std::optional<double>(set.hitch.at.height) : std::nullopt;
}

bool closes_throughout(const SpatialLinkage& k, const SpatialBox& box) {
    // Positive where the upper link's triangle has an area: Heron's product, and the link longer than it is beside.
    const auto area = [&k](const auto& x) {
        using Jet = std::decay_t<decltype(x[0])>;
        const SpatialBox at{x[0].v, x[1].v, x[2].v, x[3].v};
        if constexpr (Jet{}.d.empty()) {
            const HitchEnclosure<Interval> h = enclose_hitch_point(k, at);
            const detail::MastTriangle<Interval> t = detail::make_mast_triangle(k, h.hitch, h.axis, at[3]);
            return Jet(find_heron_product(k.side_view.mast_pin.norm(), sqrt(square(t.to_pin.x) + square(t.to_pin.z)), t.upper));
        } else {
            const HitchEnclosure<SpatialJet> h = enclose_hitch(k, at);
            const detail::MastTriangle<SpatialJet> t = detail::make_mast_triangle(k, h.hitch, h.axis, SpatialJet::variable(at[3], 3));
            return find_heron_product(k.side_view.mast_pin.norm(), sqrt(square(t.to_pin.x) + square(t.to_pin.z)), t.upper);
        }
    };
    // The lower links must reach every corner and the middle; between them the search finds what does not close.
    for (const double h : {box[0].lo, box[0].middle(), box[0].hi}) {
        for (const double s : {box[1].lo, box[1].hi}) {
            for (const double t : {box[2].lo, box[2].hi}) {
                if (!solve_spatial_pose(k, {h, s, t}).reached) return false;
            }
        }
    }
    const auto decided = [](double value, double bound) { return bound > 0.0 || value <= 0.0; };
    return find_minimum<4>(area, box, decided).bound > 0.0;
}

void set_side_ranges(MountedSpace& space, const TravelBox& box, RangeSearch search) {
    if (search == RangeSearch::none) return;
    space.side = RangeFinder(space, box.heights, search).find();
    if (space.side.planar() || search == RangeSearch::at_a_few_heights) return;
    TravelBox whole = box;
    whole.sway = space.side.sway;
    whole.tilt_sine = space.side.tilt_sine;
    space.side_closes = closes_throughout(space.linkage, make_spatial_box(whole));
    if (!space.side_closes) space.side = {};
}

}  // namespace hitchwright
