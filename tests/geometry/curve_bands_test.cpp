// Bands of the numbers over the travel: against moving one reading by hand, and against what the analysis says at an end.
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/curve_bands.h"
#include "geometry/pose_report.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double inch = 0.0254;
const Mark mark = millimetre_mark;

void drop_tolerances(Setup& s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec&) { r.tolerance = 0.0; });
}

ErrorBand make_band(double below, double above, BandMethod method) {
    ErrorBand b;
    b.width = 0.5 * (below + above);
    b.below = below;
    b.above = above;
    b.method = method;
    return b;
}

PoseReport pose_of(const Setup& s, double height) { return make_pose_report(s, make_mounted_model(s).model, height); }

}  // namespace

TEST_CASE("curve bands: of one reading alone it is what moving that reading by hand gives, at every height", "[oracle]") {
    Setup s = make_setup_a();
    drop_tolerances(s);
    s.implement.pic.z.tolerance = 0.25 * inch;
    const CurveBands bands = find_curve_bands(s, analyze_alone(s, mark, BandEffort::second_order));
    REQUIRE(bands.heights.size() == 17);
    Setup low = s, high = s;
    low.implement.pic.z.value -= 0.25 * inch;
    high.implement.pic.z.value += 0.25 * inch;
    for (std::size_t i = 0; i < bands.heights.size(); ++i) {
        const double h = bands.heights[i];
        CAPTURE(h);
        const PoseReport a = pose_of(low, h), b = pose_of(high, h);
        const auto half = [](double x, double y) { return 0.5 * std::fabs(x - y); };
        // The band's two sides against half the difference: they differ where the number bends, by less than a tenth here.
        const auto check = [&](CurveNumber n, double expected) {
            const ErrorBand& band = bands.of(i, n);
            CHECK(0.5 * (band.below + band.above) == Approx(expected).epsilon(0.1).margin(2e-5));
        };
        check(CurveNumber::shaft_length, half(a.shaft_length, b.shaft_length));
        check(CurveNumber::gap, half(a.gap, b.gap));
        check(CurveNumber::overlap, half(a.overlap, b.overlap));
        CHECK(bands.of(i, CurveNumber::pitch).width == 0.0);  // the input shaft's height has no part in it
    }
}

TEST_CASE("curve bands: errors of independent readings add as squares, and the closed length has no part in the length", "[analytic]") {
    Setup s = make_setup_a();
    drop_tolerances(s);
    s.driveline.closed_length.tolerance = 0.003;
    s.tractor.pto.stub_x.tolerance = 0.004;
    const Analysis a = analyze_alone(s, mark, BandEffort::second_order);
    const CurveBands both = find_curve_bands(s, a, {a.linkage->low.pose.ball_height});
    const double length = both.of(0, CurveNumber::shaft_length).width;
    Setup near = s, far = s;
    near.tractor.pto.stub_x.value -= 0.004;
    far.tractor.pto.stub_x.value += 0.004;
    const double h = both.heights[0];
    CHECK(length == Approx(0.5 * std::fabs(pose_of(far, h).shaft_length - pose_of(near, h).shaft_length)).epsilon(0.01));
    CHECK(length > 0.003);
    CHECK(both.of(0, CurveNumber::gap).width == Approx(std::hypot(length, 0.003)).epsilon(1e-6));
}

TEST_CASE("curve bands: between two heights in a straight line, nothing outside", "[analytic]") {
    const Setup s = make_setup_a();
    CurveBands bands;
    bands.heights = {0.2, 0.4};
    bands.at.resize(2);
    bands.at[0].fill(make_band(0.01, 0.01, BandMethod::first_order));
    bands.at[1].fill(make_band(0.02, 0.04, BandMethod::second_order));
    const std::optional<ErrorBand> middle = bands.find(0.3, CurveNumber::pitch);
    REQUIRE(middle);
    CHECK(middle->below == Approx(0.015).epsilon(1e-12));
    CHECK(middle->above == Approx(0.025).epsilon(1e-12));
    CHECK(middle->method == BandMethod::second_order);
    CHECK(bands.find(0.2, CurveNumber::pitch)->above == 0.01);
    CHECK(bands.find(0.4, CurveNumber::pitch)->above == 0.04);
    CHECK_FALSE(bands.find(0.19, CurveNumber::pitch));
    CHECK_FALSE(bands.find(0.41, CurveNumber::pitch));
    bands.at[1][0].width = 0.0;
    CHECK_FALSE(bands.find(0.3, CurveNumber::pitch));
}

TEST_CASE("curve bands: without a linkage there are none", "[analytic]") {
    CHECK(find_curve_bands(make_setup_a(), Analysis{}).heights.empty());
}
