// From complaint to cause on machines small enough to reckon by hand.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/drawn_extremes.h"
#include "geometry/mounted_extremes.h"
#include "geometry/trace_study.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Lower and upper link 800 mm long and level at a ball height of 500 mm, mast and tractor pins 600 mm apart: a
/// parallelogram, pitch 0 at every height. A tail 1500 mm behind the pins at their height.
Setup make_parallelogram() {
    Setup s = make_setup_a();
    s.tractor.lower_link = make_lower_link(0.0, 0.500, 0.800, 0.400, 0.400);
    s.tractor.upper_link_pins = {{"1", known(0.0), known(1.100)}};
    s.tractor.travel = {known(0.250), known(0.900)};
    s.implement.mast_pins = {{"1", known(0.600), known(0.0)}};
    s.implement.points = {{"tail", known(1.500), known(0.0), Reading{}, false}};
    s.implement.work.ball_height = known(0.500);
    s.choices.upper_link_length = known(0.800);
    return s;
}

/// Pitch of the parallelogram at links level with the upper link at `e`: the mast pin (0.8 - 0.6 sin p, 1.1 - 0.6 (1 -
/// cos p)) is e from (0, 1.1). Bisection on that sentence alone.
double find_pitch_level(double e) {
    double low = -0.5, high = 0.5;
    for (int i = 0; i < 200; ++i) {
        const double p = 0.5 * (low + high);
        const double x = 0.8 - 0.6 * std::sin(p), z = -0.6 * (1.0 - std::cos(p));
        (std::hypot(x, z) > e ? low : high) = p;  // rear up draws the mast pin ahead
    }
    return 0.5 * (low + high);
}

Seen make_seen(SeenKind kind, SeenPlace place, double value, bool against = true) {
    Seen s;
    s.kind = kind;
    s.place = place;
    s.value = value;
    s.against_setup = against;
    s.error = usual_seen_error(kind);
    return s;
}

const CauseFit* find_fit(const std::vector<CauseFit>& fits, CauseKind kind, const std::string& key,
                         const std::string& to = {}) {
    const auto at = std::find_if(fits.begin(), fits.end(), [&](const CauseFit& f) {
        return f.cause.kind == kind && f.cause.key == key && (to.empty() || f.cause.to == to);
    });
    return at == fits.end() ? nullptr : &*at;
}
const CauseFit& need_fit(const std::vector<CauseFit>& fits, CauseKind kind, const std::string& key,
                         const std::string& to = {}) {
    const CauseFit* f = find_fit(fits, kind, key, to);
    if (!f) FAIL("no such cause: " + key);
    return *f;
}

constexpr double inch = 0.0254;

}  // namespace

TEST_CASE("trace: an upper link half an inch short on a parallelogram lifts the tail by hand arithmetic",
          "[analytic]") {
    const double pitch = find_pitch_level(0.800 - 0.5 * inch);
    REQUIRE(pitch == Approx(0.5 * inch / 0.600).epsilon(0.002));  // e / mast, first order
    const TraceStudy t =
        trace(make_parallelogram(), {make_seen(SeenKind::tail_height, SeenPlace::working, 1.5 * std::sin(pitch))});
    CHECK_FALSE(t.within_errors);
    const CauseFit& f = need_fit(t.causes, CauseKind::link_turned, link_length_key);
    CHECK(f.best.change == Approx(-0.5 * inch).margin(1e-7));
    CHECK(f.tolerances == Approx(8.0).margin(1e-5));  // half an inch against 1/16 in
    // Its own pitch, as an observation, says the same.
    const TraceStudy p = trace(make_parallelogram(), {make_seen(SeenKind::pitch, SeenPlace::working, pitch)});
    CHECK(need_fit(p.causes, CauseKind::link_turned, link_length_key).best.change == Approx(-0.5 * inch).margin(1e-7));
    // The tractor's pin ahead of where it is thought, the link's own length kept, is the same machine.
    CHECK(need_fit(t.causes, CauseKind::reading, "tractor.upper_link_pin[1].x").best.change ==
          Approx(-0.5 * inch).margin(1e-7));
}

