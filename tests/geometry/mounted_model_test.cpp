// From readings to the numbers the kernels need: projection, travel in force, upper link, driveline, and what stands in
// the way.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

#include "geometry/angle.h"
#include "geometry/closable_heights.h"
#include "geometry/mounted_model.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/linkage_a.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;
using Kind = ModelObstacle::Kind;

namespace {

bool has(const std::vector<ModelObstacle>& obstacles, Kind kind, const std::string& key) {
    return std::any_of(obstacles.begin(), obstacles.end(),
                       [&](const ModelObstacle& o) { return o.kind == kind && o.key == key; });
}

MountedModel model_of(const Setup& setup) {
    const MountedModelResult r = make_mounted_model(setup);
    REQUIRE(r.linkage_ok);
    REQUIRE(r.linkage_obstacles.empty());
    REQUIRE(r.shaft_obstacles.empty());
    return r.model;
}

constexpr double exact = 1e-12;

}  // namespace

TEST_CASE("mounted model: lengths are projected into the side plane", "[analytic]") {
    const MountedModel m = model_of(make_setup_a());
    const PlanarLinkage a = make_linkage_a();
    CHECK(m.linkage.lower_length == Approx(a.lower_length).epsilon(0).margin(exact));
    CHECK(m.linkage.lower_pivot == a.lower_pivot);
    CHECK(m.linkage.upper_pin == a.upper_pin);
    CHECK(m.linkage.mast_pin == a.mast_pin);
    CHECK(m.linkage.upper_length == a.upper_length);
    CHECK(m.linkage.side == MastSide::above);
    CHECK(m.upper_link_source == UpperLinkSource::typed);
}

TEST_CASE("mounted model: without the projection ball height and pitch are wrong by millimetres and degrees", "[oracle]") {
    // The linkage of the table built with its projected lengths taken for lengths in space: pivots 420, balls 825, arm
    // ends 500 mm apart. Worst over arm angles -8 to 70 deg: 5.19 mm and 2.22 deg (tests/validation/linkage_values.toml).
    Setup taped = make_setup_a();
    taped.tractor.lower_link.length = known(0.885);
    taped.tractor.travel = {};
    add_lift_a(taped.tractor, -8.0, 70.0);
    taped.tractor.lift_rod.length = known(0.600);
    taped.tractor.lift_rod.pin_along_link = known(0.430);
    Setup flat = taped;  // by mistake: no spread at all
    flat.tractor.lower_link.half_spread_at_pivot = flat.tractor.lower_link.half_spread_at_ball = known(0.3);
    flat.tractor.lift_arm.half_spread = known(0.3);
    const MountedModel right = model_of(taped), wrong = model_of(flat);
    CHECK(right.linkage.lower_length == Approx(std::sqrt(0.885 * 0.885 - 0.2025 * 0.2025)).epsilon(0).margin(exact));
    const double height_error = std::fabs(wrong.travel.low - right.travel.low);
    const double pitch_error = std::fabs(solve_pose(wrong.linkage, wrong.travel.low).pitch -
                                         solve_pose(right.linkage, right.travel.low).pitch);
    CHECK(height_error * 1000.0 == Approx(5.192555).epsilon(0).margin(1e-5));
    CHECK(to_degrees(pitch_error) == Approx(2.217766).epsilon(0).margin(1e-5));
}

TEST_CASE("mounted model: the narrower of tape and lift arm binds at each end, and stops come last", "[analytic]") {
    Setup s = make_setup_a();
    CHECK(model_of(s).travel == HeightRange{0.200, 0.950});
    // Golden rows of linkage A: arm -6.55457810138 deg is 250 mm, 59.9425134545 deg is 850 mm.
    add_lift_a(s.tractor, -6.5545781013682, 59.9425134545178);
    const MountedModel arm = model_of(s);
    CHECK(arm.travel.low == Approx(0.250).epsilon(0).margin(1e-9));
    CHECK(arm.travel.high == Approx(0.850).epsilon(0).margin(1e-9));
    CHECK((arm.travel_bounds.low.bound == TravelBound::lift_arm && arm.travel_bounds.high.bound == TravelBound::lift_arm));
    CHECK(arm.travel_bounds.high.spare == Approx(0.100).epsilon(0).margin(1e-9));
    s.tractor.lift_rod.free_rise = known(0.040);
    CHECK(model_of(s).travel.high == Approx(0.890).epsilon(0).margin(1e-9));
    s.tractor.travel.ball_height_high = known(0.800);
    const MountedModel both = model_of(s);
    CHECK(both.travel.high == 0.800);
    CHECK((both.travel_bounds.low.bound == TravelBound::lift_arm && both.travel_bounds.high.bound == TravelBound::typed));
    s.choices.lift_stop = known(0.700);
    s.choices.lower_stop = known(0.260);
    const MountedModel stopped = model_of(s);
    CHECK(stopped.travel == HeightRange{0.260, 0.700});
    CHECK((stopped.lift_stop_binds && stopped.lower_stop_binds));
    CHECK(stopped.travel_bounds.high.height == 0.800);  // kept: what there would be without the stop
    s.choices.lift_stop = known(0.900);
    s.choices.lower_stop = known(0.100);
    CHECK_FALSE(model_of(s).lift_stop_binds);
    CHECK_FALSE(model_of(s).lower_stop_binds);
}

