// Other tyres: every point against the floor laid under the wheels instead of the tractor turned, and whole analyses
// against the same machine measured anew on the other tyres.
#include "geometry/tyre_change.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "find_finding.h"
#include "geometry/angle.h"
#include "geometry/error_band.h"
#include "geometry/standing_tractor.h"
#include "geometry/terrain.h"
#include "geometry/turn_limits.h"
#include "geometry/visit_readings.h"
#include "sample_drawn.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Radii and wheelbase, m.
struct Wheels {
    double own_rear = 0.62, own_front = 0.40, rear = 0.68, front = 0.41, wheelbase = 1.9;
};

/// The second route: the tractor stays and the floor is laid under its new wheels. Slope a of the floor: both hubs stand
/// their new radius off it; found by bisection, not from a formula.
class Floor {
public:
    explicit Floor(const Wheels& w) : w_(w) {
        double low = -1.0, high = 1.0;
        for (int i = 0; i < 200; ++i) {
            const double a = 0.5 * (low + high);
            // The rear hub is above the front one by the difference of the new radii, seen square to the floor.
            if (off(Point(0.0, w.own_rear), a) - off(Point(-w.wheelbase, w.own_front), a) > w.rear - w.front) low = a;
            else high = a;
        }
        a_ = 0.5 * (low + high);
    }
    double slope() const { return a_; }
    Point see(const Point& p) const {
        const Point from = p - Point(0.0, w_.own_rear);
        return {std::cos(a_) * from.x() + std::sin(a_) * from.y(), w_.rear + off(from, a_)};
    }

private:
    static double off(const Point& p, double a) { return -std::sin(a) * p.x() + std::cos(a) * p.y(); }
    Wheels w_;
    double a_ = 0.0;
};

void put_on(Tractor& t, const Wheels& w) {
    t.tyre.rear_radius = known(w.own_rear);
    t.tyre.front_radius = known(w.own_front);
    t.mass.wheelbase = known(w.wheelbase);
    t.tyre_sets = {{"other", known(w.rear), known(0.40), known(1.5), known(w.front)}};
}

/// Linkage A with everything that has a place, on the tyres it was measured on.
Setup make_wheeled() {
    Setup s = make_setup_a();
    put_on(s.tractor, {});
    add_lift_a(s.tractor, -30.0, 35.0);
    Tractor& t = s.tractor;
    t.upper_link_pins.push_back({"2", known(0.230), known(0.900)});
    s.choices.upper_link_pin = "1";
    t.cab_line = {{"top", known(0.05), known(2.1)}, {"foot", known(-0.05), known(1.1)}};
    t.drawbar.end_x = known(0.6);
    t.drawbar.end_z = known(0.4);
    t.tyre.rear_width = known(0.35);
    t.tyre.rear_track = known(1.4);
    t.pto.stub_slope = known(to_radians(1.5));
    t.pto.stub_plan_angle = known(to_radians(0.5));
    t.lift_points = {{"low", known(0.30), known(20000.0)}, {"high", known(0.80), known(18000.0)}};
    s.implement.points = {{"front", known(0.05), known(0.40), known(0.9)}, {"tail", known(1.2), known(0.1), known(0.9)}};
    s.implement.mass = {known(400.0), known(0.6), known(0.3)};
    t.mass.mass = known(2000.0);
    t.mass.front_share = known(0.42);
    s.driveline.guard_radius = known(0.07);
    return s;
}

void see(Reading& x, Reading& z, const Floor& floor) {
    const Point p = floor.see(Point(x.value, z.value));
    x.value = p.x();
    z.value = p.y();
}

/// The ball of a height on its circle about the front pin, then seen from the new floor.
double see_height(const Tractor& t, double height, const Floor& floor) {
    const LowerLinkReadings& l = t.lower_link;
    const double across = l.half_spread_at_ball.value - l.half_spread_at_pivot.value, c = std::sqrt(l.length.value * l.length.value - across * across);
    const double up = height - l.pivot_z.value;
    return floor.see(Point(l.pivot_x.value + std::sqrt(c * c - up * up), height)).y();
}

