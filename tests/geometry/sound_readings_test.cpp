// Readings that cannot be, handed to the analysis by a program: named, taken as not given, and nothing computed from them.
#include "geometry/sound_readings.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/analysis.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

std::vector<std::string> list_dropped(const Setup& s) {
    const std::optional<SoundReadings> sound = drop_impossible_readings(s);
    return sound ? sound->dropped : std::vector<std::string>{};
}

}  // namespace

TEST_CASE("sound readings: a set-up as files may hold it is left alone", "[analytic]") {
    CHECK_FALSE(drop_impossible_readings(make_setup_a()));
    CHECK_FALSE(drop_impossible_readings(make_drawn_setup()));
    Setup s = make_setup_a();
    s.tractor.pto.stub_x = known(0.0, 5e-324);
    s.implement.pic.z = known(-0.9);
    CHECK_FALSE(drop_impossible_readings(s));
    s.tractor.lower_link.length = known(0.0);  // a length of nothing is found by whoever closes the linkage
    CHECK_FALSE(drop_impossible_readings(s));
    s.tractor.pto.stub_y = Reading{std::nan(""), std::nan(""), Origin::measured, false};  // nobody gave it
    CHECK_FALSE(drop_impossible_readings(s));
}

TEST_CASE("sound readings: no number, infinite, far too great or small, or with an impossible tolerance", "[analytic]") {
    for (const double value : {std::nan(""), infinity, -infinity, 1e308, -1e160, 4e3, 1e-9, -5e-324}) {
        CAPTURE(value);
        Setup s = make_setup_a();
        s.tractor.lower_link.length = known(value);  // 0.2 to 2.5 m
        CHECK(list_dropped(s) == std::vector<std::string>{"tractor.lower_link.length"});
        CHECK_FALSE(drop_impossible_readings(s)->setup.tractor.lower_link.length.known);
        CHECK(drop_impossible_readings(s)->setup.implement == s.implement);
    }
    for (const double tolerance : {std::nan(""), infinity, -1e-3, 1e9}) {
        CAPTURE(tolerance);
        Setup s = make_setup_a();
        s.implement.pic.x = known(0.5, tolerance);
        CHECK(list_dropped(s) == std::vector<std::string>{"implement.pic.x"});
    }
}

TEST_CASE("sound readings: the analysis names each once, and is not certain of anything", "[analytic]") {
    Setup s = make_drawn_setup();
    s.choices.drawn.ditch.depth = known(0.4);
    s.choices.drawn.ditch.bottom_width = known(0.5);
    s.choices.drawn.ditch.side_slope = known(0.5);
    s.implement.pic.x = known(std::nan(""));
    s.tractor.mass.mass = known(-5e-324);
    for (const Analysis& a : {analyze(s, millimetre_mark), analyze_alone(s, millimetre_mark)}) {
        for (const char* key : {"implement.pic.x", "tractor.mass.mass"}) {
            CAPTURE(key);
            const Finding* f = find_finding(a, FindingKind::missing_reading, key, "impossible");
            REQUIRE(f != nullptr);
            CHECK(f->severity == Severity::unknown);
            CHECK(f->remedies == std::vector<Remedy>{{RemedyKind::measure, 0.0, 0.0, key}});
            CHECK(std::count_if(a.findings.begin(), a.findings.end(), [&](const Finding& x) { return x.subject == key; }) == 1);
        }
        CHECK(a.verdict != Verdict::fits);
        CHECK(a.verdict != Verdict::fits_after_change);
        for (const Finding& f : a.findings) CHECK(std::isfinite(f.value + f.limit + f.margin));
    }
}

TEST_CASE("analysis: where the other joint comes into a wide-angle joint the shaft has no length, and that is said", "[analytic]") {
    // The stub stands 1.31 m behind the axle: the implement's joint passes it closer than the two crosses are apart.
    Setup s = make_setup_a();
    s.driveline.closed_length = known(0.6);
    make_tractor_joint_wide(s, 0.09);
    s.tractor.pto.stub_x = known(1.31);
    const Analysis a = analyze(s, millimetre_mark);
    CHECK(a.verdict == Verdict::must_not_run);
    REQUIRE(a.shaft);
    CHECK_FALSE(a.shaft->has_plan);
    CHECK(find_finding(a, FindingKind::missing_reading, "driveline.shaft", "no_length") != nullptr);
    CHECK(find_finding(a, FindingKind::missing_reading, "driveline.shaft", "contradiction") == nullptr);
    // It is said as well where the tubes contradict each other, and where nobody knows them.
    s.driveline.overlap_closed = known(0.7);
    const Analysis torn = analyze(s, millimetre_mark);
    CHECK(find_finding(torn, FindingKind::missing_reading, "driveline.shaft", "no_length") != nullptr);
    CHECK(find_finding(torn, FindingKind::missing_reading, "driveline.shaft", "contradiction") != nullptr);
    for (Reading* r : {&s.driveline.overlap_closed, &s.driveline.tractor_tube, &s.driveline.implement_tube, &s.driveline.longest_usable}) *r = {};
    const Analysis bare = analyze(s, millimetre_mark);
    REQUIRE(bare.linkage);
    CHECK_FALSE(bare.linkage->model.has_halves);
    CHECK(find_finding(bare, FindingKind::missing_reading, "driveline.shaft", "no_length") != nullptr);
}