TEST_CASE("mounted model: one taped end beside a lift arm is not passed over", "[analytic]") {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, -6.5545781013682, 59.9425134545178);
    s.tractor.travel.ball_height_high = Reading{};
    s.tractor.travel.ball_height_low = known(0.300);
    MountedModel m = model_of(s);
    CHECK(m.travel.low == 0.300);
    CHECK(m.travel.high == Approx(0.850).epsilon(0).margin(1e-9));
    CHECK((m.travel_bounds.low.bound == TravelBound::typed && m.travel_bounds.high.bound == TravelBound::lift_arm));
    CHECK(m.travel_bounds.low.spare == Approx(0.050).epsilon(0).margin(1e-9));
    CHECK(m.travel_bounds.high.spare == 0.0);
    s.tractor.travel = {Reading{}, known(0.800)};
    m = model_of(s);
    CHECK(m.travel.low == Approx(0.250).epsilon(0).margin(1e-9));
    CHECK(m.travel.high == 0.800);
    CHECK((m.travel_bounds.low.bound == TravelBound::lift_arm && m.travel_bounds.high.bound == TravelBound::typed));
    s.tractor.lift_arm.length = Reading{};  // without the arm both ends are needed
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::missing, "tractor.travel.ball_height_low"));
}

TEST_CASE("mounted model: without a typed length the link is set for the working pitch", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.implement.work.pitch = known(to_radians(1.5));
    const MountedModel m = model_of(s);
    CHECK(m.upper_link_source == UpperLinkSource::for_working_pitch);
    CHECK(solve_pose(m.linkage, 0.300).pitch == Approx(to_radians(1.5)).epsilon(0).margin(exact));
    s.choices.working_pitch = known(to_radians(-2.0));  // the choice goes before the implement's own
    s.choices.working_ball_height = known(0.400);
    CHECK(solve_pose(model_of(s).linkage, 0.400).pitch == Approx(to_radians(-2.0)).epsilon(0).margin(exact));
    // With slack the pitch is met half way; a strap is taken in line.
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.080), Reading{}};
    const MountedModel slot = model_of(s);
    const HeightRange lengths = effective_upper_lengths(slot);
    CHECK(lengths.high - lengths.low == Approx(0.080).epsilon(0).margin(exact));
    PlanarLinkage middle = slot.linkage;
    middle.upper_length = 0.5 * (lengths.low + lengths.high);
    CHECK(solve_pose(middle, 0.400).pitch == Approx(to_radians(-2.0)).epsilon(0).margin(exact));
    s.implement.upper_link_float = {UpperLinkKind::swing_strap, Reading{}, known(0.120)};
    const HeightRange strap = effective_upper_lengths(model_of(s));
    CHECK(strap.high - strap.low == Approx(0.240).epsilon(0).margin(exact));
}

TEST_CASE("mounted model: the working band stays inside the travel", "[analytic]") {
    Setup s = make_setup_a();
    CHECK(model_of(s).working_band == HeightRange{0.300, 0.300});
    CHECK_FALSE(model_of(s).working_band_typed);
    s.choices.working_band_low = known(0.100);
    s.choices.working_band_high = known(0.500);
    CHECK(model_of(s).working_band == HeightRange{0.200, 0.500});
    CHECK(model_of(s).working_band_typed);
    s.choices.lift_stop = known(0.450);
    CHECK(model_of(s).working_band == HeightRange{0.200, 0.450});
    s.choices.working_band_low = Reading{};
    CHECK(model_of(s).working_band == HeightRange{0.300, 0.450});
}