/// How much the ball of a height rises off the new floor for each metre it rose off the old one.
double see_rate(const Tractor& t, double height, const Floor& floor) {
    const LowerLinkReadings& l = t.lower_link;
    const double across = l.half_spread_at_ball.value - l.half_spread_at_pivot.value, up = height - l.pivot_z.value;
    const double forward = -up / std::sqrt(l.length.value * l.length.value - across * across - up * up);  // dx/dz on the circle
    return std::cos(floor.slope()) - std::sin(floor.slope()) * forward;
}

void see_stub(PtoReadings& p, const Floor& floor) {
    const double c = std::cos(p.stub_slope.value);
    const double x = c * std::cos(p.stub_plan_angle.value), y = c * std::sin(p.stub_plan_angle.value), z = std::sin(p.stub_slope.value);
    const double a = floor.slope(), along = std::cos(a) * x + std::sin(a) * z, up = std::cos(a) * z - std::sin(a) * x;
    p.stub_slope.value = std::atan2(up, std::hypot(along, y));
    p.stub_plan_angle.value = std::atan2(y, along);
    see(p.stub_x, p.stub_z, floor);
}

/// The machine measured anew on the other tyres.
Setup measure_again(Setup s) {
    const Wheels w;
    const Floor floor(w);
    Tractor& t = s.tractor;
    for (Reading* h : {&t.travel.ball_height_low, &t.travel.ball_height_high, &t.lift_points[0].ball_height, &t.lift_points[1].ball_height}) {
        const double rate = see_rate(t, h->value, floor);
        h->value = see_height(t, h->value, floor);
        for (LiftPoint& p : t.lift_points) {
            if (&p.ball_height == h) p.force.value /= rate;  // the same work for another rise
        }
    }
    see(t.lower_link.pivot_x, t.lower_link.pivot_z, floor);
    for (NamedPoint& p : t.upper_link_pins) see(p.x, p.z, floor);
    for (NamedPoint& p : t.cab_line) see(p.x, p.z, floor);
    see(t.lift_arm.pivot_x, t.lift_arm.pivot_z, floor);
    t.lift_arm.angle_low.value -= floor.slope();
    t.lift_arm.angle_high.value -= floor.slope();
    see(t.drawbar.end_x, t.drawbar.end_z, floor);
    see_stub(t.pto, floor);
    t.tyre.rear_radius = known(w.rear);
    t.tyre.front_radius = known(w.front);
    t.tyre.rear_width = known(0.40);
    t.tyre.rear_track = known(1.5);
    t.mass.wheelbase.value = -floor.see(Point(-w.wheelbase, w.own_front)).x();
    return s;
}

void check_same_findings(const Analysis& a, const Analysis& b, double off) {
    std::vector<const Finding*> left, right;
    for (const Finding& f : a.findings) {
        if (f.kind != FindingKind::other_tyres) left.push_back(&f);
    }
    for (const Finding& f : b.findings) right.push_back(&f);
    REQUIRE(left.size() == right.size());
    for (std::size_t i = 0; i < left.size(); ++i) {
        INFO(finding_word(left[i]->kind) << " " << left[i]->subject);
        CHECK(left[i]->kind == right[i]->kind);
        CHECK(left[i]->subject == right[i]->subject);
        CHECK(left[i]->severity == right[i]->severity);
        CHECK(std::fabs(left[i]->value - right[i]->value) < off);
        CHECK(std::fabs(left[i]->margin - right[i]->margin) < off);
        CHECK(std::fabs(left[i]->height - right[i]->height) < 1e-4);
    }
}

std::vector<double> list_numbers(Tractor t) {
    Setup s;
    s.tractor = std::move(t);
    std::vector<double> all;
    visit_readings(s, [&](const std::string& key, const Reading& r, const FieldSpec&) {
        if (key.starts_with("tractor.") && !key.starts_with("tractor.tyre_set")) all.push_back(r.known ? r.value : -1e9);
    });
    return all;
}

void check_same_tractor(const Tractor& a, const Tractor& b) {
    const std::vector<double> x = list_numbers(a), y = list_numbers(b);
    REQUIRE(x.size() == y.size());
    for (std::size_t i = 0; i < x.size(); ++i) CHECK(std::fabs(x[i] - y[i]) < 1e-10 * std::max(1.0, std::fabs(x[i])));
}

