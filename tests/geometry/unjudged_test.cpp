// Questions left open for want of readings: named when a reading is missing, gone when all are there.
#include <catch2/catch.hpp>

#include <algorithm>

#include "geometry/unjudged.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const Unjudged* find_question(const std::vector<Unjudged>& all, const std::string& question) {
    const auto it = std::find_if(all.begin(), all.end(), [&](const Unjudged& u) { return u.question == question; });
    return it == all.end() ? nullptr : &*it;
}

}  // namespace

TEST_CASE("open questions: the guard is asked for until both its readings are there", "[analytic]") {
    Setup s = make_setup_a();
    const std::vector<Unjudged> before = list_unjudged(s);
    const Unjudged* guard = find_question(before, "guard tubes");
    REQUIRE(guard);
    CHECK(guard->readings == std::vector<std::string>{"driveline.guard.closed_length", "driveline.guard.overlap_closed"});
    s.driveline.guard_closed_length = known(0.9);
    CHECK(find_question(list_unjudged(s), "guard tubes")->readings == std::vector<std::string>{"driveline.guard.overlap_closed"});
    s.driveline.guard_overlap_closed = known(0.5);
    CHECK_FALSE(find_question(list_unjudged(s), "guard tubes"));
    CHECK(analyze(s, millimetre_mark).unjudged == list_unjudged(s));
}

TEST_CASE("open questions: splines that were read are not asked for", "[analytic]") {
    Setup s = make_setup_a();
    const auto asked = [&] { return find_question(list_unjudged(s), "splines")->readings; };
    REQUIRE(find_question(list_unjudged(s), "splines"));
    CHECK(asked().front() == "tractor.pto.splines");
    CHECK(asked().size() == 4);
    s.tractor.pto.splines = 6;
    CHECK(asked() == std::vector<std::string>{"driveline.tractor_joint.splines", "driveline.implement_joint.splines", "implement.pic.splines"});
}

TEST_CASE("open questions: a blade is asked nothing about the shaft", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.pic.fitted = false;
    for (const Unjudged& u : list_unjudged(s)) {
        CAPTURE(u.question);
        for (const std::string& key : u.readings) {
            CHECK(key.find("pto") == std::string::npos);
            CHECK(key.find("driveline") == std::string::npos);
        }
    }
    CHECK(find_question(list_unjudged(s), "category"));
}

TEST_CASE("open questions: with a coupler its hook is asked for, not the pins in the tractor's balls", "[analytic]") {
    Setup s = make_setup_a();
    REQUIRE(find_question(list_unjudged(s), "lower pins in their balls"));
    s.parts.coupler.fitted = true;
    CHECK_FALSE(find_question(list_unjudged(s), "lower pins in their balls"));
    const char* const hook = "how high the coupler's top hook still holds a pin";
    REQUIRE(find_question(list_unjudged(s), hook));
    s.parts.coupler.hook_depth = known(0.03);
    CHECK_FALSE(find_question(list_unjudged(s), hook));
}

TEST_CASE("open questions: a drawbar out of the way needs no readings", "[analytic]") {
    Setup s = make_setup_a();
    REQUIRE(find_question(list_unjudged(s), "room between shaft and drawbar"));
    s.tractor.drawbar.out_of_the_way = YesNo::yes;
    CHECK_FALSE(find_question(list_unjudged(s), "room between shaft and drawbar"));
}