TEST_CASE("mounted model: joint centres, cuts and guards of the driveline", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.pto.stub_slope = known(to_radians(90.0));  // straight up: the offset goes up
    s.tractor.pto.stub_y = known(0.010);
    s.driveline.yoke_phase_error = known(0.1);
    s.driveline.guard_closed_length = known(0.780);
    s.driveline.guard_overlap_closed = known(0.400);
    s.choices.cut_tractor_half = known(0.060);
    s.choices.cut_implement_half = known(0.020);
    const MountedModel m = model_of(s);
    REQUIRE(m.has_shaft);
    CHECK(m.ends.tractor_joint.x == Approx(0.350).epsilon(0).margin(exact));
    CHECK(m.ends.tractor_joint.y == 0.010);
    CHECK(m.ends.tractor_joint.z == Approx(0.630).epsilon(0).margin(exact));
    CHECK(m.ends.implement_joint.x == Approx(0.470).epsilon(0).margin(exact));  // towards the tractor
    CHECK(m.ends.implement_joint.z == 0.250);
    CHECK(m.ends.yoke_phase_error == 0.1);
    CHECK(m.uncut.halves == TelescopingHalves{0.800, 0.500, 0.450});
    CHECK(m.halves.tube_a == Approx(0.440).epsilon(0).margin(exact));
    CHECK(m.halves.tube_b == Approx(0.430).epsilon(0).margin(exact));
    CHECK(m.halves.closed_length == Approx(0.740).epsilon(0).margin(exact));
    // Guards: closed at 780, overlap 400 with the shaft closed at 800, so 420 at 780; each half 60 and 20 shorter then.
    REQUIRE(m.has_guard);
    CHECK(m.guard.tube_a == Approx(0.360).epsilon(0).margin(exact));
    CHECK(m.guard.tube_b == Approx(0.400).epsilon(0).margin(exact));
    CHECK(m.guard.closed_length == Approx(0.760).epsilon(0).margin(exact));
}

TEST_CASE("mounted model: lengths between locking grooves are taken to joint centres", "[analytic]") {
    Setup s = make_setup_a();
    s.driveline.reference = LengthReference::locking_grooves;
    CHECK(has(make_mounted_model(s).shaft_obstacles, Kind::missing, "driveline.tractor_joint.centre_to_groove"));
    CHECK(has(make_mounted_model(s).shaft_obstacles, Kind::missing, "driveline.implement_joint.centre_to_groove"));
    s.driveline.tractor_joint.centre_to_groove = known(0.050);
    s.driveline.implement_joint.centre_to_groove = known(0.045);
    CHECK(model_of(s).halves.closed_length == Approx(0.705).epsilon(0).margin(exact));
}