Setup on_other(Setup s) {
    s.choices.tyre_set = "other";
    return s;
}

}  // namespace

TEST_CASE("other tyres: every point is where the floor laid under the new wheels has it", "[geometry][random]") {
    std::mt19937 random(20261126);
    const auto draw = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    for (int i = 0; i < 300; ++i) {
        const Wheels w{draw(0.4, 0.9), draw(0.3, 0.8), draw(0.4, 0.9), draw(0.3, 0.8), draw(1.3, 3.0)};
        Tractor t;
        put_on(t, w);
        const TyreChange c = find_tyre_change(t, "other");
        REQUIRE(c.moved());
        CHECK_FALSE(c.level_assumed);
        const Floor floor(w);
        CAPTURE(i, w.own_rear, w.rear, w.own_front, w.front, w.wheelbase);
        CHECK(std::fabs(c.turn + floor.slope()) < 1e-12);
        const Point p(draw(-2, 2), draw(0, 3));
        CHECK((c.place(p) - floor.see(p)).norm() < 1e-12);
        // Both hubs stand their radius above the floor.
        CHECK(std::fabs(c.place(Point(0, w.own_rear)).y() - w.rear) < 1e-12);
        CHECK(std::fabs(c.place(Point(-w.wheelbase, w.own_front)).y() - w.front) < 1e-12);
        CHECK(std::fabs(c.place(Point(-w.wheelbase, w.own_front)).x() + c.wheelbase_share * w.wheelbase) < 1e-12);
    }
}

TEST_CASE("other tyres: the same findings as the machine measured anew on them", "[geometry][metamorphic]") {
    const Setup s = make_wheeled();
    const Analysis a = answer(on_other(s)), b = answer(measure_again(s));
    REQUIRE(a.linkage);
    REQUIRE(a.shaft);
    REQUIRE(a.lift);
    REQUIRE(a.axles);
    check_same_findings(a, b, 1e-9);
    // And not those of the tyres it was measured on.
    const Analysis own = answer(s);
    CHECK(std::fabs(own.linkage->model.linkage.lower_pivot.y() - a.linkage->model.linkage.lower_pivot.y()) > 0.03);
    CHECK(std::fabs(own.shaft->travel.longest.value - a.shaft->travel.longest.value) < 1e-9);  // the same typed link, the same lift
}

TEST_CASE("other tyres: with the link typed only the ground is another, and pitch changes by the turn", "[geometry][metamorphic]") {
    const Setup s = make_wheeled();
    const MountedModelResult own = make_mounted_model(s), now = make_mounted_model(on_other(s));
    REQUIRE(own.linkage_ok);
    REQUIRE(now.linkage_ok);
    for (const bool top : {false, true}) {
        const PlanarPose before = solve_pose(own.model.linkage, top ? own.model.travel.high : own.model.travel.low);
        const PlanarPose after = solve_pose(now.model.linkage, top ? now.model.travel.high : now.model.travel.low);
        CHECK(std::fabs(after.pitch - before.pitch - now.model.tyres.turn) < 1e-9);
        CHECK((now.model.tyres.place(before.mast_pin) - after.mast_pin).norm() < 1e-9);
    }
}

