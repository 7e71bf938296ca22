// The model of the readings' errors: as many draws as were asked for, and readings that stand at the end of what is possible.
#include "geometry/error_model.h"

#include <catch2/catch.hpp>

#include <cmath>

#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_uncertain_setup() {
    Setup s = make_setup_a();
    s.tractor.pto.stub_x.tolerance = 0.004;
    s.implement.pic.z.tolerance = 0.002;
    return s;
}

}  // namespace

TEST_CASE("error model: a row for each draw, the same ones when asked again, more when more are asked for", "[analytic]") {
    const ErrorModel errors(make_uncertain_setup());
    REQUIRE(errors.readings().size() == 2);
    const std::vector<double> first(errors.draws(7).begin(), errors.draws(7).end());
    CHECK(first.size() == 14);
    const double* kept = errors.draws(7).data();
    CHECK(errors.draws(7).data() == kept);  // found once
    CHECK(errors.draws(9).size() == 18);
    CHECK(std::vector<double>(errors.draws(9).begin(), errors.draws(9).begin() + 14) == first);
}

TEST_CASE("propagation: a number lost on one side of a reading at the end of the possible has no slope, not none that is a number",
          "[analytic]") {
    Setup s = make_setup_a();
    s.implement.pic.z = known(-1.0, 0.002);  // the least there may be: it can be moved up alone
    const ErrorModel errors(s);
    REQUIRE(errors.readings().size() == 1);
    REQUIRE(errors.readings()[0].low == errors.readings()[0].value);
    const Propagation p = propagate(errors, 1, [](const MovedSetup& moved, std::span<std::optional<double>> out) {
        out[0] = moved.setup.implement.pic.z.value > -1.0 ? std::nullopt : std::optional<double>(moved.setup.implement.pic.z.value);
    });
    CHECK(p.lost_by[0] == 0u);
    CHECK(p.bands[0].width == 0.0);
    for (const double slope : p.bands[0].slopes) CHECK(slope == 0.0);
}

TEST_CASE("propagation: a number lost on one side of a reading has the slope of the other side", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.pic.z = known(0.250, 0.002);
    const ErrorModel errors(s);
    REQUIRE(errors.readings().size() == 1);
    for (const bool up : {true, false}) {
        const Propagation p = propagate(errors, 1, [&](const MovedSetup& moved, std::span<std::optional<double>> out) {
            const double z = moved.setup.implement.pic.z.value;
            out[0] = (up ? z < 0.2499 : z > 0.2501) ? std::nullopt : std::optional<double>(3.0 * z);
        });
        CAPTURE(up);
        CHECK(p.lost_by[0] == 0u);
        CHECK(p.bands[0].slopes[0] == Approx(3.0 * 0.002));
    }
}

TEST_CASE("error model: a reading beyond what files may hold, handed over by a program, can be off as any other", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.pic.z = known(-1.5, 0.002);  // -1 is the least of a file
    const ErrorModel errors(s);
    REQUIRE(errors.readings().size() == 1);
    CHECK(errors.readings()[0].low == -1.502);
    CHECK(errors.readings()[0].high == -1.498);
    const std::vector<double> by{-1.2};
    CHECK(errors.shift_all(by).implement.pic.z.value == -1.5 - 1.2 * 0.002);
    s.implement.pic.z = known(-0.9995, 0.002);  // one within what files may hold stays there
    const ErrorModel inside(s);
    CHECK(inside.readings()[0].low == -1.0);
    CHECK(inside.shift_all(by).implement.pic.z.value == -1.0);
    CHECK(inside.readings()[0].moved(0.5) == -0.9995 + 0.5 * 0.002);
}

TEST_CASE("error model: what has no sign gets none by its error, be it less than files may hold", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.lift_rod.advance_per_turn = known(0.0, 0.0002);
    const ErrorModel errors(s);
    REQUIRE(errors.readings().size() == 1);
    CHECK(errors.readings()[0].low == 0.0);
    CHECK(errors.readings()[0].high == 0.0002);
}
