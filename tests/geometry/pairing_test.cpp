// Which machines belong together: each condition on both sides, and closure named where it fails.
#include <catch2/catch.hpp>

#include "geometry/pairing.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

TEST_CASE("pairing: category, weight and speed decide, what is not known speaks for it", "[analytic]") {
    Setup s = make_setup_a();
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::none);
    s.tractor.hitch.category = Category::cat1;
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::none);
    s.implement.hitch.category = Category::cat2;
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::category);
    s.implement.hitch.category = Category::cat1;
    s.tractor.mass.mass = known(1000.0);
    s.implement.mass.mass = known(299.0);
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::none);
    s.implement.mass.mass = known(301.0);
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::too_heavy);
    s.implement.mass.mass = known(299.0);
    s.tractor.pto.speeds_rpm = {540};
    s.implement.pic.speed_rpm = 1000;
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::speed);
    s.implement.pic.fitted = false;
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::none);
    s.implement.attachment = Attachment::drawn;
    CHECK(find_pairing_obstacle(s.tractor, s.implement) == PairingObstacle::not_mounted);
}

TEST_CASE("pairing: every pair of holes is closed, and one that cannot is named with its part", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.work.pitch = known(0.0);
    s.tractor.upper_link_pins.push_back({"2", known(0.240), known(1.060)});
    const std::vector<PairingCheck> good = check_pairing(s.tractor, s.implement);
    REQUIRE(good.size() == 2 * s.implement.mast_pins.size());
    for (const PairingCheck& c : good) CHECK(c.closes);
    s.tractor.travel = {known(0.200), known(1.600)};  // the lower links are 0.885 m long, pivoted at 0.5 m
    for (const PairingCheck& c : check_pairing(s.tractor, s.implement)) {
        CHECK_FALSE(c.closes);
        CHECK_FALSE(c.part.empty());
    }
    s.tractor.travel = {};
    for (const PairingCheck& c : check_pairing(s.tractor, s.implement)) {
        CHECK_FALSE(c.closes);
        CHECK(c.part.starts_with("tractor.travel"));
    }
}