TEST_CASE("mounted model: every missing reading is named, and only what is needed", "[analytic]") {
    const auto missing = [](const std::function<void(Setup&)>& change) {
        Setup s = make_setup_a();
        change(s);
        return make_mounted_model(s);
    };
    const MountedModelResult pivot = missing([](Setup& s) { s.tractor.lower_link.pivot_z = Reading{}; });
    CHECK(has(pivot.linkage_obstacles, Kind::missing, "tractor.lower_link.pivot_z"));
    CHECK_FALSE(pivot.linkage_ok);
    CHECK(has(missing([](Setup& s) { s.tractor.travel.ball_height_high = Reading{}; }).linkage_obstacles, Kind::missing,
              "tractor.travel.ball_height_high"));
    CHECK(has(missing([](Setup& s) { s.tractor.upper_link_pins.clear(); }).linkage_obstacles, Kind::missing,
              "tractor.upper_link_pin"));
    CHECK(has(missing([](Setup& s) { s.implement.mast_pins.clear(); }).linkage_obstacles, Kind::missing,
              "implement.mast_pin"));
    // A hole without its height must not become one on the floor.
    CHECK(has(missing([](Setup& s) { s.tractor.upper_link_pins[0].z = Reading{}; }).linkage_obstacles, Kind::missing,
              "tractor.upper_link_pin[1].z"));
    CHECK(has(missing([](Setup& s) { s.implement.mast_pins[0].height = Reading{}; }).linkage_obstacles, Kind::missing,
              "implement.mast_pin[1].height"));
    CHECK(has(missing([](Setup& s) {
                  s.choices.upper_link_length = Reading{};
                  s.implement.work.ball_height = Reading{};
              }).linkage_obstacles, Kind::missing, "choices.working_ball_height"));
    CHECK(has(missing([](Setup& s) { s.implement.upper_link_float.kind = UpperLinkKind::chain; }).linkage_obstacles,
              Kind::missing, "implement.upper_link_float.slack"));
    CHECK(has(missing([](Setup& s) { s.implement.upper_link_float.kind = UpperLinkKind::swing_strap; }).linkage_obstacles,
              Kind::missing, "implement.upper_link_float.strap_length"));
    const MountedModelResult stub = missing([](Setup& s) { s.tractor.pto.stub_x = Reading{}; });
    CHECK(has(stub.shaft_obstacles, Kind::missing, "tractor.pto.stub_x"));
    CHECK(stub.linkage_ok);
    CHECK_FALSE(stub.model.has_shaft);
    CHECK(has(missing([](Setup& s) { s.has_driveline = false; }).shaft_obstacles, Kind::missing, "driveline.use"));
    const MountedModelResult tubes = missing([](Setup& s) { s.driveline.tractor_tube = s.driveline.implement_tube = Reading{}; });
    CHECK(has(tubes.shaft_obstacles, Kind::missing, "driveline.shaft.tractor_tube"));
    CHECK((tubes.model.has_shaft && !tubes.model.has_halves));
    CHECK(has(missing([](Setup& s) { s.driveline.tractor_joint.kind = JointKind::wide_angle; }).shaft_obstacles,
              Kind::missing, "driveline.tractor_joint.spacing"));
    CHECK(has(missing([](Setup& s) { s.driveline.implement_joint.kind = JointKind::wide_angle; }).shaft_obstacles,
              Kind::missing, "driveline.implement_joint.spacing"));
}

TEST_CASE("mounted model: an implement without input shaft asks for nothing of the driveline", "[analytic]") {
    Setup blade = make_setup_a();
    blade.implement.pic = PicReadings{};
    blade.has_driveline = false;
    blade.tractor.pto = PtoReadings{};
    const MountedModel m = model_of(blade);
    CHECK_FALSE(m.has_shaft);
}

TEST_CASE("mounted model: holes are chosen by name", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.upper_link_pins.push_back({"upper", known(0.240), known(1.020)});
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::pin_not_chosen, "choices.upper_link_pin"));
    s.choices.upper_link_pin = "lower";
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::no_such_pin, "choices.upper_link_pin"));
    s.choices.upper_link_pin = "upper";
    CHECK(model_of(s).linkage.upper_pin == Point(0.240, 1.020));
    CHECK(model_of(s).tractor_pin == 1);
    s.choices.mast_pin = "2";
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::no_such_pin, "choices.mast_pin"));
}

TEST_CASE("mounted model: contradictions are said", "[analytic]") {
    Setup s = make_setup_a();
    s.driveline.tractor_tube = known(0.900);  // longer than the closed shaft
    MountedModelResult r = make_mounted_model(s);
    REQUIRE(has(r.shaft_obstacles, Kind::bad_halves, "driveline.shaft"));
    CHECK(r.shaft_obstacles[0].halves == HalvesStatus::tube_longer_than_shaft);
    s = make_setup_a();
    s.choices.cut_implement_half = known(0.450);
    CHECK(has(make_mounted_model(s).shaft_obstacles, Kind::bad_halves, "driveline.shaft"));
    // A cut that leaves steel but takes a whole guard tube must not make the guard unknown.
    s = make_setup_a();
    s.driveline.guard_closed_length = known(0.790);
    s.driveline.guard_overlap_closed = known(0.100);
    s.choices.cut_tractor_half = known(0.150);
    r = make_mounted_model(s);
    CHECK(has(r.shaft_obstacles, Kind::bad_halves, "driveline.guard"));
    CHECK((r.model.has_halves && !r.model.has_guard));
    s = make_setup_a();
    s.driveline.tractor_joint.kind = s.driveline.implement_joint.kind = JointKind::wide_angle;
    CHECK(has(make_mounted_model(s).shaft_obstacles, Kind::not_modelled, "driveline.implement_joint.kind"));
    s = make_setup_a();
    s.choices.lift_stop = known(0.150);
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::empty_travel, "choices.lift_stop"));
    s = make_setup_a();
    s.tractor.travel = {known(0.900), known(0.300)};
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::empty_travel, "tractor.travel"));
}

