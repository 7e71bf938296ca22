// See space_study.h.
#include "geometry/space_study.h"

#include <algorithm>
#include <cmath>

#include "geometry/carried_bands.h"
#include "geometry/common_heights.h"
#include "geometry/height_bands.h"
#include "geometry/inside_intervals.h"
#include "geometry/mounted_extremes.h"
#include "geometry/standing_tractor.h"
#include "geometry/travel_place.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(SpaceStudy);

namespace {

SwayAt find_sway_at(const MountedSpace& space, double height) {
    SwayAt s;
    s.ball_height = height;
    if (space.sway_source == SwaySource::total) s.left = -0.5 * space.total_sway, s.right = 0.5 * space.total_sway;
    if (space.sway_source != SwaySource::chains) return s;
    const SwayLimits limits = find_sway_limits(space.linkage, space.chains, height, 0.0);
    s.left = limits.left;
    s.right = limits.right;
    return s;
}

std::optional<double> find_total(const SwayAt& s) { return s.left && s.right ? std::optional<double>(*s.right - *s.left) : std::nullopt; }

/// Height at which the chains lack most, of the ends and middles of the blocked ranges.
double find_worst_blocked(const MountedSpace& space, const SwayStudy& s) {
    double worst = s.blocked.front().low, least = 0.0;
    for (const HeightRange& r : s.blocked) {
        for (const double h : {r.low, 0.5 * (r.low + r.high), r.high}) {
            const double total = find_total(find_sway_at(space, h)).value_or(0.0);
            if (total < least) least = total, worst = h;
        }
    }
    return worst;
}

struct Rearmost {
    std::string name;
    Point at = Point::Zero();
};

Rearmost find_rearmost(const Setup& s, const MountedModel& m) {
    Rearmost r;
    const auto look = [&](const std::string& name, const Reading& x, const Reading& z) {
        const Point at = find_body_point(m, x, z);
        if (at.x() > r.at.x()) r = {name, at};
    };
    for (const ImplementPoint& p : s.implement.points) look(p.name, p.x, p.z);
    for (const GroundContact& g : s.implement.ground_contacts) look(g.name, g.x, g.z);
    return r;
}

std::optional<TailSwing> find_tail_swing(const Setup& s, const MountedModel& m, const SwayAt& sway) {
    const Rearmost rear = find_rearmost(s, m);
    if (!sway.left || !sway.right || *sway.right < *sway.left || rear.name.empty()) return std::nullopt;
    TailSwing t;
    t.name = rear.name;
    t.behind = rear.at.x();
    double* const ends[] = {&t.left, &t.right};
    for (const int i : {0, 1}) {
        const double to = i == 0 ? *sway.left : *sway.right;
        const SpatialSolution p = solve_spatial_pose(m.space.linkage, {sway.ball_height, to, 0.0});
        if (!p.closes) return std::nullopt;
        *ends[i] = p.pose.place({rear.at.x(), 0.0, rear.at.y()}).y;
    }
    t.balls = *sway.right - *sway.left;
    t.tail = t.right - t.left;
    return t;
}

/// Excess of a chain over heights with the hitch level and in the middle: positive where it is too short for that.
SpatialJet enclose_centred_excess(const MountedSpace& space, TractorSide chain, const Interval& heights) {
    const SpatialBox box{heights, Interval(0.0), Interval(0.0), Interval(1.0)}, middle = detail::find_middle(box);
    const HitchEnclosure<SpatialJet> h = enclose_hitch(space.linkage, box);
    const HitchEnclosure<Interval> m = enclose_hitch_point(space.linkage, middle);
    SpatialJet excess = find_chain_excess(space.linkage, space.chains, h.hitch, h.axis.along, chain);
    narrow_by_mean(excess, find_chain_excess(space.linkage, space.chains, m.hitch, m.axis.along, chain), box);
    return excess;
}

/// Heights at which the level hitch, pulled to one side until a chain is taut, is still on the wrong side of the other chain.
std::vector<HeightRange> find_blocked(const MountedModel& m) {
    const MountedSpace& space = m.space;
    const double middle = 0.5 * (m.travel.low + m.travel.high);
    const auto left = find_limiting_chain(space.linkage, space.chains, middle, TractorSide::left),
               right = find_limiting_chain(space.linkage, space.chains, middle, TractorSide::right);
    if (!left || !right) return {};
    const auto lacking = [&](const auto& x) {
        const SpatialBox box{x[0].v, Interval(0.0), Interval(0.0), Interval(1.0)};
        const SpatialJet l = enclose_sway_limit(space.linkage, space.chains, *left, box),
                         r = enclose_sway_limit(space.linkage, space.chains, *right, box);
        std::decay_t<decltype(x[0])> f(l.v - r.v);
        if constexpr (!std::decay_t<decltype(x[0])>{}.d.empty()) f.d[0] = l.d[0] - r.d[0];
        return f;
    };
    const IntervalBox<1> travel{Interval(m.travel.low, m.travel.high)};
    // Chains that are slack in the middle stop nothing, also where they set no limit at all.
    const auto taut_in_the_middle = [&](TractorSide chain) {
        return [&space, chain](const auto& x) {
            const SpatialJet excess = enclose_centred_excess(space, chain, x[0].v);
            std::decay_t<decltype(x[0])> f(excess.v);
            if constexpr (!std::decay_t<decltype(x[0])>{}.d.empty()) f.d[0] = excess.d[0];
            return f;
        };
    };
    std::vector<HeightRange> free = find_common_heights(find_inside(taut_in_the_middle(*left), travel, 0.0),
                                                        find_inside(taut_in_the_middle(*right), travel, 0.0));
    for (const HeightRange& rest : find_remaining_heights(m.travel, free)) {
        for (const HeightRange& r : find_inside(lacking, IntervalBox<1>{Interval(rest.low, rest.high)}, 0.0)) free = add_heights(free, r);
    }
    return find_remaining_heights(m.travel, free);
}

std::optional<SwayStudy> study_sway(const Setup& s, const MountedModel& m) {
    if (m.space.sway_source == SwaySource::none) return std::nullopt;
    SwayStudy r;
    r.source = m.space.sway_source;
    r.low = find_sway_at(m.space, m.travel.low);
    r.high = find_sway_at(m.space, m.travel.high);
    const bool inside = m.has_working_height && m.travel.contains(m.working_height);
    r.working = inside ? find_sway_at(m.space, m.working_height) : SwayAt{};
    if (inside) r.tail = find_tail_swing(s, m, r.working);
    if (r.source == SwaySource::chains) r.blocked = find_blocked(m);
    if (!r.blocked.empty()) r.blocked_by = -find_total(find_sway_at(m.space, find_worst_blocked(m.space, r))).value_or(0.0);
    return r;
}

std::optional<TyreRoomParts> find_tyre_parts(const Setup& s) {
    const TyreReadings& t = s.tractor.tyre;
    if (!t.rear_radius.known || !t.rear_width.known || !t.rear_track.known || !s.tractor.lower_link.outer_half_width.known) return std::nullopt;
    return TyreRoomParts{t.rear_radius.value, 0.5 * (t.rear_track.value - t.rear_width.value),
                         s.tractor.lower_link.outer_half_width.value, s.implement.hitch.side_play.value_or(0.0)};
}

enum Number : std::size_t { room, total_sway, blocked, numbers };

/// Least room of one link at one place of the hitch, near `along`: where the link leaves the tyre in side view moves with the
/// readings. There the room falls up to a point and then rises.
double find_least_room_near(const SpatialLinkage& k, const TyreRoomParts& parts, TractorSide side, const HitchPlace<double>& at, double along) {
    constexpr double reach = 0.1, close = 1e-7;  // shares of the link
    const SpatialSolution pose = solve_spatial_pose(k, at);
    const Vec3<double>& ball = side == TractorSide::right ? pose.right_ball : pose.left_ball;
    const auto room_at = [&](double t) { return find_tyre_room_at(k, parts, side, ball, t); };
    double low = std::max(0.0, along - reach), high = std::min(1.0, along + reach);
    double least = std::min(room_at(low), room_at(high));
    while (high - low > close) {
        const double a = low + 0.382 * (high - low), b = high - 0.382 * (high - low);
        const double at_a = room_at(a), at_b = room_at(b);
        least = std::min({least, at_a, at_b});
        (at_a < at_b ? high : low) = at_a < at_b ? b : a;
    }
    return least;
}

bool is_same(const TyreRoomParts& a, const TyreRoomParts& b) {
    return a.radius == b.radius && a.inner_face == b.inner_face && a.outer_half_width == b.outer_half_width && a.side_play == b.side_play;
}

/// Least room beside the tyre near the place where it is least as read. A move that changes neither poses nor parts leaves it.
class TyreRoomNumber {
public:
    TyreRoomNumber(const TyreRoom& least, const TravelPlace& place) : least_(least), place_(place) {}