TEST_CASE("trace: senses of signs, tail low means a longer upper link, nose down a shorter one", "[analytic]") {
    const Setup s = make_parallelogram();
    const auto change = [&](SeenKind kind, double value) {
        const TraceStudy t = trace(s, {make_seen(kind, SeenPlace::working, value)});
        return need_fit(t.causes, CauseKind::link_turned, link_length_key).best.change;
    };
    CHECK(change(SeenKind::tail_height, -0.05) > 0.0);
    CHECK(change(SeenKind::tail_height, 0.05) < 0.0);
    CHECK(change(SeenKind::pitch, to_radians(2.0)) < 0.0);
    CHECK(change(SeenKind::pitch, to_radians(-2.0)) > 0.0);
}

TEST_CASE("trace: a difference said and the value itself are one observation", "[metamorphic]") {
    const Setup s = make_parallelogram();  // the tail stands at 500 mm
    const TraceStudy a = trace(s, {make_seen(SeenKind::tail_height, SeenPlace::working, -0.060)});
    const TraceStudy b = trace(s, {make_seen(SeenKind::tail_height, SeenPlace::working, 0.440, false)});
    REQUIRE(a.causes.size() == b.causes.size());
    REQUIRE(a.causes.size() > 5);
    for (std::size_t i = 0; i < a.causes.size(); ++i) {
        CHECK(a.causes[i].cause == b.causes[i].cause);
        CHECK(a.causes[i].best.change == Approx(b.causes[i].best.change).margin(1e-9));
        CHECK(a.causes[i].share == Approx(b.causes[i].share).margin(1e-9));
    }
}

TEST_CASE("trace: every cause found gives back what was seen when it is put into the set-up", "[residual]") {
    Setup s = make_setup_a();
    s.implement.points = {{"tail", known(1.400), known(-0.1), Reading{}, false}};
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(0.900)});
    s.choices.upper_link_pin = "1";
    const Seen seen = make_seen(SeenKind::tail_height, SeenPlace::raised, 0.070);
    const TraceMachine believed = make_believed_machine(s);
    const double before = *predict_seen(believed, {&seen, 1}).front();
    const TraceStudy t = trace(s, {seen});
    int by_amount = 0, exact = 0;
    for (const CauseFit& f : t.causes) {
        CAPTURE(f.cause.key);
        if (!is_by_amount(f.cause.kind)) continue;
        ++by_amount;
        const auto after = predict_seen(change_machine(believed, f.cause, f.best.change), {&seen, 1}).front();
        REQUIRE(after);
        // Short of it only where the possible range ends, and then within the errors.
        CHECK(std::fabs(*after - before - 0.070) <= (f.best.misfit < 1e-9 ? 1e-6 : 0.5 * std::sqrt(find_cause_limit(1, true)) * t.rows.rows.front().band));
        exact += f.best.misfit < 1e-9;
        if (f.other) CHECK(f.other->change * f.best.change < 0.0);
    }
    CHECK(by_amount > 8);
    CHECK(exact > by_amount - 3);
    // Nothing is lost: each cause stands in one of the two lists.
    CHECK(t.causes.size() + t.cannot.size() == list_causes(believed).causes.size());
    double sum = 0.0;
    for (const CauseFit& f : t.causes) sum += f.share;
    CHECK(sum == Approx(1.0));
    CHECK(std::is_sorted(t.causes.begin(), t.causes.end(),
                         [](const CauseFit& a, const CauseFit& b) { return a.share > b.share; }));
}

