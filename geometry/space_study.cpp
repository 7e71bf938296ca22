// See space_study.h.
#include "geometry/space_study.h"

#include <algorithm>
#include <cmath>

#include "geometry/height_bands.h"
#include "geometry/inside_intervals.h"
#include "geometry/mounted_extremes.h"

namespace hitchwright {
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
    if (!sway.left || !sway.right || rear.name.empty()) return std::nullopt;
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
    const std::vector<HeightRange> free = find_inside(lacking, IntervalBox<1>{Interval(m.travel.low, m.travel.high)}, 0.0);
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
    return r;
}

std::optional<TyreRoomParts> find_tyre_parts(const Setup& s) {
    const TyreReadings& t = s.tractor.tyre;
    if (!t.rear_radius.known || !t.rear_width.known || !t.rear_track.known || !s.tractor.lower_link.outer_half_width.known) return std::nullopt;
    return TyreRoomParts{t.rear_radius.value, 0.5 * (t.rear_track.value - t.rear_width.value),
                         s.tractor.lower_link.outer_half_width.value, s.implement.hitch.side_play.value_or(0.0)};
}

}  // namespace

SpaceStudy study_space(const Setup& s, const MountedModel& m) {
    SpaceStudy r;
    const Choices& c = s.choices;
    r.rods_told = c.left_lift_rod_length.known || c.right_lift_rod_length.known || c.working_roll.known;
    r.side = m.space.side;
    r.side_closes = m.space.side_closes;
    r.levelling = study_levelling(s, m);
    r.sway = study_sway(s, m);
    if (const std::optional<TyreRoomParts> parts = find_tyre_parts(s)) {
        r.tyre_parts = *parts;
        r.tyre = find_tyre_room(m.space.linkage, *parts, make_spatial_box(make_travel_box(m)));
    }
    return r;
}

}  // namespace hitchwright
