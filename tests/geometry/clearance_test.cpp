// Clearances on a linkage that carries the implement level, so that every point runs on a circle of 1 m and the least
// distances can be had by hand, and on linkage A against dense sampling.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/clearance.h"
#include "geometry/clearance_pair.h"
#include "geometry/mounted_extremes.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Pivot (0, 0.5), links 1 m long and 0.6 m apart; ball heights 0.2 to 0.9 m, work at 0.5 m.
Setup make_level_setup() {
    Setup s = make_setup_a();
    s.tractor.lower_link = make_lower_link(0.0, 0.5, 1.0, 0.3, 0.3);
    s.tractor.upper_link_pins = {{"1", known(0.0), known(1.1)}};
    s.implement.mast_pins = {{"1", known(0.6), known(0.0)}};
    s.tractor.travel = {known(0.2), known(0.9)};
    s.implement.work.ball_height = known(0.5);
    s.choices.upper_link_length = known(1.0);
    return s;
}

ImplementPoint make_point(double x, double z, bool deck_edge = false) {
    ImplementPoint p;
    p.name = "point";
    p.x = known(x);
    p.z = known(z);
    p.deck_edge = deck_edge;
    return p;
}

struct Found {
    MountedModel model;
    std::vector<Clearance> clearances;
};

Found find(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_obstacles.empty());
    return {r.model, find_clearances(s, r.model, make_travel_box(r.model))};
}

const Clearance* pick(const Found& f, ClearanceKind kind) {
    const auto it = std::find_if(f.clearances.begin(), f.clearances.end(), [&](const Clearance& c) { return c.kind == kind; });
    return it == f.clearances.end() ? nullptr : &*it;
}

/// Bound on the safe side of the truth, value on the other, 0.001 mm apart at most.
void check_least(const TravelExtreme& e, double truth, double truth_error = 1e-12) {
    CAPTURE(e.value, e.bound, truth, e.evaluations);
    CHECK(e.converged);
    CHECK(e.bound <= truth + truth_error);
    CHECK(e.value >= truth - truth_error);
    CHECK(e.value - e.bound <= 1.01e-6);
}

/// Distance of a point to a segment, the plain way.
double distance_to_segment(const Point& p, const Point& a, const Point& b) {
    const Point ab = b - a;
    const double t = std::clamp((p - a).dot(ab) / ab.dot(ab), 0.0, 1.0);
    return (p - a - t * ab).norm();
}

Point ball_at(double height) { return {std::sqrt(1.0 - (height - 0.5) * (height - 0.5)), height}; }

/// Least of a function of ball height over the level set-up's travel, by sampling: good to 1e-9 m for these distances.
template <class F>
double sample_least(const F& f) {
    double least = 1e9;
    for (int i = 0; i <= 200000; ++i) least = std::min(least, f(0.2 + 0.7 * i / 200000.0));
    return least;
}

}  // namespace

TEST_CASE("clearance: a point passing the rear tyre", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(-0.5, 0.0)};
    s.tractor.tyre.rear_radius = known(0.4);
    // The point runs on the circle of 1 m about (-0.5, 0.5), the hub (0, 0.4) lies inside it, 0.5099 m off its centre.
    const double to_hub = 1.0 - std::hypot(0.5, 0.1);
    const Found f = find(s);
    const Clearance* c = pick(f, ClearanceKind::point_to_tyre);
    REQUIRE(c);
    CHECK(c->part == "point");
    CHECK(c->side_view_only);
    check_least(c->least, to_hub - 0.4);
    CHECK(c->least.height == Approx(0.5 - 0.1 / std::hypot(0.5, 0.1)).epsilon(0).margin(2e-3));
    s.tractor.tyre.rear_radius = known(0.5);  // the tyre now reaches past the point: negative by the overlap
    s.tractor.travel = {known(0.3), known(0.9)};
    const Found overlapping = find(s);
    const double hub = 1.0 - 0.5;  // hub at (0, 0.5), level with the circle's centre
    check_least(pick(overlapping, ClearanceKind::point_to_tyre)->least, hub - 0.5);
}