TEST_CASE("trace: another hole, with the link as long as it is", "[analytic]") {
    Setup s = make_parallelogram();
    s.tractor.upper_link_pins.push_back({"2", known(0.0), known(1.000)});
    s.choices.upper_link_pin = "1";
    // Link of 800 mm from (0, 1.0): mast pin at 0.6 from the ball (0.8, 0.5), circle of the link, by bisection.
    double low = -0.5, high = 0.5;
    for (int i = 0; i < 200; ++i) {
        const double p = 0.5 * (low + high);
        (std::hypot(0.8 - 0.6 * std::sin(p), 0.5 + 0.6 * std::cos(p) - 1.0) > 0.800 ? low : high) = p;
    }
    const TraceStudy t = trace(s, {make_seen(SeenKind::pitch, SeenPlace::working, low, false)});
    const CauseFit& f = need_fit(t.causes, CauseKind::tractor_hole, "choices.upper_link_pin", "2");
    CHECK(f.best.predicted.front() == Approx(low).margin(1e-9));
    CHECK(f.best.misfit == Approx(0.0).margin(1e-6));
    CHECK(f.cause.weight ==
          Approx(find_cause_weight(CauseKind::tractor_hole)));  // one alternative has the whole weight
}

TEST_CASE("trace: a complaint is met by the least change that breaks its margin", "[oracle]") {
    const Setup s = make_setup_a();
    const MountedModel m = make_mounted_model(s).model;
    const double gap = find_gap(m.halves, find_length_extremes(m, make_travel_box(m)).shortest.bound);
    REQUIRE(gap > 0.05);
    Seen knocks = make_seen(SeenKind::knocks, SeenPlace::usual, 0.0);
    const TraceStudy t = trace(s, {knocks});
    CHECK(t.rows.rows.front().believed == Approx(gap).margin(1e-5));  // promised: 0.01 mm of the bounded extreme
    // The closed length is read too short by just the gap that is thought to be left.
    CHECK(need_fit(t.causes, CauseKind::reading, "driveline.shaft.closed_length").best.change ==
          Approx(gap).margin(1.1e-5));
    // A shaft said to bottom in the set-up itself needs no cause.
    Setup bad = s;
    bad.driveline.closed_length.value += gap + 0.02;
    CHECK(trace(bad, {knocks}).within_errors);
}

TEST_CASE("trace: beside a reading that says nothing of it, a complaint orders causes by how far out they are",
          "[practice]") {
    Setup s = make_setup_a();
    s.implement.points = {{"tail", known(1.400), known(-0.1), Reading{}, false}};
    const Seen knocks = make_seen(SeenKind::knocks, SeenPlace::usual, 0.0);
    const Seen tail = make_seen(SeenKind::tail_height, SeenPlace::working, 0.0);  // as the set-up has it
    const TraceStudy t = trace(s, {knocks, tail});
    const CauseFit& stub = need_fit(t.causes, CauseKind::reading, "tractor.pto.stub_x");
    const CauseFit& closed = need_fit(t.causes, CauseKind::reading, "driveline.shaft.closed_length");
    REQUIRE(stub.tolerances < closed.tolerances);  // 1/4 in against 1/16 in
    CHECK(stub.share > closed.share);
    // Cauchy's chance of so much or more, weights alike, misfits next to nothing.
    const auto chance = [](const CauseFit& f) { return 0.5 - std::atan(f.tolerances / usual_blunder) / pi; };
    CHECK(stub.share / closed.share == Approx(chance(stub) / chance(closed)).epsilon(0.02));
}

TEST_CASE("trace: what the set-up says already within errors needs nothing to be wrong", "[analytic]") {
    const Setup s = make_parallelogram();
    const TraceStudy near = trace(s, {make_seen(SeenKind::tail_height, SeenPlace::working, 0.004)});
    CHECK(near.within_errors);
    CHECK(near.believed_misfit <= near.usual_misfit);
    CHECK_FALSE(trace(s, {make_seen(SeenKind::tail_height, SeenPlace::working, 0.100)}).within_errors);
}

