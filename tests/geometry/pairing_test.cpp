// Which machines belong together: each condition on both sides; and closure, against a scan of the heights.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/pairing.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// A tractor and an implement that every condition speaks for.
Setup make_pair() {
    Setup s = make_setup_a();
    s.tractor.hitch.category = Category::cat2;
    s.implement.hitch.category = Category::cat2;
    s.tractor.pto.speeds_rpm = {540};
    s.tractor.pto.power = known(40e3);
    s.implement.pic.speed_rpm = 540;
    s.implement.pic.power = known(50e3);
    s.tractor.mass.mass = known(2000.0);
    s.tractor.mass.front_share = known(0.40);
    s.tractor.mass.wheelbase = known(2.0);
    s.implement.mass.mass = known(300.0);
    s.implement.mass.cg_x = known(0.5);
    return s;
}

PairingObstacle obstacle_of(const Setup& s) { return check_pairing(s.tractor, s.implement).obstacle; }

/// By the definition, height by height: pivot circle, mast circle, upper-link circle. The reserve is the least by which
/// any height closes (negative: it fails), m.
double scan_reserve(const Setup& s, const NamedPoint& pin, const MastPin& mast) {
    const LowerLinkReadings& l = s.tractor.lower_link;
    const double side = l.half_spread_at_ball.value - l.half_spread_at_pivot.value;
    const double reach = std::sqrt(l.length.value * l.length.value - side * side);
    const auto ball_x = [&](double z) {
        return l.pivot_x.value + std::sqrt(std::max(0.0, reach * reach - std::pow(z - l.pivot_z.value, 2)));
    };
    const double m = std::hypot(mast.offset.value, mast.height.value), work = s.implement.work.ball_height.value;
    const double p = s.implement.work.pitch.value;
    const double e = std::hypot(ball_x(work) + mast.offset.value * std::cos(p) - mast.height.value * std::sin(p) - pin.x.value,
                                work + mast.offset.value * std::sin(p) + mast.height.value * std::cos(p) - pin.z.value);
    const double low = s.tractor.travel.ball_height_low.value, high = s.tractor.travel.ball_height_high.value;
    double reserve = 1.0;
    for (int k = 0; k <= 4000; ++k) {
        const double z = low + (high - low) * k / 4000;
        const double d = std::hypot(ball_x(z) - pin.x.value, z - pin.z.value);
        reserve = std::min({reserve, reach - std::fabs(z - l.pivot_z.value), m + e - d, d - std::fabs(m - e)});
    }
    return reserve;
}

}  // namespace

TEST_CASE("pairing: the same category and the next smaller pair, a larger one and two smaller do not", "[analytic]") {
    Setup s = make_pair();
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.implement.hitch.category = Category::cat3;
    CHECK(check_pairing(s.tractor, s.implement) == Pairing{PairingObstacle::category, 3.0, 2.0});
    s.tractor.hitch.category = Category::cat3;
    s.implement.hitch.category = Category::cat2;
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.implement.hitch.category = Category::cat1;
    CHECK(obstacle_of(s) == PairingObstacle::category);
    s.implement.hitch.category = Category::none;
    CHECK(obstacle_of(s) == PairingObstacle::none);
}

TEST_CASE("pairing: a mast under the figure of the next smaller category is too low, the highest hole counts", "[analytic]") {
    Setup s = make_pair();
    s.tractor.hitch.category = Category::cat3;  // category 2: 610 mm, 40 mm less still counts
    s.implement.mast_pins = {{"1", known(0.460), known(0.0)}, {"2", known(0.571), known(0.0)}};
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.implement.mast_pins[1].height = known(0.569);
    CHECK(obstacle_of(s) == PairingObstacle::mast);
    s.tractor.hitch.category = s.implement.hitch.category = Category::cat1;  // below it there are no figures
    CHECK(obstacle_of(s) == PairingObstacle::none);
}

TEST_CASE("pairing: PTO speed and power decide for an implement with an input, and only there", "[analytic]") {
    Setup s = make_pair();
    s.implement.pic.speed_rpm = 1000;
    CHECK(check_pairing(s.tractor, s.implement) == Pairing{PairingObstacle::speed, 1000.0, 540.0});
    s.tractor.pto.speeds_rpm = {540, 1000};
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.tractor.pto.power = known(25e3);
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.tractor.pto.power = known(24.9e3);
    CHECK(obstacle_of(s) == PairingObstacle::power);
    s.tractor.pto.speeds_rpm = {540};
    s.implement.pic.fitted = false;
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.implement.attachment = Attachment::drawn;
    CHECK(obstacle_of(s) == PairingObstacle::not_mounted);
}

