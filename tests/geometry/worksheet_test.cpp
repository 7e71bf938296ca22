// Worksheets: the same number gives the same sheet, errors are as stated, the fault is in the machine and not on paper.
#include "geometry/worksheet.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

#include "geometry/angle.h"
#include "geometry/mounted_model.h"
#include "geometry/pose_report.h"
#include "sample_drawn.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double sixteenth = 0.0254 / 16.0;

Setup make_taught() {
    Setup s = make_setup_a();
    s.tractor.upper_link_pins = {{"low", known(0.240, 0.006), known(0.960, 0.003)},
                                 {"high", known(0.240, 0.006), known(1.000, 0.003)}};
    s.choices.upper_link_pin = "low";
    s.implement.mast_pins.push_back({"2", known(0.580), known(0.0)});
    s.choices.mast_pin = "1";
    s.tractor.pto.stub_x.tolerance = 0.006;
    s.implement.pic.x.tolerance = 0.003;
    s.driveline.closed_length.tolerance = 0.0016;
    return s;
}

}  // namespace

TEST_CASE("worksheet: the same number gives the same sheet, another one another", "[metamorphic]") {
    const Setup s = make_taught();
    const Worksheet a = draw_worksheet(s, 7), b = draw_worksheet(s, 7), c = draw_worksheet(s, 8);
    CHECK(a.paper == b.paper);
    CHECK(a.machine == b.machine);
    CHECK(a.seen == b.seen);
    CHECK_FALSE(a.taped == c.taped);
    // splitmix64 of 0 begins so (published test vector of the generator).
    CHECK(DrawnNumbers(0).next() == 0xE220A8397B1DCDAFU);
}

TEST_CASE("worksheet: errors are normal with half the tolerance, rounded to the tape", "[random]") {
    const Setup s = make_taught();
    double squares = 0.0;
    int count = 0;
    for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
        for (const TapedReading& t : draw_worksheet(s, seed).taped) {
            if (t.tolerance < 0.005) continue;  // finer ones are mostly rounding
            const double rounding = sixteenth * sixteenth / 12.0;
            squares += ((t.taped - t.machine) * (t.taped - t.machine) - rounding) / (0.25 * t.tolerance * t.tolerance);
            ++count;
            CHECK(std::fabs(t.taped / sixteenth - std::round(t.taped / sixteenth)) < 1e-6);
        }
    }
    REQUIRE(count >= 4000);
    CHECK(squares / count == Approx(1.0).margin(3.0 * std::sqrt(2.0 / count)));  // three standard errors
}

TEST_CASE("worksheet: every kind of fault comes up, is in the machine, and is seen there", "[random]") {
    const Setup s = make_taught();
    std::set<SetInFault> kinds;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        const Worksheet w = draw_worksheet(s, seed);
        kinds.insert(w.fault.kind);
        CHECK(w.paper.choices == s.choices);
        CHECK_FALSE(w.machine.choices == s.choices);
        const MountedModelResult machine = make_mounted_model(w.machine);
        REQUIRE(machine.linkage_ok);
        switch (w.fault.kind) {
            case SetInFault::upper_link_pin:
                CHECK(w.machine.choices.upper_link_pin == w.fault.machine);
                break;
            case SetInFault::mast_pin:
                CHECK(w.machine.choices.mast_pin == w.fault.machine);
                break;
            case SetInFault::upper_link_length:
                CHECK(std::fabs(w.fault.change) >= 8 * sixteenth - 1e-12);
                CHECK(machine.model.linkage.upper_length ==
                      Approx(make_mounted_model(w.paper).model.linkage.upper_length + w.fault.change));
                break;
            default:
                FAIL("no such fault on this machine");
        }
        // What is seen is the faulty machine's, to the last step of the tape.
        const PoseReport low = make_pose_report(w.machine, machine.model, machine.model.travel.low);
        REQUIRE_FALSE(w.seen.empty());
        CHECK(std::fabs(w.seen.front().value - low.pose.pitch) <= to_radians(0.05) + 1e-9);
    }
    CHECK(kinds ==
          std::set<SetInFault>{SetInFault::upper_link_pin, SetInFault::mast_pin, SetInFault::upper_link_length});
}

TEST_CASE("worksheet: a drawn machine has its pin in another position, an unknown one nothing", "[practice]") {
    const Worksheet drawn = draw_worksheet(make_drawn_setup(), 3);
    if (drawn.fault.kind != SetInFault::none) CHECK(drawn.machine.choices.drawn.drawbar_pin == drawn.fault.machine);
    const Worksheet nothing = draw_worksheet(Setup{}, 1);
    CHECK(nothing.fault.kind == SetInFault::none);
    CHECK(nothing.seen.empty());
    CHECK(nothing.taped.empty());
}