TEST_CASE("trace: one misfit by hand, the tail against link and reading errors", "[analytic]") {
    // Only the link's length and the tail's own height have tolerances that count: all others are taken away by typing
    // what the row must then be: the band is twice the root of the sum of squares, tail = 1.5 sin p, dp/de = -1/0.6.
    Setup s = make_parallelogram();
    const Seen seen = make_seen(SeenKind::tail_height, SeenPlace::working, 0.050);
    TraceBench bench(make_believed_machine(s));
    std::vector<Cause> few;
    for (const Cause& c : list_causes(bench.believed()).causes) {
        if (c.key == link_length_key || c.key == "implement.point[tail].z") few.push_back(c);
    }
    REQUIRE(few.size() == 2);
    const TraceRows rows = make_trace_rows(bench, few, {seen});
    const double link = 1.5 / 0.6 * inch / 16, tail = inch / 4, taking = inch / 8;
    const double band = std::sqrt(link * link + tail * tail + taking * taking);
    CHECK(rows.rows.front().band == Approx(band).epsilon(1e-3));
    CHECK(find_believed_misfit(rows) == Approx(std::pow(2.0 * 0.050 / band, 2)).epsilon(2e-3));
}

TEST_CASE("trace: two things against each other have no single cause, and everything stays listed", "[analytic]") {
    const Setup s = make_parallelogram();
    const std::vector<Seen> both{make_seen(SeenKind::tail_height, SeenPlace::working, 0.100),
                                 make_seen(SeenKind::tail_height, SeenPlace::working, -0.100)};
    const TraceStudy t = trace(s, both);
    CHECK_FALSE(t.within_errors);
    CHECK(t.causes.empty());
    CHECK(t.cannot.size() == list_causes(make_believed_machine(s)).causes.size());
    CHECK_FALSE(t.next);
}

TEST_CASE("trace: rear tyres that stand lower tip the tractor about its front axle", "[analytic]") {
    Setup s = make_parallelogram();
    s.tractor.tyre.rear_radius = known(0.700, 0.012);
    s.tractor.tyre.front_radius = known(0.700);
    s.tractor.mass.wheelbase = known(2.000);
    // Axles at one height: the tractor turns by asin(d/wheelbase), rear down. The ball, fully raised, at height 0.9 and
    // x = sqrt(0.8^2 - 0.4^2); about the rear axle (0, 0.7), which sinks by d.
    const double d = 0.030, turn = std::asin(d / 2.0), x = std::sqrt(0.64 - 0.16);
    const double ball = 0.700 - d - x * std::sin(turn) + (0.900 - 0.700) * std::cos(turn);
    const TraceStudy t = trace(s, {make_seen(SeenKind::ball_height, SeenPlace::raised, ball, false)});
    CHECK(need_fit(t.causes, CauseKind::rear_tyre, "tractor.tyre.rear_radius").best.change == Approx(-d).margin(1e-7));
    CHECK(need_fit(t.causes, CauseKind::rear_tyre, "tractor.tyre.rear_radius").cause.tolerance == 0.012);
    // The frame leans back with the tractor.
    const Seen pitch = make_seen(SeenKind::pitch, SeenPlace::raised, 0.0);
    const TraceMachine believed = make_believed_machine(s);
    Cause tyre;
    tyre.kind = CauseKind::rear_tyre;
    CHECK(*predict_seen(change_machine(believed, tyre, -d), {&pitch, 1}).front() == Approx(-turn).margin(1e-9));
    // Without a wheelbase it cannot be tried, and that is said.
    s.tractor.mass.wheelbase = Reading{};
    const TraceStudy without = trace(s, {pitch});
    const auto tyres = std::count_if(without.not_tried.begin(), without.not_tried.end(),
                                     [](const CauseNotTried& n) { return n.key == "tractor.mass.wheelbase"; });
    CHECK(tyres == 2);
}