TEST_CASE("clearance: a part narrower than the room between the tyres passes", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(-0.5, 0.0)};
    s.tractor.tyre = {known(0.4), known(0.3), known(1.5), Reading{}};  // 1.2 m between the tyres
    s.implement.points[0].half_width = known(0.59);
    CHECK(pick(find(s), ClearanceKind::point_to_tyre) == nullptr);
    s.implement.points[0].half_width = known(0.61);
    const Found f = find(s);
    REQUIRE(pick(f, ClearanceKind::point_to_tyre));
    CHECK_FALSE(pick(f, ClearanceKind::point_to_tyre)->side_view_only);
    s.tractor.tyre.rear_radius = Reading{};
    CHECK(pick(find(s), ClearanceKind::point_to_tyre) == nullptr);
}

TEST_CASE("clearance: a point before the rear of the cab, beside its line, past its end, at a corner", "[analytic]") {
    Setup s = make_level_setup();
    s.tractor.cab_line = {{"top", known(0.1), known(2.0)}, {"bottom", known(0.1), known(1.0)}};
    s.implement.points = {make_point(-0.5, 0.9)};
    // Level with the line all the way: nearest where the point is farthest forward, fully raised.
    const double forward = std::sqrt(1.0 - 0.4 * 0.4) - 0.5;
    const Found beside = find(s);
    check_least(pick(beside, ClearanceKind::point_to_cab)->least, forward - 0.1);
    CHECK(pick(beside, ClearanceKind::point_to_cab)->least.height == 0.9);
    // Past the upper end: the corner counts.
    s.implement.points = {make_point(-0.5, 1.3)};
    const auto past = [](double h) { return distance_to_segment(ball_at(h) + Point(-0.5, 1.3), {0.1, 2.0}, {0.1, 1.0}); };
    check_least(pick(find(s), ClearanceKind::point_to_cab)->least, sample_least(past), 1e-9);
    // A line of three points: the nearer piece counts.
    s.tractor.cab_line.push_back({"seat", known(0.35), known(0.9)});
    s.implement.points = {make_point(-0.5, 0.5)};
    const auto three = [](double h) {
        const Point p = ball_at(h) + Point(-0.5, 0.5);
        return std::min(distance_to_segment(p, {0.1, 2.0}, {0.1, 1.0}), distance_to_segment(p, {0.1, 1.0}, {0.35, 0.9}));
    };
    check_least(pick(find(s), ClearanceKind::point_to_cab)->least, sample_least(three), 1e-9);
    // A sloping line, and a point behind it that is ahead of its foot.
    s.tractor.cab_line = {{"top", known(0.1), known(2.0)}, {"foot", known(0.43), known(1.0)}};
    s.implement.points = {make_point(-0.5, 0.9)};
    const auto sloping = [](double h) { return distance_to_segment(ball_at(h) + Point(-0.5, 0.9), {0.1, 2.0}, {0.43, 1.0}); };
    REQUIRE((ball_at(0.9) + Point(-0.5, 0.9)).x() < 0.43);
    check_least(pick(find(s), ClearanceKind::point_to_cab)->least, sample_least(sloping), 1e-9);
    s.implement.points = {make_point(-0.5, 0.5)};
    // A single point, and one given twice.
    s.tractor.cab_line = {{"rops", known(0.1), known(1.2)}};
    const double off = std::hypot(0.6, 0.2);  // from the circle's centre (-0.5, 1.0); its nearest point lies in the travel
    check_least(pick(find(s), ClearanceKind::point_to_cab)->least, 1.0 - off, 1e-9);
    s.tractor.cab_line.push_back(s.tractor.cab_line[0]);
    check_least(pick(find(s), ClearanceKind::point_to_cab)->least, 1.0 - off, 1e-9);
}