TEST_CASE("mounted model: a part that does not close is named, and the rest of the travel stays usable", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.travel.ball_height_high = known(1.600);  // the lower link reaches up to 1.385
    const MountedModelResult high = make_mounted_model(s);
    CHECK(high.linkage_ok);
    REQUIRE(high.linkage_obstacles.size() == 1);
    CHECK(high.linkage_obstacles[0].kind == Kind::cannot_close);
    CHECK(high.linkage_obstacles[0].closure.part == LinkagePart::lower_link);
    CHECK(high.linkage_obstacles[0].height == 1.600);
    const std::vector<HeightRange> closable = find_closable_heights(high.model.linkage);
    REQUIRE(closable.size() == 1);
    CHECK(high.model.travel.high == Approx(closable[0].high).epsilon(0).margin(2e-9));
    CHECK(solve_pose(high.model.linkage, high.model.travel.high).closes);
    s = make_setup_a();
    s.choices.upper_link_length = known(2.000);
    const MountedModelResult torn = make_mounted_model(s);
    CHECK_FALSE(torn.linkage_ok);
    REQUIRE_FALSE(torn.linkage_obstacles.empty());
    CHECK(torn.linkage_obstacles[0].closure.part == LinkagePart::upper_link);
    CHECK(torn.linkage_obstacles[0].closure.misfit == Misfit::too_long);
    s = make_setup_a();
    s.tractor.lower_link.length = known(0.150);  // shorter than the spread differs
    CHECK(make_mounted_model(s).linkage_obstacles[0].closure.part == LinkagePart::lower_link);
    s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.choices.working_pitch = known(to_radians(120.0));
    CHECK(has(make_mounted_model(s).linkage_obstacles, Kind::past_dead_centre, "choices.upper_link_pin"));
}

TEST_CASE("mounted model: what is kept of the closable heights grows with the machine, however far apart its links stand", "[metamorphic]") {
    // Splayed nearly across the tractor, a lower link is short from the side: what rounding does there is of its whole length.
    for (const double splay : {0.0, 0.83}) {
        CAPTURE(splay);
        HeightRange travel[2];
        double bars = 0.0;
        for (const int twice : {0, 1}) {
            Setup s = make_setup_a();
            if (splay > 0.0) s.tractor.lower_link.half_spread_at_ball.value = s.tractor.lower_link.half_spread_at_pivot.value + splay;
            s.tractor.travel.ball_height_high = known(1.600);
            const double k = twice == 1 ? 2.0 : 1.0;
            visit_readings(s, [k](const std::string&, Reading& r, const FieldSpec& spec) {
                if (spec.dimension == Dimension::length) r.value *= k;
            });
            const MountedModelResult r = make_mounted_model(s);
            REQUIRE(r.linkage_ok);
            const std::vector<HeightRange> closable = find_closable_heights(r.model.linkage);
            travel[twice] = r.model.travel;
            bars = r.model.linkage.lower_length + r.model.linkage.upper_length + r.model.linkage.mast_pin.norm();
            const double kept = closable.back().high - r.model.travel.high;
            CHECK(kept > 3e-10 * bars);
            CHECK(kept < 7e-10 * bars);
        }
        CHECK(std::fabs(travel[1].high - 2.0 * travel[0].high) < 1e-13 * bars);
    }
}

TEST_CASE("mounted model: a travel that opens in the middle is not silently cut short", "[analytic]") {
    // An upper-link pin far back: level, the ball is 85 mm from it and would have to be 310 mm (mast less link) away.
    Setup s = make_setup_a();
    s.tractor.upper_link_pins[0] = {"1", known(0.800), known(0.500)};
    s.choices.upper_link_length = known(0.300);
    s.tractor.travel = {known(0.100), known(0.900)};
    s.implement.work.ball_height = known(0.150);
    const MountedModelResult r = make_mounted_model(s);
    const std::vector<HeightRange> closable = find_closable_heights(r.model.linkage);
    REQUIRE(closable.size() == 2);
    REQUIRE(r.linkage_ok);
    CHECK(r.model.travel.contains(0.150));
    CHECK(r.model.travel.high == Approx(closable[0].high).epsilon(0).margin(2e-9));
    CHECK_FALSE(r.linkage_obstacles.empty());
}