TEST_CASE("trace: lift rods turned after heights were taped move the travel by the arm", "[oracle]") {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, -10.0, 50.0);
    s.tractor.travel = {known(0.300), known(0.900)};
    const double longer = 0.010;
    Tractor other = s.tractor;
    other.lift_rod.length.value += longer;
    const double own = s.tractor.lower_link.length.value;
    const TractorLift from = make_tractor_lift(s.tractor, own), to = make_tractor_lift(other, own);
    REQUIRE(from.closure.closes());
    const LiftPose arm = solve_lift_from_ball(from.linkage, 0.300);
    REQUIRE(arm.closure.closes());
    const double carried = solve_lift_from_arm(to.linkage, arm.arm_angle).ball_height;
    REQUIRE(carried < 0.300 - 0.005);  // a longer rod lets the ball down
    Seen low = make_seen(SeenKind::ball_height, SeenPlace::lowest, carried, false);
    Cause rod;
    rod.kind = CauseKind::rod_changed;
    rod.key = "tractor.lift_rod.length";
    const TraceMachine believed = make_believed_machine(s);
    const double seen = *predict_seen(change_machine(believed, rod, longer), {&low, 1}).front();
    CHECK(seen == Approx(carried).margin(1e-9));
    CHECK(need_fit(trace(s, {low}).causes, CauseKind::rod_changed, rod.key).best.change == Approx(longer).margin(1e-6));
}

TEST_CASE("trace: drawbar of a drawn set-up, its length and its positions", "[analytic]") {
    Setup s = make_drawn_setup();
    s.choices.drawn.drawbar_pin = "middle";
    const TraceStudy t = trace(s, {make_seen(SeenKind::drawbar_length, SeenPlace::usual, 0.280, false)});
    CHECK(need_fit(t.causes, CauseKind::reading, "tractor.drawbar_pin[middle].length").best.change ==
          Approx(-0.080).margin(1e-9));
    CHECK(t.causes.front().cause.kind == CauseKind::drawbar_position);
    CHECK(t.causes.front().cause.to == "short");
    CHECK(find_fit(t.cannot, CauseKind::drawbar_position, "choices.drawbar_pin", "long"));
    // Gap straight and level: 80 mm less drawbar takes p from 0.33 to 0.25, the law of cosines at yaw 0 is p + q.
    const TraceStudy gap = trace(s, {make_seen(SeenKind::shaft_distance, SeenPlace::usual, -0.080)});
    CHECK(need_fit(gap.causes, CauseKind::reading, "tractor.drawbar_pin[middle].length").best.change ==
          Approx(-0.080).margin(2e-3));
}

TEST_CASE("trace: what is left of a drawn shaft's length is the least over the attitudes of the place it was seen in", "[oracle]") {
    const Setup s = make_drawn_setup();
    const TraceMachine machine = make_believed_machine(s);
    const DrawnModel m = make_drawn_model(machine.setup).model;
    const AttitudeBox& box = m.box;
    REQUIRE((box.pitch.low < box.pitch.high && box.roll.low < box.roll.high && box.yaw.low < box.yaw.high));
    constexpr int steps = 60;
    const auto part = [](const auto& range, int i) { return range.low + (range.high - range.low) * i / steps; };
    const auto shortest = [&](bool pitches, bool rolls, bool yaws) {
        double least = 9.0;
        for (int p = 0; p <= (pitches ? steps : 0); ++p) {
            for (int r = 0; r <= (rolls ? 2 : 0); ++r) {
                for (int y = 0; y <= (yaws ? steps : 0); ++y) {
                    const Attitude at{pitches ? part(box.pitch, p) : m.level_pitch, rolls ? part(box.roll, r * steps / 2) : 0.0, yaws ? part(box.yaw, y) : 0.0};
                    least = std::min(least, find_driveline_state(m, at).length);
                }
            }
        }
        return least;
    };
    const Seen seen[] = {make_seen(SeenKind::gap, SeenPlace::working, 0.0), make_seen(SeenKind::gap, SeenPlace::usual, 0.0),
                         make_seen(SeenKind::gap, SeenPlace::in_turns, 0.0), make_seen(SeenKind::gap, SeenPlace::in_dips, 0.0),
                         make_seen(SeenKind::knocks, SeenPlace::usual, 0.0)};
    const double level = shortest(false, false, false);
    const double lengths[] = {level, level, shortest(false, false, true), shortest(true, true, false), shortest(true, true, true)};
    const std::vector<std::optional<double>> found = predict_seen(machine, seen);
    for (std::size_t i = 0; i < std::size(seen); ++i) {
        CAPTURE(i);
        REQUIRE(found[i]);
        CHECK(std::fabs(*found[i] - (lengths[i] - m.halves.closed_length)) < 1e-4);
    }
    CHECK(std::fabs(lengths[2] - level) + std::fabs(lengths[3] - level) > 0.01);
}

