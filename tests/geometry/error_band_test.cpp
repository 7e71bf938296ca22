// Slopes of the bands of a shaft's lengths and angles, against whole analyses of the set-up with one reading moved.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/error_band.h"
#include "tests/geometry/sample_setup.h"
#include "tests/geometry/space_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

using ReadingOf = std::function<Reading&(Setup&)>;
using NumberOf = std::function<double(const ShaftAnalysis&)>;

/// How far a number goes when the reading alone moves from its low end to its high one, by whole analyses.
double find_half_change(const Setup& s, const ReadingOf& reading, const NumberOf& number) {
    const auto at = [&](double sign) {
        Setup moved = s;
        Reading& r = reading(moved);
        r.value += sign * r.tolerance;
        r.tolerance = 0.0;
        return number(*analyze(moved, millimetre_mark).shaft);
    };
    return 0.5 * (at(1.0) - at(-1.0));
}

}  // namespace

TEST_CASE("error bands: a reading's slope is what whole analyses find with it moved, wherever the extreme goes", "[oracle]") {
    const ReadingOf readings[] = {[](Setup& s) -> Reading& { return s.choices.upper_link_length; },
                                  [](Setup& s) -> Reading& { return s.implement.pic.z; },
                                  [](Setup& s) -> Reading& { return s.tractor.pto.stub_z; },
                                  [](Setup& s) -> Reading& { return s.tractor.upper_link_pins[0].z; }};
    for (const double stub_z : {0.600, 0.700}) {
        for (const auto& reading : readings) {
            Setup s = make_setup_a();
            s.tractor.pto.stub_z = known(stub_z);
            reading(s).tolerance = 0.030;
            const Analysis a = analyze(s, millimetre_mark);
            const ErrorModel errors(s);
            REQUIRE(errors.readings().size() == 1);
            const ErrorBands bands = find_error_bands(errors, *a.linkage, *a.shaft);
            REQUIRE(bands.known);
            const auto check = [&](const char* what, const ErrorBand& band, const NumberOf& number) {
                const double expected = find_half_change(s, reading, number), found = band.slopes[0];
                CAPTURE(stub_z, errors.readings()[0].key, what);
                CHECK(std::fabs(found - expected) < 1e-5);
            };
            check("shortest", bands.shortest, [](const ShaftAnalysis& x) { return x.travel.shortest.bound; });
            check("longest", bands.longest, [](const ShaftAnalysis& x) { return x.travel.longest.bound; });
            check("tractor", bands.tractor_angle, [](const ShaftAnalysis& x) { return x.travel.tractor_angle.bound; });
            check("implement", bands.implement_angle, [](const ShaftAnalysis& x) { return x.travel.implement_angle.bound; });
        }
    }
}

TEST_CASE("error bands: what a clearance owes to the hooks of a coupler is what whole analyses find with them moved", "[oracle]") {
    Setup s = make_setup_a();
    s.parts.coupler.fitted = true;
    s.parts.coupler.name = "coupler";
    s.parts.coupler.set_back = known(0.120);
    s.parts.coupler.hook_rise = known(0.020, 0.010);
    s.parts.coupler.hook_height = known(0.610);
    s.parts.coupler.hook_offset = known(0.0);
    s.parts.coupler.pin_height = known(0.650);
    s.parts.coupler.pin_offset = known(-0.060);
    s.choices.upper_link_length = Reading{};
    s.implement.points = {{"lip", known(0.30), known(0.35), known(0.5), true}, {"tail", known(1.6), known(0.1), known(0.5), false}};
    s.tractor.tyre.rear_radius = known(0.6);
    s.driveline.guard_radius = known(0.05);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.clearances.size() > 2);
    const ErrorModel errors(s);
    REQUIRE(errors.readings().size() == 1);
    const std::vector<ErrorBand> bands = find_clearance_bands(errors, a.linkage->model, a.clearances);
    const auto rooms_at = [&](double rise) {
        Setup moved = s;
        moved.parts.coupler.hook_rise = known(rise);
        return analyze(moved, millimetre_mark).clearances;
    };
    const std::vector<Clearance> low = rooms_at(0.010), high = rooms_at(0.030);
    REQUIRE((low.size() == bands.size() && high.size() == bands.size()));
    double most = 0.0;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        const double expected = 0.5 * (high[i].least.bound - low[i].least.bound);
        CAPTURE(a.clearances[i].part, expected);
        CHECK(std::fabs(bands[i].slopes[0] - expected) < 1e-5);
        most = std::max(most, std::fabs(expected));
    }
    CHECK(most > 0.001);
}

TEST_CASE("error bands: out of the side plane, too, a slope is what whole analyses find", "[oracle]") {
    const ReadingOf stub_z = [](Setup& s) -> Reading& { return s.tractor.pto.stub_z; };
    Setup s = make_rod_setup();
    set_rods(s, 0.004, -0.009);
    set_beside(s);
    stub_z(s).tolerance = 0.010;
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.linkage->model.space.rods_set);
    const ErrorBands bands = find_error_bands(ErrorModel(s), *a.linkage, *a.shaft);
    REQUIRE(bands.known);
    CHECK(std::fabs(bands.longest.slopes[0] - find_half_change(s, stub_z, [](const ShaftAnalysis& x) { return x.travel.longest.bound; })) < 1e-5);
    CHECK(std::fabs(bands.tractor_angle.slopes[0] - find_half_change(s, stub_z, [](const ShaftAnalysis& x) { return x.travel.tractor_angle.bound; })) < 1e-5);
}

TEST_CASE("error bands: where a side motion does not close somewhere the slopes are those of the side plane, and there", "[oracle]") {
    const ReadingOf upper_z = [](Setup& s) -> Reading& { return s.tractor.upper_link_pins[0].z; };
    Setup s = make_setup_a();
    add_lift_a(s.tractor, -40.0, 40.0);
    s.choices.left_lift_rod_length = s.choices.right_lift_rod_length = s.tractor.lift_rod.length;
    s.choices.left_lift_rod_length.value += 0.015;
    s.tractor.sway.total_at_ball = known(0.03);
    s.tractor.upper_link_pins[0].z = known(-0.93, 0.003);  // a dead centre in the travel: the tilted hitch passes it
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(!a.linkage->model.space.side_closes);
    const ErrorBands bands = find_error_bands(ErrorModel(s), *a.linkage, *a.shaft);
    REQUIRE(bands.known);
    const double shortest = find_half_change(s, upper_z, [](const ShaftAnalysis& x) { return x.travel.shortest.bound; });
    CHECK(std::fabs(shortest) > 0.005);
    CHECK(std::fabs(bands.shortest.slopes[0] - shortest) < 1e-5);
    const double longest = find_half_change(s, upper_z, [](const ShaftAnalysis& x) { return x.travel.longest.bound; });
    CHECK(std::fabs(longest) > 1e-4);
    CHECK(std::fabs(bands.longest.slopes[0] - longest) < 1e-5);
}

TEST_CASE("error bands: of a shaft that has no length as read nothing is known", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.pto.stub_z.tolerance = 0.003;
    const Analysis a = analyze(s, millimetre_mark);
    CHECK(find_error_bands(ErrorModel(s), *a.linkage, *a.shaft).known);
    s.choices.upper_link_length = known(2.0);  // closes nowhere
    const ErrorBands none = find_error_bands(ErrorModel(s), *a.linkage, *a.shaft);
    CHECK_FALSE(none.known);
    CHECK(none.broken_by.reading.empty());
}
