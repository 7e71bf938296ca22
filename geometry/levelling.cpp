// See levelling.h.
#include "geometry/levelling.h"

#include <algorithm>
#include <cmath>

#include "geometry/carried_bands.h"
#include "geometry/scalar_zero.h"

namespace hitchwright {
namespace {

constexpr double roll_error = 1e-9;  ///< rad: of a wanted roll
constexpr double probe = 1e-6, tilt_end = 3e-14, most_tilt_sine = 0.7;  ///< of the tilt's sine

std::vector<EdgeHeights> find_edges(const Setup& s, const MountedModel& m, const SpatialPose<double>& pose) {
    std::vector<EdgeHeights> edges;
    for (const ImplementPoint& p : s.implement.points) {
        if (!p.half_width.known || p.half_width.value <= 0.0) continue;
        const Point at = find_body_point(m, p.x, p.z);
        const double middle = p.y.value_or(0.0), half = p.half_width.value;
        edges.push_back({p.name, half, pose.place({at.x(), middle - half, at.y()}).z, pose.place({at.x(), middle + half, at.y()}).z});
    }
    return edges;
}

LevelPose make_level_pose(const Setup& s, const MountedModel& m, const RodPose& p) {
    LevelPose r;
    r.closes = p.closes && p.hitch.closes;
    if (!r.closes) return r;
    r.ball_height = p.hitch.at.height;
    r.arm_angle = p.arm_angle;
    r.attitude = p.hitch.attitude;
    r.left_ball = p.hitch.left_ball.z;
    r.right_ball = p.hitch.right_ball.z;
    r.edges = find_edges(s, m, p.hitch.pose);
    return r;
}

/// The tilt's sine that gives the implement a roll at a height, centred.
std::optional<double> find_tilt_for_roll(const SpatialLinkage& k, double height, double roll) {
    const auto f = [&](double tilt) -> std::optional<double> {
        const SpatialSolution s = solve_spatial_pose(k, {height, 0.0, tilt});
        return s.closes ? std::optional<double>(s.attitude.roll - roll) : std::nullopt;
    };
    const auto search = [&](double start) -> std::optional<double> {
        const std::optional<double> tilt = find_scalar_zero(f, {start, probe, tilt_end, -most_tilt_sine, most_tilt_sine});
        if (!tilt) return std::nullopt;
        const std::optional<double> left_over = f(*tilt);  // not nothing where the search was stopped
        return left_over && std::fabs(*left_over) <= roll_error ? tilt : std::nullopt;
    };
    // A level implement tilts as it rolls; one that stands steeply less, and may not close where it would tilt so much.
    const std::optional<double> tilt = search(std::clamp(std::sin(roll), -most_tilt_sine, most_tilt_sine));
    return tilt ? tilt : search(0.0);
}

RodLength make_rod_length(const Setup& s, const LiftRods& rods, TractorSide side, double wanted) {
    const LiftRodReadings& r = s.tractor.lift_rod;
    RodLength rod;
    rod.side = side;
    rod.set = side == TractorSide::left ? rods.left_length : rods.right_length;
    rod.wanted = wanted;
    rod.screw = r.levelling == LevellingRod::both || (r.levelling == LevellingRod::left) == (side == TractorSide::left);
    if (!rod.screw) return rod;
    if (r.advance_per_turn.known && r.advance_per_turn.value > 0.0) rod.turns = (wanted - rod.set) / r.advance_per_turn.value;
    if (r.length_least.known && wanted < r.length_least.value) rod.short_by = r.length_least.value - wanted;
    if (r.length_most.known && wanted > r.length_most.value) rod.long_by = wanted - r.length_most.value;
    if (!r.length_least.known && !r.length_most.known) return rod;
    rod.at_shortest = !r.length_most.known || (r.length_least.known && wanted - r.length_least.value < r.length_most.value - wanted);
    rod.end = rod.at_shortest ? r.length_least.value : r.length_most.value;
    return rod;
}

WantedRoll find_wanted(const Setup& s, const MountedModel& m, const LevelPose& working) {
    const MountedSpace& space = m.space;
    WantedRoll w;
    w.typed = s.choices.working_roll.known;
    w.roll = s.choices.working_roll.value_or(0.0);
    const std::optional<double> tilt = find_tilt_for_roll(space.linkage, m.working_height, w.roll);
    if (!tilt) return w;
    const HitchPlace<double> at{m.working_height, 0.0, *tilt};
    const LevellingRod screw = s.tractor.lift_rod.levelling;
    const TractorSide fixed = screw == LevellingRod::left ? TractorSide::right : TractorSide::left;
    std::optional<double> arm = working.arm_angle;
    if (screw != LevellingRod::both) arm = find_arm_angle(space.linkage, space.rods, at, fixed);
    else if (!working.closes) arm.reset();
    if (!arm) return w;
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
        const std::optional<double> length = find_rod_length(space.linkage, space.rods, at, *arm, side);
        if (!length) return w;
        w.rods.push_back(make_rod_length(s, space.rods, side, *length));
    }
    w.reached = true;
    return w;
}

/// The widest part, where a level is laid.
const EdgeHeights* find_widest(const std::vector<EdgeHeights>& edges) {
    const auto widest = std::max_element(edges.begin(), edges.end(), [](const auto& a, const auto& b) { return a.half_width < b.half_width; });
    return widest == edges.end() ? nullptr : &*widest;
}

/// Right less left end of the widest part, else of the balls.
double find_fall(const LevelPose& p) {
    const EdgeHeights* widest = find_widest(p.edges);
    return widest ? widest->right - widest->left : p.right_ball - p.left_ball;
}

/// What is wanted of find_fall: that of the same pose rolled as wanted.
std::optional<double> find_wanted_fall(const Setup& s, const MountedModel& m, double roll) {
    const std::optional<double> tilt = find_tilt_for_roll(m.space.linkage, m.working_height, roll);
    if (!tilt) return std::nullopt;
    const SpatialSolution p = solve_spatial_pose(m.space.linkage, {m.working_height, 0.0, *tilt});
    LevelPose l;
    l.left_ball = p.left_ball.z;
    l.right_ball = p.right_ball.z;
    l.edges = find_edges(s, m, p.pose);
    return find_fall(l);
}

std::optional<double> find_difference(const Setup& s, const MountedModel& m, const LevelPose& p) {
    const std::optional<double> wanted = find_wanted_fall(s, m, s.choices.working_roll.value_or(0.0));
    return wanted ? std::optional<double>(find_fall(p) - *wanted) : std::nullopt;
}

std::optional<double> find_difference(const Setup& s, const MountedModel& m) {
    const LevelPose p = find_level_pose(s, m, m.working_height);
    return p.closes ? find_difference(s, m, p) : std::nullopt;
}

/// Rod lengths nobody set apart are one reading, but of two rods that are off each for itself: what that reading moves is what
/// both rods move, each alone.
void take_rods_apart(const ErrorModel& errors, const MountedModel& m, ErrorBand& band) {
    const Setup& s = errors.setup();  // not moved here
    if (s.choices.left_lift_rod_length.known || s.choices.right_lift_rod_length.known) return;
    const auto& readings = errors.readings();
    const auto of_both = std::find_if(readings.begin(), readings.end(), [](const ReadingError& r) { return r.key == "tractor.lift_rod.length"; });
    if (of_both == readings.end() || band.slopes.empty()) return;
    double squares = 0.0;
    for (const bool left : {true, false}) {
        Setup apart = s;
        apart.choices.left_lift_rod_length = apart.choices.right_lift_rod_length = s.tractor.lift_rod.length;
        Reading& rod = left ? apart.choices.left_lift_rod_length : apart.choices.right_lift_rod_length;
        std::optional<double> at[2];
        for (const int i : {0, 1}) {
            rod.value = of_both->value + (i == 0 ? -of_both->error : of_both->error);
            const MountedModelResult r = make_mounted_model(apart, &m.pin_decision, RangeSearch::none);
            if (r.linkage_ok && r.model.space.has_rods) at[i] = find_difference(apart, r.model);
        }
        if (at[0] && at[1]) squares += square(0.5 * (*at[1] - *at[0]));
    }
    band.slopes[static_cast<std::size_t>(of_both - readings.begin())] = std::sqrt(squares);
    band = make_first_order(errors, std::move(band.slopes));
}

constexpr std::size_t most_rods = 2;

/// Of the difference, and of each wanted rod less the end of its range that it is nearer to.
void set_bands(const ErrorModel& errors, const MountedModel& m, Levelling& l) {
    const std::vector<RodLength>& rods = l.wanted->rods;
    Propagation p = propagate_model(errors, m.pin_decision, 1 + most_rods,
                                    [&](const MovedSetup& at, const MountedModel& now, std::span<std::optional<double>> out) {
                                        const Setup& moved = at.setup;
                                        if (!now.space.has_rods) return;
                                        out[0] = find_difference(moved, now);
                                        if (!l.wanted->typed) return;
                                        const WantedRoll w = find_wanted(moved, now, find_level_pose(moved, now, now.working_height));
                                        for (std::size_t i = 0; i < std::min({most_rods, w.rods.size(), rods.size()}); ++i) {
                                            const LiftRodReadings& r = moved.tractor.lift_rod;
                                            if (rods[i].end) out[1 + i] = w.rods[i].wanted - (rods[i].at_shortest ? r.length_least : r.length_most).value;
                                        }
                                    },
                                    reads_linkage_and(errors, m, {"tractor.lift_rod.", "implement.point"}));
    l.band = std::move(p.bands[0]);
    take_rods_apart(errors, m, l.band);
    for (std::size_t i = 0; i < std::min(most_rods, rods.size()); ++i) l.wanted->rods[i].band = std::move(p.bands[1 + i]);
}

}  // namespace