TEST_CASE("trace: only what was read is a cause, and a shaft that is not there is not seen", "[analytic]") {
    Setup s = make_parallelogram();
    std::vector<std::string> known_keys;
    visit_readings(s, [&](const std::string& key, const Reading& r, const FieldSpec&) {
        if (r.known) known_keys.push_back(key);
    });
    for (const Cause& c : list_causes(make_believed_machine(s)).causes) {
        CAPTURE(c.key);
        CHECK((c.kind != CauseKind::reading || std::find(known_keys.begin(), known_keys.end(), c.key) != known_keys.end()));
    }
    const Seen distance = make_seen(SeenKind::shaft_distance, SeenPlace::working, 0.0);
    CHECK(predict_seen(make_believed_machine(s), {&distance, 1}).front());
    s.has_driveline = false;
    CHECK_FALSE(predict_seen(make_believed_machine(s), {&distance, 1}).front());
}

TEST_CASE("trace: a deck edge touches the guard by the room the clearances have", "[oracle]") {
    Setup s = make_setup_a();
    s.driveline.guard_radius = known(0.060);
    s.implement.points = {{"lip", known(0.300), known(0.050), Reading{}, true}};
    const Seen touches = make_seen(SeenKind::deck_touches, SeenPlace::usual, 0.0);
    const std::optional<double> found = predict_seen(make_believed_machine(s), {&touches, 1}).front();
    const Analysis a = analyze(s, millimetre_mark);
    const auto pair = std::find_if(a.clearances.begin(), a.clearances.end(), [](const Clearance& c) { return c.kind == ClearanceKind::guard_to_deck_edge; });
    REQUIRE((found && pair != a.clearances.end()));
    CHECK(std::fabs(*found - pair->least.value) < 1e-5);
}

TEST_CASE("trace: with both axles on higher tyres a height is still one over the floor", "[analytic]") {
    Setup s = make_parallelogram();
    s.tractor.tyre.rear_radius = s.tractor.tyre.front_radius = known(0.75);  // in halves, so that the floor is level to the last digit
    s.tractor.mass.wheelbase = known(2.5);
    TraceMachine machine = make_believed_machine(s);
    Seen tail = make_seen(SeenKind::tail_height, SeenPlace::at_height, 0.0);  // as high as the balls
    tail.height = 0.500;
    for (const double higher : {0.0, 0.0625}) {
        machine.rear_tyre = machine.front_tyre = higher;
        CHECK(predict_seen(machine, {&tail, 1}).front().value() == Approx(0.500).margin(1e-9));
    }
}

TEST_CASE("trace: what keeps a drawn machine's answer away is named where nothing of the hitch is missing", "[analytic]") {
    const TraceMachine machine = make_believed_machine(make_drawn_setup());
    CHECK(find_seen_obstacle(machine, make_seen(SeenKind::reading, SeenPlace::usual, 0.0)) == "no known reading has this key");
    Setup s = make_drawn_setup();
    s.tractor.drawbar_pins.clear();
    const std::string missing = find_seen_obstacle(make_believed_machine(s), make_seen(SeenKind::tail_height, SeenPlace::usual, 0.0));
    CHECK_THAT(missing, Catch::StartsWith("tractor."));
}