TEST_CASE("other tyres: drawbar, stub and wheels of a drawn machine as measured anew", "[geometry][metamorphic]") {
    Setup s = make_drawn_setup();
    const Wheels w;
    put_on(s.tractor, w);
    Tractor& t = s.tractor;
    t.front_axle = {known(0.25), known(1.4), known(0.5)};
    t.drawbar.adapter_length = known(0.1);
    t.drawbar.articulation_above_top = known(0.03);
    t.pto.stub_slope = known(to_radians(1.0));
    t.pto.stub_plan_angle = known(0.0);
    const Floor floor(w);
    const DrawnModelResult own = make_drawn_model(s), now = make_drawn_model(on_other(s));
    REQUIRE(own.hitch_ok);
    REQUIRE(now.hitch_ok);
    const auto at = [](const Vec3<double>& p) { return Point(p.x, p.z); };
    CHECK((floor.see(at(own.model.driveline.pin)) - at(now.model.driveline.pin)).norm() < 1e-12);
    CHECK((floor.see(at(own.model.driveline.ends.tractor_joint)) - at(now.model.driveline.ends.tractor_joint)).norm() < 1e-12);
    const TerrainRig rig = make_terrain_rig(on_other(s), now.model).rig;
    CHECK(rig.rear_radius == w.rear);
    CHECK(rig.front_radius == w.front);
    CHECK(std::fabs(rig.wheelbase + floor.see(Point(-w.wheelbase, w.own_front)).x()) < 1e-12);
    CHECK(std::fabs(rig.front_pivot_height - floor.see(Point(-w.wheelbase, 0.5)).y()) < 1e-12);
    // Tyres seen from above are the wider ones.
    CHECK(make_tyre_shapes(on_other(s)).rectangles.front().width == 0.40);
    // A drop instead of a height of the drawbar says the same.
    Setup drop = s;
    for (DrawbarPin& p : drop.tractor.drawbar_pins) p.top_height = Reading{};
    drop.tractor.drawbar.drop = known(drop.tractor.pto.stub_z.value - own.model.drawbar_top);
    drop.tractor.drawbar.top_height = Reading{};
    CHECK((at(make_drawn_model(on_other(drop)).model.driveline.pin) - at(now.model.driveline.pin)).norm() < 1e-12);
}

TEST_CASE("other tyres: there and back is where it was", "[geometry][metamorphic]") {
    Setup drawn = make_drawn_setup();
    put_on(drawn.tractor, {});
    drawn.tractor.drawbar.articulation_above_top = known(0.03);
    for (DrawbarPin& p : drawn.tractor.drawbar_pins) p.top_height = known(p.top_height.value_or(0.42));
    drawn.tractor.pto.stub_slope = known(0.01);
    for (const Setup& s : {make_wheeled(), drawn}) {
        const TyreReadings own = s.tractor.tyre;
        Setup there = stand_on_tyres(on_other(s));
        CHECK(there.choices.tyre_set.empty());
        CHECK(stand_on_tyres(there) == there);
        there.tractor.tyre_sets.push_back({"own", own.rear_radius, own.rear_width, own.rear_track, own.front_radius});
        there.choices.tyre_set = "own";
        const Setup back = stand_on_tyres(there);
        Setup expected = s;
        // What the set does not say of itself stays that of the other tyres.
        if (!own.rear_width.known) expected.tractor.tyre.rear_width = back.tractor.tyre.rear_width;
        if (!own.rear_track.known) expected.tractor.tyre.rear_track = back.tractor.tyre.rear_track;
        expected.tractor.drawbar.top_height = back.tractor.drawbar.top_height;
        // The pin a front axle rocks on is read by its height alone and taken above the hub, which it leaves by the turn.
        Reading& pivot = expected.tractor.front_axle.pivot_height;
        if (pivot.known) CHECK(std::fabs(pivot.value - back.tractor.front_axle.pivot_height.value) < 2e-4);
        pivot.value = back.tractor.front_axle.pivot_height.value;
        check_same_tractor(back.tractor, expected.tractor);
    }
}

TEST_CASE("other tyres: a drawbar position without a length or a height gets none", "[geometry][analytic]") {
    Setup s = make_wheeled();
    s.tractor.drawbar_pins = {{"no height", known(0.360), Reading{}, Reading{}},
                                {"no length", Reading{}, known(0.430), Reading{}},
                                {"both", known(0.360), known(0.430), Reading{}}};
    const std::vector<DrawbarPin> pins = stand_on_tyres(on_other(s)).tractor.drawbar_pins;
    REQUIRE(pins.size() == 3);
    CHECK((pins[0].length == s.tractor.drawbar_pins[0].length && !pins[0].top_height.known));
    CHECK((!pins[1].length.known && pins[1].top_height == s.tractor.drawbar_pins[1].top_height));
    CHECK(pins[2].top_height.value != 0.430);
}