LevelPose find_level_pose(const Setup& s, const MountedModel& m, double ball_height, double sway) {
    return make_level_pose(s, m, solve_on_rods(m.space.linkage, m.space.rods, ball_height, sway));
}

std::optional<Levelling> study_levelling(const ErrorModel& errors, const MountedModel& m) {
    const Setup& s = errors.setup();
    if (!m.space.has_rods) return std::nullopt;
    Levelling l;
    l.low = find_level_pose(s, m, m.travel.low);
    l.high = find_level_pose(s, m, m.travel.high);
    if (!m.has_working_height || !m.travel.contains(m.working_height)) return l;
    l.working = find_level_pose(s, m, m.working_height);
    l.wanted = find_wanted(s, m, l.working);
    const bool left = s.tractor.lift_rod.levelling == LevellingRod::left;
    l.turned = left ? TractorSide::left : TractorSide::right;
    if (!l.working.closes) return l;
    const Reading& turn = s.tractor.lift_rod.advance_per_turn;
    if (turn.known && turn.value > 0.0) {
        LiftRods longer = m.space.rods;
        (left ? longer.left_length : longer.right_length) += turn.value;
        const LevelPose after = make_level_pose(s, m, solve_at_arm(m.space.linkage, longer, l.working.arm_angle, 0.0, m.working_height));
        if (after.closes) l.after_turn = after;
    }
    const EdgeHeights* widest = find_widest(l.working.edges);
    l.measured_at = widest ? widest->name : std::string();
    l.measured_width = 2.0 * (widest ? widest->half_width : s.tractor.lower_link.half_spread_at_ball.value);
    l.difference = find_difference(s, m, l.working);
    const Choices& c = s.choices;
    if (c.left_lift_rod_length.known || c.right_lift_rod_length.known || c.working_roll.known) set_bands(errors, m, l);
    return l;
}

}  // namespace hitchwright