TEST_CASE("clearance: a point that is in the cab all the way is not called clear of its rear", "[analytic]") {
    Setup s = make_level_setup();
    s.tractor.cab_line = {{"top", known(0.9), known(2.0)}, {"bottom", known(0.9), known(0.8)}};
    s.implement.points = {make_point(-0.5, 0.9)};  // 0.416 to 0.5 m behind the axle, the cab's rear at 0.9
    const Found f = find(s);
    const Clearance* c = pick(f, ClearanceKind::point_to_cab);
    REQUIRE(c);
    CHECK(c->least.bound == Approx(-0.4).epsilon(0).margin(2e-6));  // nearest to the line with the links level
    s.implement.points = {make_point(-0.5, -0.2)};  // below the line's lower end: under the cab, not in it
    CHECK(pick(find(s), ClearanceKind::point_to_cab)->least.bound > 0.0);
}

TEST_CASE("clearance: a point over the upper link", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(-0.3, 0.8)};  // 0.3 m before and 0.2 m above the mast pin
    // The link runs at the lower link's angle t: the point lies 0.3 sin t + 0.2 cos t above it, least at the bottom.
    const double truth = 0.3 * -0.3 + 0.2 * std::sqrt(1.0 - 0.09);
    const Found f = find(s);
    check_least(pick(f, ClearanceKind::point_to_upper_link)->least, truth);
    CHECK(pick(f, ClearanceKind::point_to_upper_link)->least.height == 0.2);
}

TEST_CASE("clearance: guard of the shaft against a deck edge and the drawbar's end", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(0.05, 0.25, true)};
    s.driveline.guard_radius = known(0.06);
    s.tractor.drawbar.end_x = known(0.6);
    s.tractor.drawbar.end_z = known(0.45);
    const Point q(0.38, 0.6);
    const auto edge = [&](double h) {
        return distance_to_segment(ball_at(h) + Point(0.05, 0.25), q, ball_at(h) + Point(0.47, 0.25)) - 0.06;
    };
    const auto drawbar = [&](double h) { return distance_to_segment({0.6, 0.45}, q, ball_at(h) + Point(0.47, 0.25)) - 0.06; };
    const Found f = find(s);
    REQUIRE(sample_least(edge) < -0.06 + 1e-6);  // the shaft's line sweeps over the edge
    check_least(pick(f, ClearanceKind::guard_to_deck_edge)->least, -0.06);
    check_least(pick(f, ClearanceKind::guard_to_drawbar)->least, sample_least(drawbar), 1e-9);
    CHECK(pick(f, ClearanceKind::guard_to_drawbar)->part == "drawbar");
    s.tractor.drawbar.out_of_the_way = YesNo::yes;
    CHECK(pick(find(s), ClearanceKind::guard_to_drawbar) == nullptr);
    s.implement.points[0].deck_edge = false;
    CHECK(pick(find(s), ClearanceKind::guard_to_deck_edge) == nullptr);
    s.implement.points[0].deck_edge = true;
    s.driveline.guard_radius = Reading{};
    CHECK(pick(find(s), ClearanceKind::guard_to_deck_edge) == nullptr);
}

TEST_CASE("clearance: a guard that passes through the deck edge touches", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(-0.1, 0.3, true)};  // the shaft's line sweeps over it
    s.driveline.guard_radius = known(0.05);
    const Point q(0.38, 0.6);
    const auto signed_side = [&](double h) {
        const Point a = ball_at(h) + Point(-0.1, 0.3) - q, b = ball_at(h) + Point(0.47, 0.25) - q;
        return a.x() * b.y() - a.y() * b.x();
    };
    REQUIRE(signed_side(0.2) * signed_side(0.9) < 0.0);
    check_least(pick(find(s), ClearanceKind::guard_to_deck_edge)->least, -0.05);
}

