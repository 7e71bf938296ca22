// The brief hole list: each row against a whole analysis of the same set-up with those holes typed.
#include <catch2/catch.hpp>

#include "geometry/hole_choices.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_setup_with_holes() {
    Setup s = make_setup_a();
    s.tractor.upper_link_pins = {{"1", known(0.240), known(0.960)}, {"2", known(0.240), known(0.900)}};
    s.implement.mast_pins = {{"low", known(0.560), known(0.0)}, {"high", known(0.610), known(0.0)}};
    s.choices.upper_link_pin = "1";
    s.choices.mast_pin = "high";
    return s;
}

}  // namespace

TEST_CASE("hole choices: every pair once, the one in use marked, each as its own set-up is judged", "[oracle]") {
    const Setup s = make_setup_with_holes();
    const std::vector<HoleChoice> holes = find_hole_choices(s, millimetre_mark);
    REQUIRE(holes.size() == 4);
    int chosen = 0;
    for (const HoleChoice& c : holes) {
        Setup typed = s;
        typed.choices.upper_link_pin = s.tractor.upper_link_pins[c.tractor_pin].name;
        typed.choices.mast_pin = s.implement.mast_pins[c.mast_pin].name;
        if (!c.chosen) typed.choices.upper_link_length = Reading{};
        const Analysis a = analyze(typed, millimetre_mark);
        CAPTURE(c.tractor_pin, c.mast_pin);
        CHECK(c.setup == typed);
        CHECK(c.verdict == a.verdict);
        REQUIRE(c.upper_link_length);
        CHECK(*c.upper_link_length == a.linkage->model.linkage.upper_length);
        CHECK(*c.pitch_at_top == a.linkage->high.pose.pitch);
        chosen += c.chosen ? 1 : 0;
    }
    CHECK(chosen == 1);
    CHECK(*holes[1].upper_link_length == Approx(0.660).margin(1e-12).epsilon(0));
}

TEST_CASE("hole choices: a typed link length belongs to its holes, unless nothing else could give one", "[practice]") {
    Setup s = make_setup_with_holes();
    CHECK(with_holes(s, 0, 1).choices.upper_link_length.known);
    CHECK_FALSE(with_holes(s, 1, 1).choices.upper_link_length.known);
    s.implement.work.ball_height = Reading{};
    CHECK(with_holes(s, 1, 1).choices.upper_link_length.known);
}

TEST_CASE("hole choices: no holes or a drawn implement give an empty list", "[practice]") {
    Setup s = make_setup_a();
    s.implement.mast_pins.clear();
    CHECK(find_hole_choices(s, millimetre_mark).empty());
    s = make_setup_a();
    s.implement.attachment = Attachment::drawn;
    CHECK(find_hole_choices(s, millimetre_mark).empty());
}