    double find(const MovedSetup& moved, const MountedModel& now, const TyreRoomParts& parts) {
        if (as_read_ && has_same_poses(now, *as_read_) && is_same(parts, parts_)) return room_;
        const TravelBox at = find_box_at(place_, now);
        const double room = find_least_room_near(now.space.linkage, parts, least_.side, {at.heights.low, at.sway.low, at.tilt_sine.low}, least_.along);
        if (moved.move == 0) as_read_ = &now, parts_ = parts, room_ = room;
        return room;
    }

private:
    const TyreRoom& least_;
    const TravelPlace& place_;
    const MountedModel* as_read_ = nullptr;  ///< once it has been asked about
    TyreRoomParts parts_;
    double room_ = 0.0;
};

void find_bands(const ErrorModel& errors, const MountedModel& m, SpaceStudy& r) {
    if (!r.tyre && !r.sway) return;
    TravelPlace place;
    if (r.tyre) {
        TravelExtreme e;
        e.height = r.tyre->at.height;
        e.sway = r.tyre->at.sway;
        e.tilt_sine = r.tyre->at.tilt_sine;
        place = find_place(e, m.travel, make_travel_box(m), false);
    }
    const double worst_blocked = r.sway && !r.sway->blocked.empty() ? find_worst_blocked(m.space, *r.sway) : 0.0;
    std::optional<TyreRoomNumber> room;
    if (r.tyre) room.emplace(*r.tyre, place);
    const auto find_numbers = [&](const MovedSetup& at_move, const MountedModel& now, std::span<std::optional<double>> out) {
        const Setup& moved = at_move.setup;
        const std::optional<TyreRoomParts> parts = r.tyre ? find_tyre_parts(*StandingSetup(moved)) : std::nullopt;
        if (parts) out[Number::room] = room->find(at_move, now, *parts);
        if (!r.sway || now.space.sway_source != r.sway->source) return;
        if (r.sway->working.left) out[Number::total_sway] = find_total(find_sway_at(now.space, r.sway->working.ball_height));
        if (!r.sway->blocked.empty()) out[Number::blocked] = find_total(find_sway_at(now.space, worst_blocked));
    };
    Propagation p = propagate_model(errors, m.pin_decision, numbers, find_numbers,
                                    reads_linkage_and(errors, m, {"tractor.tyre", "tractor.lower_link.", "tractor.check_chain", "implement.hitch."}),
                                    r.tyre ? RangeSearch::at_a_few_heights : RangeSearch::none);
    r.tyre_band = std::move(p.bands[Number::room]);
    if (!r.sway) return;
    r.sway->total_band = std::move(p.bands[Number::total_sway]);
    r.sway->blocked_band = std::move(p.bands[Number::blocked]);
}

}  // namespace

SpaceStudy study_sway_and_room(const ErrorModel& errors, const MountedModel& m) {
    const Setup& s = errors.setup();
    SpaceStudy r;
    const Choices& c = s.choices;
    r.rods_told = c.left_lift_rod_length.known || c.right_lift_rod_length.known || c.working_roll.known;
    r.side = m.space.side;
    r.side_closes = m.space.side_closes;
    r.sway = study_sway(s, m);
    // Sway and tilt that were left out would make the room too good.
    if (const std::optional<TyreRoomParts> parts = r.side_closes && r.side.limited ? find_tyre_parts(*StandingSetup(s)) : std::nullopt) {
        r.tyre_parts = *parts;
        r.tyre = find_tyre_room(m.space.linkage, *parts, make_spatial_box(make_travel_box(m)));
    }
    find_bands(errors, m, r);
    return r;
}

}  // namespace hitchwright