TEST_CASE("pairing: the front axle's share follows from moments about the rear axle", "[analytic]") {
    Setup s = make_pair();
    // Balls 0.885 m behind the axle, load 0.5 m farther: 300 kg x 1.385 m / 2 m = 207.75 kg off the front's 800 kg.
    REQUIRE(find_front_axle_share(s.tractor, s.implement));
    CHECK(*find_front_axle_share(s.tractor, s.implement) == Approx((800.0 - 207.75) / 2000.0).margin(1e-12).epsilon(0));
    // A tenth is left at 600 kg / 1.385 m x 2 m = 866.4 kg.
    s.implement.mass.mass = known(866.0);
    CHECK(obstacle_of(s) == PairingObstacle::none);
    s.implement.mass.mass = known(867.0);
    CHECK(obstacle_of(s) == PairingObstacle::front_axle);
    s.implement.mass.cg_x = {};
    CHECK_FALSE(find_front_axle_share(s.tractor, s.implement));
    CHECK(obstacle_of(s) == PairingObstacle::none);
}

TEST_CASE("pairing: holes of a pair that is not sensible are not tried", "[analytic]") {
    Setup s = make_pair();
    s.implement.attachment = Attachment::drawn;
    CHECK(verify_pairing(s.tractor, s.implement).holes.empty());
}

TEST_CASE("pairing: what does not close, is out of reach or missing is told apart", "[analytic]") {
    Setup s = make_pair();
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(1.060)});
    s.implement.mast_pins.push_back({"2", known(0.560), known(0.0)});
    const std::vector<HoleCheck> good = verify_pairing(s.tractor, s.implement).holes;
    REQUIRE(good.size() == 4);
    for (const HoleCheck& h : good) CHECK(h.outcome == HoleOutcome::closes);
    s.tractor.upper_link.length_least = known(good[0].upper_length);
    s.tractor.upper_link.length_most = known(good[0].upper_length + 0.001);
    const std::vector<HoleCheck> tight = check_holes(s.tractor, s.implement);
    CHECK(tight[0].outcome == HoleOutcome::closes);
    for (std::size_t k = 1; k < 4; ++k) {
        const double e = good[k].upper_length;
        const bool within = e >= good[0].upper_length && e <= good[0].upper_length + 0.001;
        CHECK((tight[k].outcome == HoleOutcome::closes) == within);
        if (!within) CHECK(tight[k].outcome == HoleOutcome::link_out_of_reach);
    }
    s.tractor.travel = {known(0.200), known(1.600)};  // the lower links are 0.885 m long, pivoted at 0.5 m
    for (const HoleCheck& h : check_holes(s.tractor, s.implement)) {
        CHECK(h.outcome == HoleOutcome::does_not_close);
        REQUIRE(h.obstacle);
        CHECK(h.obstacle->closure.part == LinkagePart::lower_link);
    }
    s.tractor.travel = {};
    for (const HoleCheck& h : check_holes(s.tractor, s.implement)) {
        CHECK(h.outcome == HoleOutcome::not_known);
        REQUIRE(h.obstacle);
        CHECK(h.obstacle->key.starts_with("tractor.travel"));
    }
    s.tractor.upper_link_pins.clear();
    REQUIRE(check_holes(s.tractor, s.implement).size() == 2);
    CHECK(check_holes(s.tractor, s.implement)[0].outcome == HoleOutcome::not_known);
}

TEST_CASE("pairing: random holes close exactly where every height of a scan does", "[random][oracle]") {
    const unsigned seed = 20260911;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto pick = [&](double from, double to) { return std::uniform_real_distribution<double>(from, to)(random); };
    int closing = 0, failing = 0;
    for (int round = 0; round < 400; ++round) {
        Setup s = make_pair();
        s.implement.work = {known(pick(0.2, 0.6)), known(pick(-0.1, 0.1))};
        s.tractor.upper_link_pins = {{"1", known(pick(0.0, 0.7)), known(pick(0.6, 1.4))}};
        s.implement.mast_pins = {{"1", known(pick(0.15, 0.8)), known(pick(-0.2, 0.2))}};
        s.tractor.travel = {known(pick(-0.2, 0.2)), known(pick(0.7, 1.38))};
        const HoleCheck hole = check_holes(s.tractor, s.implement).front();
        if (hole.obstacle && hole.obstacle->kind == ModelObstacle::Kind::past_dead_centre && hole.travel.low == 0.0) continue;
        const double reserve = scan_reserve(s, s.tractor.upper_link_pins[0], s.implement.mast_pins[0]);
        if (std::fabs(reserve) < 1e-4) continue;  // the scan is not that fine
        CAPTURE(round, reserve);
        if (hole.outcome == HoleOutcome::closes) CHECK(reserve > 0.0);
        // A working pose on the other branch is refused though the circles meet: that is no matter of the scan.
        const bool other_branch = hole.obstacle && hole.obstacle->kind == ModelObstacle::Kind::past_dead_centre;
        if (hole.outcome == HoleOutcome::does_not_close && !other_branch) CHECK(reserve < 0.0);
        (hole.outcome == HoleOutcome::closes ? closing : failing) += 1;
    }
    CHECK(closing > 50);
    CHECK(failing > 50);
}