TEST_CASE("clearance: with slack in the link the whole box is searched", "[random][oracle]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.06), Reading{}};
    s.implement.points = {make_point(-0.25, 0.5, true)};
    s.tractor.tyre.rear_radius = known(0.5);
    s.driveline.guard_radius = known(0.05);
    const Found f = find(s);
    const HeightRange lengths = effective_upper_lengths(f.model);
    double tyre = 1e9, link = 1e9, guard = 1e9;
    for (int i = 0; i <= 600; ++i) {
        for (int k = 0; k <= 120; ++k) {
            PlanarLinkage linkage = f.model.linkage;
            linkage.upper_length = lengths.low + (lengths.high - lengths.low) * k / 120.0;
            const PlanarPose p = solve_pose(linkage, 0.2 + 0.75 * i / 600.0);
            const Point at = place_point(p, {-0.25, 0.5}), joint = place_point(p, {0.47, 0.25});
            tyre = std::min(tyre, (at - Point(0.0, 0.5)).norm() - 0.5);
            link = std::min(link, distance_to_segment(at, linkage.upper_pin, p.mast_pin));
            guard = std::min(guard, distance_to_segment(at, {0.38, 0.6}, joint) - 0.05);
        }
    }
    // The grid's own error: half a step of 1.25 mm on a curve, squared over the distance.
    check_least(pick(f, ClearanceKind::point_to_tyre)->least, tyre, 1e-5);
    check_least(pick(f, ClearanceKind::point_to_upper_link)->least, link, 1e-5);
    check_least(pick(f, ClearanceKind::guard_to_deck_edge)->least, guard, 1e-5);
    for (const Clearance& c : f.clearances) CHECK(c.least.evaluations < 3000);
}

TEST_CASE("clearance: heights above level ground at the top, at work and least of all", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(0.3, -0.1), make_point(1.2, 0.4)};
    s.implement.points[1].name = "tail";
    GroundContact wheel;
    wheel.name = "wheel";
    wheel.x = known(1.5);
    wheel.z = known(-0.25);
    wheel.radius = known(0.2);
    s.implement.ground_contacts = {wheel};
    const MountedModel m = find(s).model;
    const std::vector<GroundClearance> g = find_ground_clearances(s, m);
    REQUIRE(g.size() == 3);
    CHECK((g[0].part == "wheel" && g[0].rests_on_ground));
    CHECK(g[0].at_top == Approx(0.9 - 0.45).epsilon(0).margin(1e-12));
    CHECK(g[0].has_working);
    CHECK(g[0].at_working == Approx(0.5 - 0.45).epsilon(0).margin(1e-12));
    CHECK(g[0].least_over_travel == Approx(0.2 - 0.45).epsilon(0).margin(1.01e-6));
    CHECK((g[1].part == "point" && !g[1].rests_on_ground));
    CHECK(g[1].at_top == Approx(0.8).epsilon(0).margin(1e-12));
    CHECK(g[2].at_top == Approx(1.3).epsilon(0).margin(1e-12));
}

TEST_CASE("clearance: a working height outside the travel gives no height above ground there", "[analytic]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(0.3, -0.1)};
    for (const double outside : {0.1, 1.8}) {  // below the travel; beyond the lower link's reach
        s.implement.work.ball_height = known(outside);
        const GroundClearance g = find_ground_clearances(s, find(s).model)[0];
        CHECK_FALSE(g.has_working);
        CHECK(g.at_working == 0.0);
        CHECK(std::isfinite(g.at_top));
    }
}

TEST_CASE("clearance: of a pair that is not there nothing is found", "[edge]") {
    Setup s = make_level_setup();
    s.implement.points = {make_point(0.3, 0.2)};
    const MountedModel m = find(s).model;
    Clearance none;
    none.kind = ClearanceKind::guard_to_deck_edge;
    none.part = "nobody";
    const HeightRange work{0.5, 0.5}, length{1.0, 1.0};
    CHECK_FALSE(PairRooms(s, m, std::span(&none, 1)).find_at(0, {work, length}));
}