TEST_CASE("trace: no cause is asked to be more than its reading can be", "[analytic]") {
    Setup s = make_parallelogram();
    s.tractor.tyre.rear_radius = s.tractor.tyre.front_radius = known(0.700);
    s.tractor.mass.wheelbase = known(2.000);
    for (const double off : {-0.6, 0.6}) {
        const TraceStudy t = trace(s, {make_seen(SeenKind::tail_height, SeenPlace::raised, off)});
        for (const std::vector<CauseFit>* list : {&t.causes, &t.cannot}) {
            for (const CauseFit& f : *list) {
                if (f.cause.least >= f.cause.most) continue;
                CAPTURE(f.cause.key, f.cause.believed, f.best.change);
                CHECK(f.cause.believed + f.best.change >= f.cause.least - 1e-9);
                CHECK(f.cause.believed + f.best.change <= f.cause.most + 1e-9);
            }
        }
    }
}

TEST_CASE("trace: a typed upper link is believed as it was read, with its own error", "[analytic]") {
    Setup s = make_parallelogram();
    s.choices.upper_link_length = known(0.800, 0.007);
    CHECK(make_believed_machine(s).setup.choices.upper_link_length == s.choices.upper_link_length);
}

TEST_CASE("trace: the wheels of a drawn machine stand on the floor", "[residual]") {
    const Seen tail = make_seen(SeenKind::tail_height, SeenPlace::working, 0.0);
    for (const double pin_height : {0.380, 0.480}) {  // the frame not level
        Setup s = make_drawn_setup();
        s.tractor.drawbar.top_height = known(pin_height);
        const std::optional<double> found = predict_seen(make_believed_machine(s), {&tail, 1}).front();
        REQUIRE(found);
        CHECK(std::fabs(*found) < 1e-12);
    }
}

TEST_CASE("trace: a tyre meets the tongue by a wider track or a longer turn, solved on the contact's own turn",
          "[oracle]") {
    Setup s = make_drawn_setup();
    s.choices.drawn.drawbar_pin = "middle";
    s.choices.drawn.turn_left_most = s.choices.drawn.turn_right_most = known(to_radians(30.0), to_radians(0.3));
    const Seen meets = make_seen(SeenKind::tyre_meets_tongue, SeenPlace::usual, 0.0);
    const TraceMachine believed = make_believed_machine(s);
    const double left = *predict_seen(believed, {&meets, 1}).front();
    REQUIRE(left > 0.0);
    const TraceStudy t = trace(s, {meets});
    CHECK(need_fit(t.causes, CauseKind::reading, "choices.turn_right_most").best.change == Approx(left).margin(1e-6));
    CHECK(need_fit(t.causes, CauseKind::reading, "choices.turn_left_most").best.change == Approx(left).margin(1e-6));
}

TEST_CASE("trace: what cannot be reckoned is named and counts for nothing", "[practice]") {
    const Setup s = make_parallelogram();
    Seen lift = make_seen(SeenKind::will_not_lift, SeenPlace::usual, 0.0);
    const TraceStudy alone = trace(s, {lift});
    CHECK(alone.rows.rows.empty());
    CHECK(alone.causes.empty());
    REQUIRE(alone.not_used.size() == 1);
    CHECK_FALSE(alone.not_used.front().reason.empty());
    const Seen tail = make_seen(SeenKind::tail_height, SeenPlace::working, 0.05);
    const TraceStudy with = trace(s, {lift, tail}), without = trace(s, {tail});
    REQUIRE(with.causes.size() == without.causes.size());
    CHECK(with.causes.front().cause == without.causes.front().cause);
    CHECK(with.causes.front().share == Approx(without.causes.front().share));
    Setup none = s;
    none.tractor.lower_link.length = Reading{};
    const TraceStudy missing = trace(none, {tail});
    REQUIRE(missing.not_used.size() == 1);
    CHECK(missing.not_used.front().reason == "tractor.lower_link.length");
}