TEST_CASE("other tyres: of the same radii nothing moves", "[geometry][metamorphic]") {
    Setup s = make_wheeled();
    s.tractor.tyre_sets.front().rear_radius = s.tractor.tyre.rear_radius;
    s.tractor.tyre_sets.front().front_radius = Reading{};
    const TyreChange c = find_tyre_change(on_other(s));
    CHECK(std::fabs(c.turn) < 1e-15);
    Setup same = s;
    same.tractor.tyre.rear_width = known(0.40);
    same.tractor.tyre.rear_track = known(1.5);
    check_same_tractor(stand_on_tyres(on_other(s)).tractor, same.tractor);
    check_same_findings(answer(on_other(s)), answer(same), 1e-9);
}

TEST_CASE("other tyres: a name that is not listed is an obstacle and the verdict is not known", "[geometry]") {
    Setup s = make_wheeled();
    s.choices.tyre_set = "wide";
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::missing_reading, "choices.tyre_set", "no_such_pin");
    REQUIRE(f != nullptr);
    REQUIRE(f->terms.size() == 1);
    CHECK(f->terms.front().symbol == "other");
    CHECK(a.verdict == Verdict::not_known);
    Setup drawn = make_drawn_setup();
    drawn.choices.tyre_set = "wide";
    CHECK(find_finding(answer(drawn), FindingKind::missing_reading, "choices.tyre_set", "no_such_pin") != nullptr);
    Setup radius = on_other(make_wheeled());
    radius.tractor.tyre.rear_radius = Reading{};
    CHECK(find_finding(answer(radius), FindingKind::missing_reading, "tractor.tyre.rear_radius", "missing") != nullptr);
    CHECK(find_finding(answer(radius), FindingKind::other_tyres) == nullptr);
}

TEST_CASE("other tyres: without front radius or wheelbase the tractor is taken as level, and that is said", "[geometry]") {
    Setup s = on_other(make_wheeled());
    s.tractor.tyre.front_radius = Reading{};
    const MountedModelResult r = make_mounted_model(s);
    CHECK(r.model.tyres.level_assumed);
    CHECK(r.model.tyres.turn == 0.0);
    CHECK(r.model.linkage.lower_pivot.y() == Approx(0.56));
    CHECK(r.model.linkage.lower_pivot.x() == Approx(0.0).margin(1e-15));
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::other_tyres, "other", "level_assumed");
    REQUIRE(f != nullptr);
    CHECK(f->value == Approx(0.06));
    REQUIRE(f->remedies.size() == 1);
    CHECK(f->remedies.front().subject == "tractor.tyre.front_radius");
    // Less known is never the better answer.
    CHECK(f->severity == Severity::unknown);
    CHECK(a.verdict != Verdict::fits);
    s.tractor.mass.wheelbase = Reading{};
    const Analysis both = answer(s);
    CHECK(find_finding(both, FindingKind::other_tyres)->remedies.size() == 2);
    CHECK(find_finding(answer(on_other(make_wheeled())), FindingKind::other_tyres, "other", "turned") != nullptr);
}

TEST_CASE("other tyres: heights chosen against the ground stay, limits of the own tyres do not count", "[geometry]") {
    Setup s = on_other(make_wheeled());
    s.choices.lift_stop = known(0.6);
    s.tractor.tyre.rear_load_most = known(3000.0);
    const Analysis a = answer(s);
    REQUIRE(a.linkage);
    CHECK(a.linkage->model.working_height == 0.300);
    CHECK(a.linkage->model.travel.high == 0.6);
    REQUIRE(a.axles);
    for (const CarriedLoad& c : a.axles->carried) CHECK(c.part != CarryingPart::rear_tyres);
    Setup own = s;
    own.choices.tyre_set.clear();
    const Analysis on_own = answer(own);
    REQUIRE(on_own.axles->carried.size() == 1);
}

TEST_CASE("other tyres: the error of their radii counts in the bands", "[geometry]") {
    Setup s = make_wheeled();
    // The link is set for the working height, so that the height of the tractor matters for the shaft.
    s.choices.upper_link_length = Reading{};
    s.tractor.tyre_sets.front().rear_radius.tolerance = 0.010;
    const Analysis own = answer(s), other = answer(on_other(s));
    REQUIRE(own.shaft);
    REQUIRE(other.shaft);
    CHECK(find_error_bands(ErrorModel(s), *own.linkage, *own.shaft).gap.width == 0.0);
    const ErrorBands b = find_error_bands(ErrorModel(on_other(s)), *other.linkage, *other.shaft);
    REQUIRE(b.known);
    CHECK(b.tractor_angle_in_work.width > 1e-4);
    CHECK(b.tractor_angle_in_work.widest.reading == "tractor.tyre_set[other].rear_radius");
}

