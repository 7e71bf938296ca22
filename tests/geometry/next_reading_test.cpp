// Which readings to take again, and which one next.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/analysis.h"
#include "geometry/candidate_readings.h"
#include "geometry/direct_place.h"
#include "geometry/next_reading.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup with_usual_errors(Setup s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    return s;
}

const Finding& find_gap(const Analysis& a) {
    const auto at = std::find_if(a.findings.begin(), a.findings.end(), [](const Finding& f) { return f.kind == FindingKind::gap_at_shortest; });
    REQUIRE(at != a.findings.end());
    return *at;
}

/// A band of three independent readings.
struct ThreeReadings {
    Setup setup = make_setup_a();
    std::optional<ErrorModel> errors;
    ErrorBand band;

    ThreeReadings(double a, double b, double c) {
        setup.tractor.pto.stub_x.tolerance = setup.tractor.pto.stub_z.tolerance = setup.implement.pic.x.tolerance = 0.004;
        errors.emplace(setup);
        REQUIRE(errors->readings().size() == 3);
        band.slopes = {a, b, c};
        band.width = band.below = band.above = std::sqrt(a * a + b * b + c * c);
    }
};

}  // namespace

TEST_CASE("retakes: one reading that has nearly all of the band is asked for alone, as well as needed", "[analytic]") {
    const ThreeReadings t(0.010, 0.001, 0.001);
    const std::vector<Retake> plan = plan_retakes(*t.errors, t.band, 0.006);
    REQUIRE(plan.size() == 1);
    CHECK(plan[0].key == t.errors->readings()[0].key);
    // 0.010^2 c^2 + 2e-6 = (0.97 * 0.006)^2, three hundredths in hand.
    CHECK(plan[0].error == Approx(0.004 * std::sqrt((0.00582 * 0.00582 - 2e-6) / 1e-4)).epsilon(0.01));
}

TEST_CASE("retakes: two readings that share the band are asked for together", "[analytic]") {
    const ThreeReadings t(0.008, 0.008, 0.001);
    const std::vector<Retake> plan = plan_retakes(*t.errors, t.band, 0.006);
    REQUIRE(plan.size() == 2);
    const double care = plan[0].error / 0.004;
    CHECK(std::sqrt(2 * 64e-6 * care * care + 1e-6) == Approx(0.00582).epsilon(0.01));
}

TEST_CASE("retakes: what no care settles has no plan", "[analytic]") {
    const ThreeReadings t(0.008, 0.008, 0.008);
    CHECK(plan_retakes(*t.errors, t.band, 0.001).empty());
}

TEST_CASE("retakes: readings taken again as well as asked settle a gap that was too close to call", "[oracle]") {
    Setup s = with_usual_errors(make_setup_a());
    // The shaft as long as leaves the gap within the errors.
    const Analysis first = analyze(s, millimetre_mark);
    s.driveline.closed_length.value += find_gap(first).margin - 0.8 * find_gap(first).band;
    const Analysis open = analyze(s, millimetre_mark);
    const Finding& gap = find_gap(open);
    REQUIRE(gap.severity == Severity::unknown);
    REQUIRE(gap.remedies.size() >= 1);
    for (const Remedy& r : gap.remedies) {
        if (r.kind != RemedyKind::measure) continue;
        REQUIRE(r.second > 0.0);
        visit_readings(s, [&](const std::string& key, Reading& reading, const FieldSpec&) {
            if (key == r.subject) reading.tolerance = r.second;
        });
    }
    const Analysis settled = analyze(s, millimetre_mark);
    CHECK(find_gap(settled).severity != Severity::unknown);
    CHECK(find_gap(settled).band < std::fabs(find_gap(settled).margin));
}

TEST_CASE("next reading: the promised band is the one after the reading is taken", "[oracle]") {
    Setup s = with_usual_errors(make_setup_a());
    const Analysis a = analyze(s, millimetre_mark);
    const std::vector<NextReading> next = list_next_readings(ErrorModel(s), list_candidates(ErrorModel(s)), find_gap(a).error.slopes, 20);
    REQUIRE(next.size() > 5);
    CHECK(std::is_sorted(next.begin(), next.end(), [](const NextReading& x, const NextReading& y) { return x.band_after < y.band_after; }));
    // A distance near the shortest length says most of it.
    CHECK(next.front().kind == DirectKind::shaft_length);
    CHECK_FALSE(next.front().again);
    int tried = 0;
    for (const NextReading& n : next) {
        Setup taken = s;
        const MountedModel m = make_mounted_model(s).model;
        if (n.again) {
            // Once more as well as before: the mean of both.
            visit_readings(taken, [&](const std::string& key, Reading& r, const FieldSpec&) {
                if (key == n.key) r.tolerance = 1.0 / std::hypot(1.0 / r.tolerance, 1.0 / n.error);
            });
        } else if (n.kind == DirectKind::shaft_length) {
            const double distance = *predict_at({n.kind, LengthReference::joint_centres, n.ball_height, 0.0, 0.0, {}}, {}, s, m);
            taken.direct_readings.push_back({"new", known(n.ball_height, field::floor_error), known(distance, n.error), LengthReference::joint_centres});
        } else {
            continue;
        }
        ++tried;
        CAPTURE(n.key, n.ball_height);
        CHECK(find_gap(analyze(taken, millimetre_mark)).band == Approx(n.band_after).epsilon(0.03));
    }
    CHECK(tried >= 4);
}

TEST_CASE("next reading: the deciding finding is the one too close to call, else the one with least room for its band", "[analytic]") {
    Finding good, near, close;
    for (Finding* f : {&good, &near, &close}) f->has_limit = true, f->error.slopes = {1.0};
    good.margin = 0.1, good.band = 0.01;
    near.margin = -0.02, near.band = 0.01;
    close.margin = 0.015, close.band = 0.01, close.severity = Severity::unknown;
    close.margin = 0.005;
    std::vector<Finding> all{good, near};
    CHECK(find_decisive(all) == &all[1]);
    all.push_back(close);
    CHECK(find_decisive(all) == &all[2]);
    all = {Finding{}};
    CHECK(find_decisive(all) == nullptr);
    // What is only watched decides nothing, be it so found or of a kind that is.
    near.severity = Severity::watch;
    all = {near, good};
    CHECK(find_decisive(all) == &all[1]);
    near.severity = good.severity, near.kind = FindingKind::drawbar_length;
    all = {near, good};
    CHECK(find_decisive(all) == &all[1]);
}

TEST_CASE("next reading: the error of a pitch has in it what the height it is taken at may be off", "[oracle]") {
    const Setup s = with_usual_errors(make_setup_a());
    const MountedModel m = make_mounted_model(s).model;
    int pitches = 0;
    for (const CandidateReading& c : list_candidates(ErrorModel(s))) {
        if (c.reading.again || c.reading.kind != DirectKind::pitch) continue;
        const auto pitch = [&](double height) {
            return predict_at({DirectKind::pitch, LengthReference::joint_centres, height, 0.0, 0.0, {}}, {}, s, m).value();
        };
        const double h = c.reading.ball_height, inside = std::clamp(h, m.travel.low + 1e-3, m.travel.high - 1e-3);
        if (inside != h) continue;
        const double slope = (pitch(h + 1e-4) - pitch(h - 1e-4)) / 2e-4;
        CHECK(c.error == Approx(std::hypot(find_usual_error(DirectKind::pitch), slope * field::floor_error)).epsilon(1e-3));
        ++pitches;
    }
    CHECK(pitches > 0);
}