TEST_CASE("trace: what will not lift weighs more than the paper says, or hangs farther back, or the lift gives less", "[residual]") {
    Setup s = make_setup_a();
    s.implement.mass = {known(400.0), known(0.9, 0.05), known(0.2, 0.05)};
    s.tractor.mass.lift_at_balls = known(9000.0);
    const Seen lift = make_seen(SeenKind::will_not_lift, SeenPlace::usual, 0.0);
    const TraceMachine believed = make_believed_machine(s);
    const double spare = *predict_seen(believed, {&lift, 1}).front();
    REQUIRE(spare > 0.0);
    const TraceStudy t = trace(s, {lift});
    // Least change: the mass whose share is all the spare, and the force that falls to what is needed.
    CHECK(need_fit(t.causes, CauseKind::reading, "implement.mass.mass").best.change == Approx(400.0 * spare).epsilon(1e-3));
    CHECK(need_fit(t.causes, CauseKind::reading, "tractor.mass.lift_at_balls").best.change == Approx(-9000.0 * spare / (1.0 + spare)).epsilon(1e-3));
    CHECK(need_fit(t.causes, CauseKind::reading, "implement.mass.cg_x").best.change > 0.0);
    for (const Cause& c : list_causes(believed).causes) CHECK(c.dimension != Dimension::mass);
}

TEST_CASE("trace: lines of a list of specifications are matched by words", "[practice]") {
    const ComplaintLine line{"clutch drags", "PTO clutch free play", "3/16 in"};
    Seen seen = make_seen(SeenKind::stated, SeenPlace::usual, 0.0);
    seen.words = "The PTO clutch drags, a bit!";
    CHECK(matches_words(line, seen));
    const TraceStudy t = trace(make_parallelogram(), {seen}, {line});
    REQUIRE(t.lines.size() == 1);
    CHECK(t.lines.front().line == "PTO clutch free play");
    CHECK(t.not_used.empty());
    seen.words = "clutch slips";
    CHECK_FALSE(matches_words(line, seen));
    CHECK(trace(make_parallelogram(), {seen}, {line}).not_used.size() == 1);
    CHECK_FALSE(matches_words({"", "x", ""}, seen));
    const ComplaintLine sayings{"the PTO slips under load; the mower dies in thick grass", "pedal", ""};
    for (const char* said : {"PTO slipping", "the pto slips", "mower died in the thick grass", "it dies in thick grass"}) {
        seen.words = said;
        CAPTURE(said);
        CHECK(matches_words(sayings, seen));
    }
    for (const char* said : {"the pto", "grass", "the mower", "it is under"}) {
        seen.words = said;
        CAPTURE(said);
        CHECK_FALSE(matches_words(sayings, seen));
    }
}

TEST_CASE("trace: the reading asked for next stands where the two foremost causes say", "[residual]") {
    Setup s = make_setup_a();
    s.implement.points = {{"tail", known(1.400), known(-0.1), Reading{}, false}};
    const TraceStudy t = trace(s, {make_seen(SeenKind::tail_height, SeenPlace::working, 0.080)});
    REQUIRE(t.next);
    const SeparatingReading& n = *t.next;
    const TraceMachine believed = make_believed_machine(s);
    const auto under = [&](std::size_t i) {
        return *predict_seen(change_machine(believed, t.causes[i].cause, t.causes[i].best.change), {&n.what, 1})
                    .front();
    };
    CHECK(n.under_first == Approx(under(0)).margin(1e-12));
    CHECK(n.under_second == Approx(under(1)).margin(1e-12));
    CHECK(n.apart == Approx(std::fabs(n.under_first - n.under_second) / n.scatter));
    CHECK(n.scatter >= n.error * (1.0 - 1e-9));
    // Read as the first cause has it, the second falls behind for good.
    Seen told = n.what;
    told.value = n.under_first;
    const TraceStudy then = trace(s, {make_seen(SeenKind::tail_height, SeenPlace::working, 0.080), told});
    REQUIRE_FALSE(then.causes.empty());
    CHECK(then.causes.front().cause == t.causes.front().cause);
    const CauseFit* second = find_fit(then.causes, t.causes[1].cause.kind, t.causes[1].cause.key, t.causes[1].cause.to);
    CHECK((!second || second->share < 0.5 * t.causes[1].share));
}
