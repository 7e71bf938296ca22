// See ball_force.h.
#include "geometry/ball_force.h"

#include <algorithm>
#include <numbers>

#include "geometry/category.h"
#include "geometry/dead_centre_room.h"
#include "geometry/link_length.h"
#include "geometry/lower_link.h"
#include "geometry/mounted_extremes.h"
#include "geometry/standing_tractor.h"
#include "geometry/travel_panels.h"

namespace hitchwright {
namespace {

/// Both ways between ball and arm agree better than this (m), but beyond the line of arm and rod.
constexpr double same_height = 1e-6;

/// The test's frame on a tractor's pins: mast upright with the links level; nothing where that does not close.
std::optional<PlanarLinkage> make_rig(const MountedModel& m, double own_length, const NamedPoint& pin, double mast) {
    if (!pin.x.known || !pin.z.known) return std::nullopt;
    PlanarLinkage k = m.linkage;
    k.lower_length = own_length;
    k.upper_pin = Point(pin.x.value, pin.z.value);
    k.mast_pin = Point(0.0, mast);
    k.side = MastSide::above;
    const WantedLength link = solve_upper_link_length(k, k.lower_pivot.y(), 0.0);
    if (!link.closure.closes() || link.past_dead_centre) return std::nullopt;
    k.upper_length = link.length;
    return k;
}

/// Nearest to a dead centre that counts (rad, 1 deg), as for the load itself (lift_ratio.cpp).
constexpr double least_link_angle = 0.01745;

bool closes_over(const PlanarLinkage& k, const HeightRange& heights) {
    return closes_at(k, heights.low) && closes_at(k, heights.high) &&
           find_dead_centre_angle(k, TravelBox{heights, {k.upper_length, k.upper_length}}) >= least_link_angle;
}

HeightRange find_own_travel(const BallForce& f, const HeightRange& travel) {
    const double share = f.own_length / f.length, z = f.lower_pivot.y();
    const HeightRange own{z + (travel.low - z) * share, z + (travel.high - z) * share};
    if (!f.rod_moved) return own;
    const auto carry = [&](double h) { return carry_height(f.as_set, f.as_taped, h); };
    const CarriedHeight low = carry(own.low), high = carry(own.high);
    return low.closure.closes() && high.closure.closes() ? HeightRange{low.height, high.height} : own;
}

void add_rigs(const Setup& s, const MountedModel& m, BallForce& f) {
    const LiftTestReadings& test = s.tractor.lift_test;
    const Category category = s.tractor.hitch.category;
    const double standard = category == Category::none || category == Category::cat0
                                ? 0.0
                                : find_category_figures(category).mast_height.value;
    const double mast = test.mast_height.value_or(standard);
    f.rig_mast_assumed = !test.mast_height.known;
    f.rig_pin_stated = !test.upper_link_pin.empty();
    if (mast <= 0.0) return;
    const HeightRange own = find_own_travel(f, m.travel);
    std::size_t possible = 0;
    for (const NamedPoint& pin : s.tractor.upper_link_pins) {
        if (f.rig_pin_stated && pin.name != test.upper_link_pin) continue;
        ++possible;
        const std::optional<PlanarLinkage> rig = make_rig(m, f.own_length, pin, mast);
        if (rig && closes_over(*rig, own)) f.rigs.push_back(*rig);
    }
    // A pin that the test may have had and that is left out would leave the least without it.
    f.rigs_count = test.mast_height.known && !f.rigs.empty() && f.rigs.size() == possible;
}

/// Where the rod may have been in the test of the published lift; false: arm and rod do not say what another hole makes
/// of it.
bool add_tests(const Setup& s, const MountedModel& m, bool linkage, BallForce& f) {
    const std::vector<LiftRodHole>& holes = s.tractor.lift_rod_holes;
    if (m.rod_holes.status != RodHoles::Status::ok || holes.size() < 2) return true;
    const std::string& stated = s.tractor.lift_test.lift_rod_hole;
    if (stated == holes[m.rod_holes.chosen].name) return true;
    if (!linkage) return false;
    for (std::size_t i = 0; i < holes.size(); ++i) {
        if (!stated.empty() && holes[i].name != stated) continue;
        const ResolvedTractor resolved = resolve_tractor(s, m.rod_holes, &m.pin_decision);
        const TractorLift lift =
            make_tractor_lift(put_rod_in_hole(resolved.as_taped, i), s.tractor.lower_link.length.value);
        if (!lift.closure.closes()) return false;
        f.tests.push_back(lift.linkage);
    }
    return !f.tests.empty();
}

bool set_lift(const Setup& s, const MountedModel& m, BallForce& f, std::vector<std::string>& missing) {
    const ResolvedTractor resolved = resolve_tractor(s, m.rod_holes, &m.pin_decision);
    if (!has_lift_linkage(resolved.as_taped)) {
        const LiftArmReadings& a = s.tractor.lift_arm;
        const LiftRodReadings& r = s.tractor.lift_rod;
        const auto need = [&](const Reading& x, const char* key) {
            if (!x.known) missing.emplace_back(key);
        };
        need(a.pivot_x, "tractor.lift_arm.pivot_x");
        need(a.pivot_z, "tractor.lift_arm.pivot_z");
        need(a.length, "tractor.lift_arm.length");
        need(a.half_spread, "tractor.lift_arm.half_spread");
        need(r.length, "tractor.lift_rod.length");
        need(resolved.as_taped.lift_rod.pin_along_link, "tractor.lift_rod.pin_along_link");
        return false;
    }
    const double own = s.tractor.lower_link.length.value;
    const TractorLift taped = make_tractor_lift(resolved.as_taped, own), set = make_tractor_lift(resolved.as_set, own);
    if (!taped.closure.closes() || !set.closure.closes()) return false;
    f.as_taped = taped.linkage;
    f.as_set = set.linkage;
    return true;
}

void read_curve(const Tractor& t, BallForce& f) {
    for (const LiftPoint& p : t.lift_points) {
        if (p.ball_height.known && p.force.known) f.curve.push_back({p.ball_height.value, p.force.value});
    }
    std::sort(f.curve.begin(), f.curve.end(),
              [](const CurvePoint& a, const CurvePoint& b) { return a.height < b.height; });
    // Two points at one height: the lesser one is on the safe side.
    for (std::size_t i = 1; i < f.curve.size();) {
        if (f.curve[i].height > f.curve[i - 1].height) {
            ++i;
            continue;
        }
        f.curve[i - 1].force = std::min(f.curve[i - 1].force, f.curve[i].force);
        f.curve.erase(f.curve.begin() + static_cast<std::ptrdiff_t>(i));
    }
}

bool read_cylinder(const Tractor& t, BallForce& f, std::vector<std::string>& missing) {
    const LiftCylinderReadings& c = t.lift_cylinder;
    struct Part {
        const Reading& reading;
        const char* key;
    };
    const Part parts[] = {{c.base_x, "tractor.lift_cylinder.base_x"},
                          {c.base_z, "tractor.lift_cylinder.base_z"},
                          {c.crank_length, "tractor.lift_cylinder.crank_length"},
                          {c.crank_angle, "tractor.lift_cylinder.crank_angle"},
                          {c.bore, "tractor.lift_cylinder.bore"},
                          {c.pressure, "tractor.lift_cylinder.pressure"}};
    const auto known = [](const Part& p) { return p.reading.known; };
    if (std::none_of(std::begin(parts), std::end(parts), known)) return false;
    for (const Part& p : parts) {
        if (!p.reading.known) missing.emplace_back(p.key);
    }
    if (!std::all_of(std::begin(parts), std::end(parts), known)) return false;
    const double area = 0.25 * std::numbers::pi * c.bore.value * c.bore.value * std::max(1, c.cylinders);
    f.cylinder = {Point(c.base_x.value, c.base_z.value), c.crank_length.value, c.crank_angle.value,
                  c.pressure.value * area * c.efficiency.value_or(1.0)};
    return true;
}

}  // namespace

BallForceResult find_ball_force(const Setup& s, const MountedModel& m) {
    const StandingSetup on(s);
    BallForceResult r;
    BallForce& f = r.force;
    f.lower_pivot = m.linkage.lower_pivot;
    f.own_length = m.lower_length_own > 0.0 ? m.lower_length_own : m.linkage.lower_length;
    f.length = m.linkage.lower_length;
    f.rod_moved = m.rod_holes.moved();
    f.least_at_balls = s.tractor.mass.lift_at_balls.value_or(0.0);
    f.least_at_610 = s.tractor.mass.lift_at_610.value_or(0.0);
    std::vector<std::string> lacking;
    const bool cylinder = read_cylinder(on->tractor, f, lacking);
    const bool several = s.tractor.lift_rod_holes.size() > 1;
    const bool linkage = (f.rod_moved || several || cylinder) && set_lift(s, m, f, lacking);
    read_curve(on->tractor, f);
    if (f.least_at_610 > 0.0) add_rigs(*on, m, f);
    if (f.rod_moved && !linkage) {
        r.missing = lacking;
        return r;
    }
    const bool published =
        (f.least_at_balls > 0.0 || (f.least_at_610 > 0.0 && f.rigs_count)) && add_tests(s, m, linkage, f);
    if (f.curve.size() >= 2) {
        f.source = BallForceSource::curve;
    } else if (published) {
        f.source = BallForceSource::published_least;
    } else if (cylinder && linkage) {
        f.source =
            s.tractor.lift_cylinder.efficiency.known ? BallForceSource::cylinder : BallForceSource::cylinder_ideal;
    }
    if (f.source != BallForceSource::none) return r;
    r.missing = lacking;
    if (lacking.empty())
        r.missing = {f.least_at_610 > 0.0 && !f.rigs_count ? "tractor.lift_test.mast_height"
                                                           : "tractor.mass.lift_at_balls"};
    return r;
}

std::optional<double> find_force_at(const BallForce& f, double h) {
    if (f.source == BallForceSource::none) return std::nullopt;
    const double by_length = f.own_length / f.length, own = f.lower_pivot.y() + (h - f.lower_pivot.y()) * by_length;
    const bool needs_lift = f.rod_moved || !f.tests.empty() || f.source == BallForceSource::cylinder ||
                            f.source == BallForceSource::cylinder_ideal;
    if (needs_lift) {
        const LiftPose pose = solve_lift_from_ball(f.as_set, own);
        if (!pose.closure.closes()) return std::nullopt;
        const LiftPose back = solve_lift_from_arm(f.as_set, pose.arm_angle);
        if (!back.closure.closes() || std::fabs(back.ball_height - own) > same_height) return std::nullopt;
        if (f.rod_moved && !solve_lift_from_arm(f.as_taped, pose.arm_angle).closure.closes()) return std::nullopt;
        for (const LiftLinkage& test : f.tests) {
            if (!solve_lift_from_arm(test, pose.arm_angle).closure.closes()) return std::nullopt;
        }
    }
    if (f.source != BallForceSource::curve) return evaluate_force<double>(f, h);
    const double taped = detail::find_own_ball<double>(f, h, f.rod_moved ? &f.as_taped : nullptr).height;
    if (taped < f.curve.front().height - same_height || taped > f.curve.back().height + same_height)
        return std::nullopt;
    const auto above = std::upper_bound(f.curve.begin() + 1, f.curve.end() - 1, taped,
                                        [](double x, const CurvePoint& p) { return x < p.height; });
    return evaluate_force<double>(f, h, static_cast<std::size_t>(above - f.curve.begin()) - 1);
}

std::optional<double> find_set_height(const BallForce& f, double taped) {
    double own = taped;
    if (f.rod_moved) {
        const CarriedHeight carried = carry_height(f.as_taped, f.as_set, taped);
        if (!carried.closure.closes()) return std::nullopt;
        own = carried.height;
    }
    return f.lower_pivot.y() + (own - f.lower_pivot.y()) * f.length / f.own_length;
}

std::vector<ForcePiece> find_force_pieces(const BallForce& f, const HeightRange& travel) {
    if (f.source == BallForceSource::none) return {};
    if (f.source != BallForceSource::curve) {
        // Arm and rod reach a connected range of heights: both ends of the travel speak for it.
        const bool known = find_force_at(f, travel.low) && find_force_at(f, travel.high);
        return known ? std::vector<ForcePiece>{{travel, 0}} : std::vector<ForcePiece>{};
    }
    std::vector<ForcePiece> pieces;
    for (std::size_t i = 0; i + 1 < f.curve.size(); ++i) {
        const std::optional<double> low = find_set_height(f, f.curve[i].height),
                                    high = find_set_height(f, f.curve[i + 1].height);
        if (!low || !high) continue;
        const HeightRange heights{std::max(*low, travel.low), std::min(*high, travel.high)};
        if (heights.low < heights.high || (heights.low == heights.high && travel.low == travel.high))
            pieces.push_back({heights, i});
    }
    return pieces;
}

std::optional<PublishedPair> compare_published(const BallForce& f, const HeightRange& travel) {
    if (f.least_at_balls <= 0.0 || f.least_at_610 <= 0.0 || f.rigs.empty()) return std::nullopt;
    PublishedPair pair;
    pair.ratio = f.least_at_610 / f.least_at_balls;
    double most = 0.0, least = std::numeric_limits<double>::infinity();
    const HeightRange own = find_own_travel(f, travel);
    for (const PlanarLinkage& k : f.rigs) {
        const TravelBox box{own, {k.upper_length, k.upper_length}};
        const LoadRise rise{k, Point(behind_balls_610, 0.0)};
        TravelPanels<1, LoadRise> panels(k, box, rise);
        most = std::max(most, panels.find_greatest(0, own, PlainCloseness{rise_closeness}).bound);
        least = std::min(least, panels.find_least(0, own, PlainCloseness{rise_closeness}).bound);
    }
    if (least <= 0.0) return std::nullopt;
    pair.least = 1.0 / most;
    pair.most = 1.0 / least;
    pair.beyond = pair.ratio < pair.least ? pair.ratio - pair.least : std::max(0.0, pair.ratio - pair.most);
    return pair;
}

}  // namespace hitchwright