TEST_CASE("other tyres: errors of a place are those of moved radii and wheelbase", "[geometry][residual]") {
    Tractor t;
    put_on(t, {});
    t.tyre.rear_radius.tolerance = 0.003;
    t.tyre.front_radius.tolerance = 0.004;
    t.mass.wheelbase.tolerance = 0.006;
    t.tyre_sets.front().rear_radius.tolerance = 0.005;
    for (const bool own_front : {false, true}) {
        t.tyre_sets.front().front_radius = own_front ? Reading{} : known(0.41, 0.002);
        const Point p(0.4, 0.9);
        std::vector<Reading*> all = {&t.tyre.rear_radius, &t.tyre.front_radius, &t.mass.wheelbase, &t.tyre_sets.front().rear_radius};
        if (!own_front) all.push_back(&t.tyre_sets.front().front_radius);
        double x = 0.0, z = 0.0, turn = 0.0;
        for (Reading* r : all) {
            const double value = r->value, step = 1e-6;
            r->value = value + step;
            const TyreChange up = find_tyre_change(t, "other");
            r->value = value - step;
            const TyreChange down = find_tyre_change(t, "other");
            r->value = value;
            const Point slope = (up.place(p) - down.place(p)) / (2 * step);
            x = std::hypot(x, slope.x() * r->tolerance);
            z = std::hypot(z, slope.y() * r->tolerance);
            turn = std::hypot(turn, (up.turn - down.turn) / (2 * step) * r->tolerance);
        }
        const TyreError e = find_tyre_error(t, find_tyre_change(t, "other"), p);
        CHECK(e.place.x() == Approx(x).epsilon(1e-6));
        CHECK(e.place.y() == Approx(z).epsilon(1e-6));
        CHECK(e.turn == Approx(turn).epsilon(1e-6));
    }
}

TEST_CASE("other tyres: pins found from ball readings are found on the own tyres and moved", "[geometry][metamorphic]") {
    Setup s = make_wheeled();
    const Point pivot(0.0, 0.5);
    s.tractor.ball_readings.clear();
    for (const double angle : {-0.3, 0.0, 0.25, 0.5}) {
        const Point ball = pivot + 0.885 * unit_vector(angle);
        s.tractor.ball_readings.push_back({std::to_string(s.tractor.ball_readings.size() + 1), known(ball.x(), 0.003), known(ball.y(), 0.003), {}});
    }
    s.tractor.lower_link.pivot_x = s.tractor.lower_link.pivot_z = s.tractor.lower_link.length = Reading{};
    const MountedModelResult own = make_mounted_model(s), now = make_mounted_model(on_other(s));
    REQUIRE(own.linkage_ok);
    REQUIRE(now.linkage_ok);
    CHECK((now.model.tyres.place(own.model.linkage.lower_pivot) - now.model.linkage.lower_pivot).norm() < 1e-12);
    CHECK(std::fabs(own.model.linkage.lower_length - now.model.linkage.lower_length) < 1e-12);
    const double low = now.model.tyres.place(own.model.linkage.lower_pivot + own.model.linkage.lower_length * unit_vector(std::asin((own.model.travel.low - own.model.linkage.lower_pivot.y()) / own.model.linkage.lower_length))).y();
    CHECK(std::fabs(now.model.travel.low - low) < 1e-9);
}

TEST_CASE("other tyres: a typed stop is to be set again", "[geometry]") {
    Setup s = on_other(make_wheeled());
    s.choices.lift_stop = known(0.80);
    const Analysis a = answer(s);
    const Finding* f = find_finding(a, FindingKind::other_tyres, "other", "lift_stop");
    REQUIRE(f != nullptr);
    CHECK(f->severity == Severity::condition);
    CHECK(f->value == Approx(0.80));
    s.choices.tyre_set.clear();
    CHECK(find_finding(answer(s), FindingKind::other_tyres, "other", "lift_stop") == nullptr);
}
