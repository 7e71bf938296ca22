// Slopes of the bands of a shaft's lengths and angles, against whole analyses of the set-up with one reading moved.
#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <string>

#include "geometry/analysis.h"
#include "geometry/error_band.h"
#include "tests/geometry/sample_setup.h"

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
